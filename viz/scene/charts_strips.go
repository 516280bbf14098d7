package scene

import (
	"math"
	"strings"
)

// curve is one line of a chart.
type curve struct {
	tr     *Trace
	y      []float64 // SI
	level  *float64  // a level line at this, in place of y
	from   float64   // drawn from this time on, s
	pen    Pen
	name   string // beside its value now; empty for none
	value  string
	strong bool
}

// chart is one strip. Its axis has its own unit: (x - zero)/size of an x in SI.
type chart struct {
	part, heading string
	zero, size    float64
	low, high     float64   // in its own unit, as at
	at            []float64 // values written beside it
	decimals      int
	curves        []curve
	share         float64 // of the height
	key           bool    // its axis is the key of the pressure colours
	unmeasured    bool    // nothing stands in it: there is no instrument for it
	box           Rect
}

// y is the height of a value of the chart's own unit, of one in SI.
func (c *chart) y(v float64) float64 {
	return c.box.Bottom - (v-c.low)/(c.high-c.low)*c.box.Height()
}
func (c *chart) of(si float64) float64 { return c.y((si - c.zero) / c.size) }

// bodyName and chamberName are the two sides of the disc: "above" and "below" are
// kept for thresholds.
const (
	bodyName    = "body"
	chamberName = "chamber"
)

// lines of the pressures: those of the chamber are the widest, in every picture.
const (
	belowLine = 5.2
	aboveLine = 2.4
	limitLine = 1.8
)

func (s *sheet) solid(w float64) Pen { return Pen{Ink: Dark, Width: w * s.p.scale} }

func (s *sheet) dashed(w, on, off float64) Pen {
	k := s.p.scale
	return Pen{Ink: Dark, Width: w * k, Dash: s.numbers.list(on*k, off*k)}
}

// pressureChart is an empty chart over the whole range of colours.
func (s *sheet) pressureChart(traces ...*Trace) *chart {
	v, u := s.v, s.v.Units
	c := &chart{part: "pressure chart", heading: s.say("Pressure and its colour, ", u.PressureName()), share: 0.46, key: true}
	c.size, _ = u.factor()
	if u.Gauge {
		c.zero = u.Ambient
	}
	top := v.Range.High
	for _, tr := range traces {
		for i := range tr.T {
			if p := math.Max(tr.Above[i], tr.Below[i]); 1.03*p > top {
				top = 1.03 * p
			}
		}
	}
	c.low, c.high = u.shown(v.Range.Low), u.shown(top)
	c.at, c.decimals = ticks(c.low, c.high, 5)
	return c
}

func (s *sheet) currentChart(most float64, traces ...*Trace) *chart {
	for _, tr := range traces {
		for _, i := range tr.Current {
			if i > most {
				most = i
			}
		}
	}
	if !(most > 0.02) || math.IsInf(most, 1) {
		most = 0.02
	}
	c := &chart{part: "current chart", heading: "Coil current, A", size: 1, share: 0.17, high: 1.12 * most}
	c.at, c.decimals = ticks(0, c.high, 2)
	return c
}

// needed are the places after the point that a length in mm is written with: none
// if it is whole, two at most.
func needed(mm float64) int {
	n := 0
	for p := 1.0; n < 2 && math.Abs(math.Round(mm*p)/p-mm) > 1e-6; n++ {
		p *= 10
	}
	return n
}

func travelChart(part, heading string, travel, share float64) *chart {
	return &chart{part: part, heading: heading, size: 1e-3, share: share, high: 1e3 * 1.12 * travel,
		at: []float64{0, 1e3 * travel}, decimals: needed(1e3 * travel)}
}

