package report

import (
	"fmt"
	"math"

	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/viz/paper"
	"underdisc/viz/words"
)

// springStrip is the charts of a spring-loaded valve over one stretch of time:
// pressures, lift, flow, wear.
type springStrip struct {
	span
	vessel, inlet, huddle, under, outlet, lift, flow, wear *paper.Curve

	travel float64 // m
	piped  bool    // the inlet is not the vessel
	ringed bool    // there is an upper ring
}

func newSpringStrip(s span) *springStrip {
	const columns = 1200
	curve := func() *paper.Curve { return paper.NewCurve(s.from, s.to, columns) }
	return &springStrip{span: s, vessel: curve(), inlet: curve(), huddle: curve(), under: curve(), outlet: curve(), lift: curve(), flow: curve(), wear: curve()}
}

func (st *springStrip) add(t float64, v *plant.SpringState) {
	st.vessel.Add(t, v.Vessel*bar)
	st.inlet.Add(t, v.Inlet*bar)
	st.huddle.Add(t, v.Huddle*bar)
	st.under.Add(t, v.Under*bar)
	st.outlet.Add(t, v.Outlet*bar)
	st.lift.Add(t, v.Lift*milli)
	st.flow.Add(t, v.W)
	st.wear.Add(t, v.Wear)
	st.travel = max(st.travel, v.Spec.Disc.Travel)
	st.piped = v.Spec.Inlet != nil
	st.ringed = v.Spec.UpperRing != nil
}

// springPicture is a page of charts of one spring-loaded valve.
type springPicture struct {
	file   string
	spring int
	strip  *springStrip
	closer bool // on its first lift
}

func (p *springPicture) add(s *plant.Snapshot) { p.strip.add(s.T, &s.Springs[p.spring]) }

// springPictures are the pages of all spring-loaded valves: the whole run, and the
// first lift from closer by. taken tells that plot belongs to a piloted valve.
func (rec *Record) springPictures(taken bool) []*springPicture {
	var out []*springPicture
	for i := range rec.Springs {
		v := &rec.Springs[i]
		name := ""
		if taken || i > 0 {
			name = "-" + v.Name
		}
		out = append(out, &springPicture{file: "plot" + name, spring: i, strip: newSpringStrip(span{0, rec.Until()})})
		if len(v.Lifts) == 0 {
			continue
		}
		l := &v.Lifts[0]
		end := rec.Until()
		if l.Reseated {
			end = l.ReseatAt
		}
		room := 0.1 * (end - l.PopAt)
		s := span{math.Max(0, l.PopAt-room), math.Min(rec.Until(), end+room)}
		if s.to > s.from {
			out = append(out, &springPicture{file: "first-lift" + name, spring: i, strip: newSpringStrip(s), closer: true})
		}
	}
	return out
}

