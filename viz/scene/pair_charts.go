package scene

import "math"

// pairCharts draws the charts that the two runs share: A's lines unbroken, B's
// dashed from where it parts.
func (s *sheet) pairCharts(b *View) {
	w := s.v.shown()
	if o := b.shown(); o.from < w.from {
		until := math.Max(w.until, o.until)
		w = o
		w.until = until
	}
	s.graph(s.pairStrips(b), w)
	t := s.v.Snapshot.T
	if s.pair.Forks > w.from && s.pair.Forks < t { // said in words, too
		s.spot("charts", s.p.charts, s.say(s.number(t, 3), " s, B parted from A at ", s.number(s.pair.Forks, 3), " s"))
		return
	}
	s.spot("charts", s.p.charts, s.say(s.number(t, 3), " s"))
}

func (s *sheet) pairStrips(b *View) []*chart {
	if s.sp != nil {
		return s.springPairStrips(b)
	}
	a, u := s.v, s.v.Units
	ta, tb := &a.Trace, &b.Trace
	sa, sb := s.st, &b.Snapshot.Valves[b.Valve]
	both := func(c *chart, ya, yb []float64, width float64, va, vb string) *chart {
		c.curves = []curve{
			{tr: tb, y: yb, from: s.pair.Forks, pen: s.dashed(width, 7, 4), name: laneB, value: vb, strong: true},
			{tr: ta, y: ya, pen: s.solid(width), name: laneA, value: va, strong: true}}
		return c
	}
	vessel := s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.20, ta.Vessel, tb.Vessel)
	both(vessel, ta.Vessel, tb.Vessel, aboveLine, s.pressure(u, sa.Vessel), s.pressure(u, sb.Vessel))
	most := 0.0
	if !a.Sealed {
		most = math.Max(sa.Coil.Supply/sa.Coil.Impedance, sb.Coil.Supply/sb.Coil.Impedance)
	}
	current := s.currentChart(most, ta, tb)
	both(current, ta.Current, tb.Current, 2.6, s.say(s.current(sa.Coil.Current), " A"), s.say(s.current(sb.Coil.Current), " A"))
	if a.Sealed {
		vessel.share = 0.34
		if s.p.wide {
			return append([]*chart{vessel}, notMeasured(0.20)...)
		}
		return append([]*chart{current, vessel}, notMeasured(0.14)...)
	}
	chamber := s.pressureChart(ta, tb)
	chamber.heading, chamber.share = s.say("Chamber and its colour, ", u.PressureName()), 0.42
	both(chamber, ta.Below, tb.Below, 4.4, s.pressure(u, sa.Below), s.pressure(u, sb.Below))
	lift := travelChart("lift chart", "Disc lift, mm", math.Max(sa.Disc.Travel, sb.Disc.Travel), 0.21)
	both(lift, ta.Lift, tb.Lift, 3.4, s.mm(sa.Disc.Lift), s.mm(sb.Disc.Lift))
	switch {
	case s.p.wide:
		chamber.share, lift.share = 0.66, 0.34
		return []*chart{chamber, lift}
	case s.p.little():
		return []*chart{chamber, vessel, lift}
	}
	return []*chart{current, chamber, vessel, lift}
}

// zoomed is a chart of pressures with a range of its own, just wide enough for
// what the curves hold, and a twentieth of the colours' range at
// least.
func (s *sheet) zoomed(part, heading string, share float64, of ...[]float64) *chart {
	u, r := s.v.Units, s.v.Range
	low, high := math.Inf(1), math.Inf(-1)
	for _, y := range of {
		for _, p := range y {
			if !math.IsNaN(p) {
				low, high = math.Min(low, p), math.Max(high, p)
			}
		}
	}
	least := 0.05 * (r.High - r.Low)
	if !(high >= low) {
		low, high = r.Low, r.High
	}
	if high-low < least {
		mid := (low + high) / 2
		low, high = mid-least/2, mid+least/2
	}
	pad := 0.08 * (high - low)
	c := &chart{part: part, heading: heading, share: share}
	c.size, _ = u.factor()
	if u.Gauge {
		c.zero = u.Ambient
	}
	c.low, c.high = u.shown(low-pad), u.shown(high+pad)
	c.at, c.decimals = ticks(c.low, c.high, 3)
	return c
}