// strips are the charts of a picture, from top to bottom.
func (s *sheet) strips() []*chart {
	tr, st, u := &s.v.Trace, s.st, s.v.Units
	pressure := s.pressureChart(tr)
	add := func(y []float64, pen Pen, name string, strong bool) {
		p := now(tr, y, s.v.Snapshot.T)
		if !strong && (math.IsNaN(p) || p <= s.v.Range.Low) {
			name = ""
		}
		pressure.curves = append(pressure.curves, curve{tr: tr, y: y, pen: pen, name: name, value: s.pressure(u, p), strong: strong})
	}
	pressure.curves = make([]curve, 0, 4)
	add(tr.LiftBelow, s.dashed(limitLine, 9, 5), "lifts below", false)
	add(tr.DropAbove, s.dashed(limitLine, 3, 4), "reseats above", false)
	add(tr.Below, s.solid(belowLine), chamberName, true)
	add(tr.Above, s.solid(aboveLine), bodyName, true)

	lift := travelChart("lift chart", "Disc lift, mm", st.Disc.Travel, 0.20)
	lift.curves = []curve{{tr: tr, y: tr.Lift, pen: s.solid(3.4), value: s.mm(st.Disc.Lift), strong: true}}
	walls := s.v.AtRest() // what goes on then is how warm they are
	if walls && s.v.Boils() && (s.p.wide || s.p.little()) && rests(tr.TailWall, 1) && rests(tr.DumpWall, 1) {
		walls = false // or what the boiler does, while they stay as they are
	}
	if s.p.wide {
		pressure.share, lift.share = 0.66, 0.34
		switch {
		case walls && s.p.boiler.Width() > 0: // which takes the lift's room
			pressure.share = 0.57
			return []*chart{pressure, s.wallChart(0.43)}
		case walls:
			pressure.share, lift.share = 0.46, 0.20
			return []*chart{pressure, lift, s.wallChart(0.34)}
		}
		if s.v.Boils() && st.Disc.Lift == 0 && rests(tr.Lift, 1e-6) {
			lift = s.vesselChart()
			pressure.share, lift.share = 0.54, 0.46
		}
		return []*chart{pressure, lift}
	}
	current := s.currentChart(st.Coil.Supply/st.Coil.Impedance, tr)
	current.curves = []curve{{tr: tr, y: tr.Current, pen: s.solid(2.6), value: s.say(s.current(st.Coil.Current), " A"), strong: true}}
	if s.p.little() {
		if rests(tr.Current, 0.01) {
			current = s.vesselChart()
		}
		if walls {
			current = s.wallChart(0)
		}
		current.share, pressure.share, lift.share = 0.22, 0.53, 0.25
		return []*chart{current, pressure, lift}
	}
	pilot := travelChart("pilot chart", "Pilot lift, mm", st.Pilot.Stroke, 0)
	pilot.curves = []curve{{tr: tr, y: tr.Pilot, pen: s.solid(2.6), value: s.mm(st.Pilot.Lift), strong: true}}
	if rests(tr.Pilot, 1e-6) {
		pilot = s.vesselChart()
	}
	current.share, pressure.share, pilot.share = 0.16, 0.44, 0.20
	if walls {
		current = s.wallChart(0.24)
		pressure.share, lift.share = 0.40, 0.16
	}
	return []*chart{current, pressure, lift, pilot}
}

// vesselChart takes the place of a strip in which nothing happens: how near the
// vessel is to the pressures at which the switch makes and resets.
func (s *sheet) vesselChart() *chart {
	tr, c, u := &s.v.Trace, &s.st.Control, s.v.Units
	if !c.Fitted {
		return s.vesselAlone(s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.2, tr.Vessel))
	}
	limits := s.numbers.list(c.Set, c.Reset)
	out := s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.2, tr.Vessel, limits)
	out.curves = append(out.curves,
		curve{level: &limits[0], pen: s.dashed(limitLine, 9, 5), name: "sets", value: s.pressure(u, c.Set)},
		curve{level: &limits[1], pen: s.dashed(limitLine, 3, 4), name: "resets", value: s.pressure(u, c.Reset)})
	if s.p.wide { // words for the one that is next
		if c.Made {
			out.curves[0].name, out.curves[0].value = "", ""
		} else {
			out.curves[1].name, out.curves[1].value = "", ""
		}
	}
	return s.vesselAlone(out)
}

func (s *sheet) vesselAlone(c *chart) *chart {
	c.curves = append(c.curves, curve{tr: &s.v.Trace, y: s.v.Trace.Vessel, pen: s.solid(aboveLine), name: strings.ToLower(s.v.vesselName()), value: s.pressure(s.v.Units, s.st.Vessel), strong: true})
	return c
}

// rests tells whether a curve stays where it is, but for a small difference.
func rests(y []float64, but float64) bool {
	for _, v := range y {
		if math.Abs(v-y[0]) > but {
			return false
		}
	}
	return true
}

// now is what the curve reads at a time.
func (l *curve) now(t float64) float64 {
	if l.level != nil {
		return *l.level
	}
	return now(l.tr, l.y, t)
}

// now is the last value of a trace up to t; NaN if there is none.
func now(tr *Trace, y []float64, t float64) float64 {
	if i := last(tr, t); i >= 0 {
		return y[i]
	}
	return math.NaN()
}

// last is the last sample of a trace up to t; -1 if there is none.
func last(tr *Trace, t float64) int {
	low, high := 0, len(tr.T)
	for low < high {
		if mid := (low + high) / 2; tr.T[mid] <= t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}