// page draws the charts.
func (p *springPicture) page(rec *Record) *paper.Page {
	st, v := p.strip, &rec.Springs[p.spring]
	page := &paper.Page{}
	title := rec.title(&ValveRecord{Name: v.Name})
	if p.closer {
		title += ": the first lift"
	}
	heading(page, title, rec.springCaption(v))
	high := 0.0
	for _, c := range []*paper.Curve{st.vessel, st.inlet} {
		if _, top, ok := c.Span(); ok {
			high = max(high, top)
		}
	}
	most := func(c *paper.Curve, least float64) paper.Axis {
		top := least
		if _, high, ok := c.Span(); ok {
			top = max(top, 1.15*high)
		}
		return paper.NewAxis(0, top, 2)
	}
	label := func(name string, c *paper.Curve) string {
		if x, ok := c.Last(); ok && c.Lasts() {
			return fmt.Sprintf("%s %.2f", name, x)
		}
		return name
	}
	frame := paper.Rect{Left: 96, Top: pressureTop, Right: 1288, Bottom: pressureBottom}
	box := func(k float64) paper.Rect {
		top := frame.Bottom + k*(smallGap+smallHeight) - smallHeight
		return paper.Rect{Left: frame.Left, Top: top, Right: frame.Right, Bottom: top + smallHeight}
	}
	lift := paper.AxisUpTo(st.travel*milli, fmt.Sprintf("%.4g", st.travel*milli))
	lift.To *= 1.12
	traces := []paper.Trace{
		{Curve: st.huddle, Pen: belowPen, Label: label("chamber", st.huddle)},
		{Curve: st.vessel, Pen: abovePen, Label: label("vessel", st.vessel)},
		{Curve: st.outlet, Pen: outletPen, Label: label("outlet", st.outlet)},
	}
	if st.piped {
		traces = append(traces, paper.Trace{Curve: st.inlet, Pen: liftPen, Label: label("inlet", st.inlet)})
	}
	if st.ringed {
		traces = append(traces, paper.Trace{Curve: st.under, Pen: dropPen, Label: label("under ring", st.under)})
	}
	time := paper.NewAxis(st.from, st.to, 10)
	top := paper.Panel{Box: frame, Time: time, Value: paper.NewAxis(0, 1.06*high, 7), Heading: pressureHeading, Raised: secondLine, Traces: traces}
	marks := append(rec.countPops(page, &top, v), rec.changes(page, &top)...)
	for _, n := range []*paper.Panel{
		&top,
		{Box: box(1), Value: lift, Heading: "Lift, mm", Traces: []paper.Trace{{Curve: st.lift, Pen: motionPen}}},
		{Box: box(2), Value: most(st.flow, 0.01), Heading: "Flow, kg/s", Traces: []paper.Trace{{Curve: st.flow, Pen: motionPen}}},
		{Box: box(3), Value: most(st.wear, 0.1), Heading: "Wear of the seat so far (relative, constants assumed)", Clock: true,
			Traces: []paper.Trace{{Curve: st.wear, Pen: motionPen}}},
	} {
		n.Time, n.Marks = time, marks
		n.Draw(page)
	}
	clock := paper.Font{Size: 23, Color: paper.Faded}
	beside := frame.Right + 24
	for _, k := range time.Ticks {
		beside = max(beside, top.X(k.At)+paper.TextWidth(clock, k.Text)/2+12)
	}
	page.Text(clock, paper.Point{X: beside, Y: clockLine}, paper.FromLeft, "s after the start")
	return page
}

// countPops marks the lifts of the stretch and writes their numbers above.
func (rec *Record) countPops(page *paper.Page, n *paper.Panel, v *SpringRecord) []paper.Mark {
	var lifts []Lift
	for i := range v.Lifts {
		if t := v.Lifts[i].PopAt; t <= n.Time.To {
			lifts = append(lifts, Lift{T: t})
		}
	}
	return countLifts(page, n, lifts)
}

// springCaption says of the run what the charts do not say by themselves.
func (rec *Record) springCaption(v *SpringRecord) string {
	over := unit.Format(rec.Until(), unit.Time)
	f := rec.explainSpring(rec.Run.Present(), rec.Run.Now(), v.Index)
	end := fmt.Sprintf(" At the end %s.", words.SpringState(f.State))
	if len(v.Lifts) == 0 {
		return fmt.Sprintf("No lift in %s.", over) + end
	}
	l := &v.Lifts[0]
	g := func(p float64) string { return fmt.Sprintf("%.2f", (p-l.Surroundings)*bar) }
	out := fmt.Sprintf("%s in %s. The first: ", words.Count(len(v.Lifts), "lift", "lifts"), over)
	if l.Gradual && !l.Hand {
		out += fmt.Sprintf("opens from %s bar gauge", g(l.Simmer))
	} else if l.Hand {
		out += fmt.Sprintf("by hand at %s bar gauge", g(l.Pop))
	} else {
		out += fmt.Sprintf("simmers from %s, pops at %s bar gauge", g(l.Simmer), g(l.Pop))
	}
	out += fmt.Sprintf(", lifts %.1f of %.1f mm", l.Lift*milli, f.FullTravel*milli)
	if l.Reseated {
		out += ", reseats at " + g(l.Reseat)
	}
	if x, ok := l.Blowdown(); ok {
		out += fmt.Sprintf(", blowdown %s", percents(x))
	}
	return out + "." + end
}
