package scene

import (
	"math"
	"strconv"
	"strings"
)

// dials are those of the boiler, in the order of the panel.
func (s *sheet) dials() []dial {
	b, ok := s.v.boilerNow()
	if !ok {
		return nil
	}
	out := append(make([]dial, 0, 8), s.drumDial(&b), s.waterDial(&b))
	if b.fire != nil {
		out = append(out, s.fireDial(&b))
	}
	if b.load != nil {
		out = append(out, s.loadDial(&b))
	}
	if b.works != nil {
		out = append(out, s.operatorsDial(&b))
	}
	if lamps := s.lampsNow(); len(lamps) > 0 {
		out = append(out, dial{name: "Lamps", lamps: lamps})
	}
	return out
}

// swing is the rate of a drum's pressure, Pa/s, that counts as rising.
const swing = 500.0

// drumDial is the drum's pressure between what is held and where the switch sets.
func (s *sheet) drumDial(b *boiler) dial {
	u, d := s.v.Units, b.drum
	c := dial{name: "Drum", values: []string{s.pressureUnit(u, d.Pressure), s.pressure(u, d.Pressure)}, share: -1, marks: [2]float64{noMark, noMark}, goes: steady}
	switch {
	case d.PressureRate > swing:
		c.goes = rising
	case d.PressureRate < -swing:
		c.goes = falling
	}
	hold, held := 0.0, b.fire != nil && b.fire.Control != nil
	if held {
		hold = b.fire.Control.Hold
	}
	set := s.st.Control.Set
	switch {
	case held && s.st.Control.Fitted:
		at := []string{s.pressure(u, hold), s.pressure(u, set)}
		c.says = []string{s.say("fire holds ", at[0], ", switch sets ", at[1]), s.say("held ", at[0], ", sets ", at[1]), s.say("sets ", at[1])}
	case held:
		c.says = []string{s.say("fire holds ", s.pressure(u, hold)), s.say("held ", s.pressure(u, hold))}
	case s.st.Control.Fitted:
		hold = 0.9 * set
		c.says = []string{s.say("switch sets ", s.pressure(u, set)), s.say("sets ", s.pressure(u, set))}
	}
	if reach := math.Max(set, hold) - math.Min(set, hold); s.st.Control.Fitted && reach > 0 {
		low, high := math.Min(set, hold)-reach, math.Max(set, hold)+0.5*reach
		along := func(p float64) float64 { return math.Max(0, math.Min((p-low)/(high-low), 1)) }
		c.share, c.marks = along(d.Pressure), [2]float64{along(hold), along(set)}
		if !held {
			c.marks[0] = noMark
		}
	}
	return c
}

// waterDial is the water in the drum, and the feed.
func (s *sheet) waterDial(b *boiler) dial {
	c := dial{name: "Water", values: []string{s.percent(b.drum.WaterShare)}, share: b.drum.WaterShare, marks: [2]float64{noMark, noMark}}
	feed := s.flow(s.v.Units, b.drum.Feed)
	c.says = []string{s.say("feedwater ", feed), s.say("feed ", feed), feed}
	if b.feed != nil && b.feed.Control != nil {
		c.marks[0] = b.feed.Control.Hold
	}
	return c
}

// fireDial is the heat that reaches the water, and what is asked for.
func (s *sheet) fireDial(b *boiler) dial {
	d := b.drum
	c := dial{name: "Fire", values: []string{s.power(d.Fire)}, share: -1, marks: [2]float64{noMark, noMark}}
	asked := s.power(d.Asked)
	c.says = []string{s.say("asked for ", asked), s.say("asked ", asked)}
	if d.HandFire {
		c.says = []string{s.say("by hand, asked for ", asked), s.say("by hand, ", asked), "by hand"}
	}
	if b.fire.Control != nil {
		most := b.fire.Control.Most
		if b.operators != nil {
			most += b.operators.Most
		}
		c.share, c.marks[0] = d.Fire/most, math.Min(d.Asked/most, 1)
	} else {
		c.says = []string{"as it is set"}
	}
	return c
}

// loadDial is the steam that is taken from the drum, and how far its valve is
// open.
func (s *sheet) loadDial(b *boiler) dial {
	d := b.drum
	flow := s.flow(s.v.Units, d.Load)
	number, unit, _ := strings.Cut(flow, " ")
	c := dial{name: "Load", values: []string{flow, number}, unit: unit, share: d.Opening, marks: [2]float64{noMark, noMark}}
	now := s.valveOpen(d.Opening)
	c.says = []string{s.say("its valve ", now), now}
	if asked := b.load.Opening; !s.v.Sealed && math.Abs(asked-d.Opening) > 0.005 {
		to := s.say(now, ", going to ", s.percent(asked))
		c.says, c.marks[0] = []string{s.say("its valve ", to), to, now}, asked
	}
	return c
}

// operatorsDial is what the operators know, read and do.
func (s *sheet) operatorsDial(b *boiler) dial {
	u, o := s.v.Units, b.works
	c := dial{name: "Operators", values: []string{"not told", "untold"}, share: 0, marks: [2]float64{noMark, noMark}}
	if b.operators.Most > 0 {
		c.share = o.Adds / b.operators.Most
	}
	reads := s.say("read ", s.pressure(u, o.Gauge))
	adds := s.say("add ", s.power(o.Adds))
	if o.Told {
		c.values = []string{"told"}
		c.says = []string{s.say(reads, ", leave the fire alone"), s.say(reads, ", wait"), reads}
		return c
	}
	c.says = []string{s.say(reads, ", act on ", s.pressure(u, o.Acts), ": ", adds), s.say("act on ", s.pressure(u, o.Acts), ": ", adds), s.say(reads, ", ", adds), adds}
	if o.Adds <= 0 {
		c.says = []string{s.say(reads, ", act on ", s.pressure(u, o.Acts), ": add nothing"), s.say(reads, ", add nothing"), reads}
	}
	return c
}

// percent is a share in percent.
func (p *phrases) percent(share float64) string { return p.say(p.number(100*share, 0), " %") }

// power writes a heat flow, W, to three figures.
func (p *phrases) power(w float64) string {
	x, unit := w/1e6, " MW"
	if math.Abs(w) < 0.9995e6 {
		x, unit = w/1e3, " kW"
	}
	if w == 0 {
		return "0 MW"
	}
	x, n := figures(x, 3)
	return p.say(p.number(x, n), unit)
}

// valveOpen is how far a valve is open, as openWord.
func (p *phrases) valveOpen(opening float64) string {
	switch {
	case opening >= 1:
		return "open"
	case opening > 0:
		return p.say(strconv.Itoa(max(1, int(math.Round(100*opening)))), " % open")
	}
	return "shut"
}
