package report

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/paper"
)

// strip is a set of charts over one stretch of time, one above the other:
// pressures, lift of disc and pilot, coil current.
type strip struct {
	span
	above, below, outlet, liftBelow, dropAbove, lift, pilot, current, pullIn, dropOut *paper.Curve

	travel, stroke float64 // m, the largest of the stretch
}

func newStrip(s span, columns int) *strip {
	curve := func() *paper.Curve { return paper.NewCurve(s.from, s.to, columns) }
	return &strip{span: s, above: curve(), below: curve(), outlet: curve(), liftBelow: curve(), dropAbove: curve(),
		lift: curve(), pilot: curve(), current: curve(), pullIn: curve(), dropOut: curve()}
}

// add takes up a sample. A threshold is drawn while it can decide: that to lift
// unless the disc is held at its stop, that to leave the stop unless the disc
// is held on its seat; of the coil's currents, the one at which the pilot leaves
// the end where it rests.
func (st *strip) add(t float64, v *plant.ValveState) {
	th := explain.ThresholdsOf(v)
	if v.Disc.Hold == plant.HeldOpen {
		th.LiftBelow = math.NaN()
	}
	if v.Disc.Hold == plant.HeldShut {
		th.DropAbove = math.NaN()
	}
	st.above.Add(t, v.Above*bar)
	st.below.Add(t, v.Below*bar)
	st.outlet.Add(t, v.Outlet*bar)
	st.liftBelow.Add(t, th.LiftBelow*bar)
	st.dropAbove.Add(t, th.DropAbove*bar)
	st.lift.Add(t, v.Disc.Lift*milli)
	st.pilot.Add(t, v.Pilot.Lift*milli)
	st.current.Add(t, v.Coil.Current)
	pullIn, dropOut := math.NaN(), math.NaN()
	switch {
	case v.Pilot.Hold == plant.HeldShut && v.Coil.PullIn > 0:
		pullIn = v.Coil.PullIn
	case v.Pilot.Hold == plant.HeldOpen:
		dropOut = v.Coil.DropOut
	}
	st.pullIn.Add(t, pullIn)
	st.dropOut.Add(t, dropOut)
	st.travel, st.stroke = max(st.travel, v.Disc.Travel), max(st.stroke, v.Pilot.Stroke)
}

// How the curves are drawn. Line width and dashes tell them apart without
// colour: thin above the disc, thick below it, long dashes for the threshold
// to lift, dots for the one to go back.
var (
	abovePen   = paper.Pen{Color: paper.Ink, Width: 2.4}
	belowPen   = paper.Pen{Color: paper.Deep, Width: 5.2}
	outletPen  = paper.Pen{Color: paper.Faded, Width: 1.6}
	liftPen    = paper.Pen{Color: paper.Ink, Width: 2.6, Dash: []float64{16, 8}}
	dropPen    = paper.Pen{Color: paper.Ink, Width: 3, Dash: []float64{3.5, 6}}
	motionPen  = paper.Pen{Color: paper.Ink, Width: 3.2}
	eventPen   = paper.Pen{Color: paper.Faded, Width: 1.5, Dash: []float64{3, 5}}
	changePen  = paper.Pen{Color: paper.Ink, Width: 3}
	titleFont  = paper.Font{Size: 33, Bold: true, Color: paper.Ink}
	saidFont   = paper.Font{Size: 26, Color: paper.Ink}
	markFont   = paper.Font{Size: 23, Color: paper.Ink}
	strongFont = paper.Font{Size: 24, Bold: true, Color: paper.Ink}
)

// Where the charts of a strip stand.
const (
	pressureTop    = 196.0
	pressureBottom = 536.0
	smallHeight    = 66.0
	smallGap       = 40.0 // room for a heading
)

// scales are the value axes that strips of one page share.
type scales struct{ pressure, lift, pilot, current paper.Axis }

// scalesOf spans what the strips show.
func scalesOf(strips ...*strip) scales {
	pressure, current, travel, stroke := 0.0, 0.0, 0.0, 0.0
	for _, st := range strips {
		for _, c := range []*paper.Curve{st.above, st.below, st.outlet} {
			if _, high, ok := c.Span(); ok {
				pressure = max(pressure, high)
			}
		}
		for _, c := range []*paper.Curve{st.current, st.pullIn} {
			if _, high, ok := c.Span(); ok {
				current = max(current, high)
			}
		}
		travel, stroke = max(travel, st.travel), max(stroke, st.stroke)
	}
	room := func(top float64) paper.Axis { // with air above the end of the travel
		a := paper.AxisUpTo(top, fmt.Sprintf("%.4g", top))
		a.To *= 1.12
		return a
	}
	s := scales{pressure: paper.NewAxis(0, 1.06*pressure, 7), lift: room(travel * milli), pilot: room(stroke * milli)}
	s.current = paper.NewAxis(0, max(1.15*current, 0.1), 2)
	return s
}

// layout is what differs between the pages on which a strip is drawn.
type layout struct {
	labels     bool    // beside the right end of the curves
	thresholds bool    // those among them
	raised     float64 // the heading of the uppermost chart, by so much
}

// draw puts the charts of a strip on the page, the frame that of the uppermost.
func (st *strip) draw(page *paper.Page, frame paper.Rect, time paper.Axis, sc scales, marks []paper.Mark, lay layout) {
	value := func(name string, c *paper.Curve) string {
		if !lay.labels {
			return ""
		}
		if v, ok := c.Last(); ok && c.Lasts() {
			return fmt.Sprintf("%s %.2f", name, v)
		}
		return name
	}
	threshold := func(name string, c *paper.Curve) string {
		if !lay.thresholds {
			return ""
		}
		return value(name, c)
	}
	box := func(k float64) paper.Rect {
		top := frame.Bottom + k*(smallGap+smallHeight) - smallHeight
		return paper.Rect{Left: frame.Left, Top: top, Right: frame.Right, Bottom: top + smallHeight}
	}
	for _, n := range []*paper.Panel{
		{Box: frame, Value: sc.pressure, Heading: pressureHeading, Raised: lay.raised, Traces: []paper.Trace{
			{Curve: st.below, Pen: belowPen, Label: value("below disc", st.below)},
			{Curve: st.above, Pen: abovePen, Label: value("above disc", st.above)},
			{Curve: st.outlet, Pen: outletPen, Label: value("outlet", st.outlet)},
			{Curve: st.liftBelow, Pen: liftPen, Label: threshold("lifts below", st.liftBelow)},
			{Curve: st.dropAbove, Pen: dropPen, Label: threshold("shuts above", st.dropAbove)},
		}},
		{Box: box(1), Value: sc.lift, Heading: "Disc lift, mm", Traces: []paper.Trace{{Curve: st.lift, Pen: motionPen}}},
		{Box: box(2), Value: sc.pilot, Heading: "Pilot lift, mm", Traces: []paper.Trace{{Curve: st.pilot, Pen: motionPen}}},
		{Box: box(3), Value: sc.current, Heading: "Coil current, A", Clock: true, Traces: []paper.Trace{
			{Curve: st.current, Pen: motionPen},
			{Curve: st.pullIn, Pen: liftPen, Label: value("pilot lifts at", st.pullIn)},
			{Curve: st.dropOut, Pen: dropPen, Label: value("drops at", st.dropOut)},
		}},
	} {
		n.Time, n.Marks = time, marks
		n.Draw(page)
	}
}
