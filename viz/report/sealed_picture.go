package report

import (
	"fmt"

	"underdisc/model/unit"
	"underdisc/viz/paper"
	"underdisc/viz/words"
)

// sealedStrip is the charts of a run with a hidden fault: pressures that can be
// read, switch and relay, what is heard at the tailpipe, coil current.
type sealedStrip struct {
	span
	vessel, sensed, outlet, made, relay, tail, current *paper.Curve
}

func newSealedStrip(s span) *sealedStrip {
	const columns = 1200
	curve := func() *paper.Curve { return paper.NewCurve(s.from, s.to, columns) }
	return &sealedStrip{span: s, vessel: curve(), sensed: curve(), outlet: curve(), made: curve(), relay: curve(), tail: curve(), current: curve()}
}

func (st *sealedStrip) add(o *outside) {
	st.vessel.Add(o.t, o.vessel*bar)
	st.sensed.Add(o.t, where(o.fitted, o.sensed*bar))
	st.outlet.Add(o.t, o.outlet*bar)
	st.made.Add(o.t, where(o.fitted, truth(o.made)))
	st.relay.Add(o.t, where(o.fitted, truth(o.relayOn)))
	st.tail.Add(o.t, float64(o.tail))
	st.current.Add(o.t, o.current)
}

// page draws the charts.
func (st *sealedStrip) page(rec *Record, v *ValveRecord) *paper.Page {
	page := &paper.Page{}
	heading(page, rec.title(v), rec.sealedCaption(v))
	pressure, current := 0.0, 0.0
	for _, c := range []*paper.Curve{st.vessel, st.sensed, st.outlet} {
		if _, high, ok := c.Span(); ok {
			pressure = max(pressure, high)
		}
	}
	if _, high, ok := st.current.Span(); ok {
		current = high
	}
	last := func(name string, c *paper.Curve) string {
		if v, ok := c.Last(); ok {
			return fmt.Sprintf("%s %.2f", name, v)
		}
		return ""
	}
	steps := func(names ...string) paper.Axis {
		top := float64(len(names) - 1)
		a := paper.AxisUpTo(top, "")
		a.To = 1.12 * top
		a.Ticks = a.Ticks[:0]
		for i, name := range names {
			a.Ticks = append(a.Ticks, paper.Tick{At: float64(i), Text: name})
		}
		return a
	}
	frame := paper.Rect{Left: 96, Top: pressureTop, Right: 1288, Bottom: pressureBottom}
	box := func(k float64) paper.Rect {
		top := frame.Bottom + k*(smallGap+smallHeight) - smallHeight
		return paper.Rect{Left: frame.Left, Top: top, Right: frame.Right, Bottom: top + smallHeight}
	}
	time := paper.NewAxis(st.from, st.to, 10)
	first := paper.Panel{Box: frame, Time: time}
	marks := rec.changes(page, &first)
	sensed := paper.Trace{Curve: st.sensed, Pen: liftPen, Label: last("sensed", st.sensed)}
	for _, n := range []*paper.Panel{
		{Box: frame, Value: paper.NewAxis(0, 1.06*pressure, 7), Heading: pressureHeading, Raised: secondLine, Traces: []paper.Trace{
			{Curve: st.vessel, Pen: abovePen, Label: last("vessel", st.vessel)},
			sensed,
			{Curve: st.outlet, Pen: outletPen, Label: last("tailpipe", st.outlet)},
		}},
		{Box: box(1), Value: steps("no", "yes"), Heading: "Switch made, relay on", Traces: []paper.Trace{
			{Curve: st.made, Pen: motionPen, Label: "switch"}, {Curve: st.relay, Pen: liftPen, Label: "relay"}}},
		{Box: box(2), Value: steps("still", "hisses", "blows"), Heading: "Heard at the tailpipe", Traces: []paper.Trace{{Curve: st.tail, Pen: motionPen}}},
		{Box: box(3), Value: paper.NewAxis(0, max(1.15*current, 0.1), 2), Heading: "Coil current, A", Clock: true, Traces: []paper.Trace{{Curve: st.current, Pen: motionPen}}},
	} {
		n.Time, n.Marks = time, marks
		n.Draw(page)
	}
	page.Text(paper.Font{Size: 23, Color: paper.Faded}, paper.Point{X: frame.Right + 24, Y: clockLine}, paper.FromLeft, "s after the start")
	return page
}

// sealedCaption says of a run what its charts do not say, short enough for two
// lines.
func (rec *Record) sealedCaption(v *ValveRecord) string {
	n := 0
	for _, s := range v.signs {
		if s.event == "blows" {
			n++
		}
	}
	blew := "did not blow"
	if n > 0 {
		blew = "blew " + words.Times(n)
	}
	return fmt.Sprintf("The tailpipe %s in %s. Something is hidden: only what can be read or heard from outside is shown.",
		blew, unit.Format(rec.Until(), unit.Time))
}
