package report

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/paper"
)

// picture is a page of charts of one valve. Its curves fill while the run is
// walked along; then the page is drawn.
type picture struct {
	file    string
	valve   int
	strips  []*strip
	compose func(*picture, *Record) *paper.Page
}

func (p *picture) add(s *plant.Snapshot) {
	for _, st := range p.strips {
		st.add(s.T, &s.Valves[p.valve])
	}
}

func (p *picture) page(rec *Record) *paper.Page { return p.compose(p, rec) }

// spans are the stretches that the picture shows.
func (p *picture) spans() []span {
	var out []span
	for _, st := range p.strips {
		out = append(out, st.span)
	}
	return out
}

// strip is a set of charts over one stretch of time, one above the other:
// pressures, lift of disc and pilot, coil current.
type strip struct {
	span
	above, below, outlet, liftBelow, dropAbove, lift, pilot, current *paper.Curve

	travel, stroke float64 // m, the largest of the stretch
}

func newStrip(s span, columns int) *strip {
	curve := func() *paper.Curve { return paper.NewCurve(s.from, s.to, columns) }
	return &strip{span: s, above: curve(), below: curve(), outlet: curve(), liftBelow: curve(), dropAbove: curve(),
		lift: curve(), pilot: curve(), current: curve()}
}

// add takes up a sample. A threshold is drawn while it can decide: that to lift
// unless the disc is held at its stop, that to leave the stop unless the disc
// is held on its seat.
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
		if _, high, ok := st.current.Span(); ok {
			current = max(current, high)
		}
		travel, stroke = max(travel, st.travel), max(stroke, st.stroke)
	}
	room := func(top float64) paper.Axis { // with air above the end of the travel
		a := paper.AxisUpTo(top, fmt.Sprintf("%.4g", top))
		a.To *= 1.12
		return a
	}
	s := scales{pressure: paper.NewAxis(0, 1.06*pressure, 6), lift: room(travel * milli), pilot: room(stroke * milli)}
	s.current = paper.NewAxis(0, max(1.15*current, 0.1), 2)
	return s
}

// draw puts the charts of a strip on the page, the frame that of the uppermost.
// Labels stand beside the right end of the curves if there is room for them.
func (st *strip) draw(page *paper.Page, frame paper.Rect, time paper.Axis, sc scales, marks []paper.Mark, labels bool) {
	label := func(text string) string {
		if !labels {
			return ""
		}
		return text
	}
	value := func(name string, c *paper.Curve) string {
		v, _ := c.Last()
		return label(fmt.Sprintf("%s %.2f", name, v))
	}
	box := func(k float64) paper.Rect {
		top := frame.Bottom + k*(smallGap+smallHeight) - smallHeight
		return paper.Rect{Left: frame.Left, Top: top, Right: frame.Right, Bottom: top + smallHeight}
	}
	for _, n := range []*paper.Panel{
		{Box: frame, Value: sc.pressure, Heading: "Pressure, bar abs", Traces: []paper.Trace{
			{Curve: st.below, Pen: belowPen, Label: value("below disc", st.below)},
			{Curve: st.above, Pen: abovePen, Label: value("above disc", st.above)},
			{Curve: st.outlet, Pen: outletPen, Label: value("outlet", st.outlet)},
			{Curve: st.liftBelow, Pen: liftPen, Label: value("lifts below", st.liftBelow)},
			{Curve: st.dropAbove, Pen: dropPen, Label: value("goes back above", st.dropAbove)},
		}},
		{Box: box(1), Value: sc.lift, Heading: "Disc lift, mm", Traces: []paper.Trace{{Curve: st.lift, Pen: motionPen}}},
		{Box: box(2), Value: sc.pilot, Heading: "Pilot lift, mm", Traces: []paper.Trace{{Curve: st.pilot, Pen: motionPen}}},
		{Box: box(3), Value: sc.current, Heading: "Coil current, A", Traces: []paper.Trace{{Curve: st.current, Pen: motionPen}}, Clock: true},
	} {
		n.Time, n.Marks = time, marks
		n.Draw(page)
	}
}

// heading writes title and sentence at the top of a page, the sentence on at
// most two lines.
func heading(page *paper.Page, title, sentence string) {
	const margin = 40.0
	page.Title = title + ". " + sentence
	page.Text(titleFont, paper.Point{X: margin, Y: 50}, paper.FromLeft, title)
	for i, line := range paper.Wrap(saidFont, paper.Width-2*margin, sentence) {
		if i < 2 {
			page.Text(saidFont, paper.Point{X: margin, Y: 88 + 33*float64(i)}, paper.FromLeft, line)
		}
	}
}

// wholeRun is the picture of the run from start to end.
func (rec *Record) wholeRun(valve int) *picture {
	const columns = 1200
	return &picture{valve: valve, strips: []*strip{newStrip(span{0, rec.Until()}, columns)}, compose: (*picture).composeWhole}
}

func (p *picture) composeWhole(rec *Record) *paper.Page {
	const left, right = 96.0, 1288.0
	st, v := p.strips[0], &rec.Valves[p.valve]
	page := &paper.Page{}
	heading(page, rec.title(v), rec.inShort(v))
	axis := paper.NewAxis(0, st.to, 10)
	panel := paper.Panel{Box: paper.Rect{Left: left, Right: right}, Time: axis}
	marks := []paper.Mark{}
	// Lifts are counted above the charts, as many as there is room for.
	const apart = 44.0
	last := math.Inf(-1)
	for i, l := range v.Lifts {
		x := panel.X(l.T)
		if x-last < apart {
			continue
		}
		last = x
		marks = append(marks, paper.Mark{At: l.T, Pen: eventPen})
		page.Text(markFont, paper.Point{X: x, Y: pressureTop - 10}, paper.Centred, fmt.Sprint(i+1))
	}
	if len(v.Lifts) > 0 {
		page.Text(markFont, paper.Point{X: right + 24, Y: pressureTop - 10}, paper.FromLeft, "number of the lift")
	}
	marks = append(marks, rec.changes(page, &panel)...)
	st.draw(page, paper.Rect{Left: left, Top: pressureTop, Right: right, Bottom: pressureBottom}, axis, scalesOf(st), marks, true)
	page.Text(paper.Font{Size: 23, Color: paper.Faded}, paper.Point{X: right + 24, Y: clockLine}, paper.FromLeft, "s after the start")
	return page
}

// clockLine is the base line of the times below the lowest chart.
const clockLine = pressureBottom + 3*(smallGap+smallHeight) + 26.6

// changes marks what set in during the run: faults and commands.
func (rec *Record) changes(page *paper.Page, n *paper.Panel) []paper.Mark {
	var out []paper.Mark
	free := n.Box.Left
	for _, c := range rec.happened() {
		if c.at <= 0 || c.at > rec.Until() {
			continue
		}
		out = append(out, paper.Mark{At: c.at, Pen: changePen})
		// Beside its line, or left of it, where there is room for the words.
		x, width := n.X(c.at), paper.TextWidth(strongFont, c.text)
		start := min(x, paper.Width-20-width)
		if start < free {
			continue
		}
		free = start + width + 20
		page.Text(strongFont, paper.Point{X: start, Y: pressureTop - 40}, paper.FromLeft, c.text)
	}
	return out
}
