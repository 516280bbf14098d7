package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/viz/paper"
	"underdisc/viz/words"
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
		{Box: box(3), Value: sc.current, Heading: "Coil current, A", Traces: []paper.Trace{{Curve: st.current, Pen: motionPen}}, Clock: true},
	} {
		n.Time, n.Marks = time, marks
		n.Draw(page)
	}
}

// heading writes title and sentences at the top of a page, the sentences on at
// most two lines.
func heading(page *paper.Page, title, sentences string) {
	const margin = 40.0
	page.Title = strings.TrimSpace(title + ". " + sentences)
	small := titleFont
	for paper.TextWidth(small, title) > paper.Width-2*margin && small.Size > paper.Smallest {
		small.Size--
	}
	page.Text(small, paper.Point{X: margin, Y: 50}, paper.FromLeft, title)
	for i, line := range paper.Wrap(saidFont, paper.Width-2*margin, sentences) {
		if i < 2 {
			page.Text(saidFont, paper.Point{X: margin, Y: 88 + 33*float64(i)}, paper.FromLeft, line)
		}
	}
}

// title names the run, what is wrong in it, and the valve where there are
// several.
func (rec *Record) title(v *ValveRecord) string {
	out := rec.Run.Scenario.Title
	if len(rec.Valves) > 1 {
		out += ", " + v.Name
	}
	for i, f := range rec.Faults {
		joint := ", with "
		if i > 0 {
			joint = ", "
		}
		c := f.Changes[0]
		out += joint + f.Name + " " + unit.Format(c.To.Number, c.Dim)
		if f.At > 0 {
			out += " from " + unit.Format(f.At, unit.Time)
		}
	}
	return out
}

// caption says of a valve's run what the charts do not say by themselves, short
// enough for two lines.
func (rec *Record) caption(v *ValveRecord) string {
	out := fmt.Sprintf("No lift in %s.", unit.Format(rec.Until(), unit.Time))
	if n := len(v.Lifts); n > 0 {
		out = fmt.Sprintf("%s in %s.", words.Count(n, "lift", "lifts"), unit.Format(rec.Until(), unit.Time))
		first, last := v.Lifts[0], v.Lifts[n-1]
		differ := func(l Lift) bool { return otherwise(first, l) }
		switch {
		case n == 1:
			out += " " + briefly("It lifted", first)
		case slices.ContainsFunc(v.Lifts, differ):
			out += " " + briefly("First", first) + " " + briefly("Last", last)
		default:
			out += " " + briefly("Each", first)
		}
	}
	f := rec.explain(rec.Run.Present(), rec.Run.Now(), v)
	return out + fmt.Sprintf(" At the end %s: %s.", words.State(f.State), words.Reason(&f, f.Why))
}

func briefly(which string, l Lift) string {
	switch percent, ok := l.Blowdown(); {
	case ok:
		return fmt.Sprintf("%s at %s bar abs, shut at %s, blowdown %.1f %%.", which, words.Bar(l.Pressure), words.Bar(l.Reseat), percent)
	case l.Reseated:
		return fmt.Sprintf("%s at %s bar abs, shut at %s.", which, words.Bar(l.Pressure), words.Bar(l.Reseat))
	}
	return fmt.Sprintf("%s at %s bar abs, not shut again.", which, words.Bar(l.Pressure))
}

// wholeRun is the picture of the run from start to end.
func (rec *Record) wholeRun(valve int) *picture {
	return rec.overview(valve, span{0, rec.Until()})
}

// lastLifts is the picture of the last lifts of a run that has so many that in
// the picture of the whole they run into each other.
func (rec *Record) lastLifts(valve int) (*picture, bool) {
	const many, last = 40, 12
	lifts := rec.Valves[valve].Lifts
	if len(lifts) <= many {
		return nil, false
	}
	return rec.overview(valve, span{lifts[len(lifts)-last-1].T, rec.Until()}), true
}

func (rec *Record) overview(valve int, s span) *picture {
	const columns = 1200
	return &picture{valve: valve, strips: []*strip{newStrip(s, columns)}, compose: (*picture).composeOverview}
}

func (p *picture) composeOverview(rec *Record) *paper.Page {
	st, v := p.strips[0], &rec.Valves[p.valve]
	page := &paper.Page{}
	heading(page, rec.title(v), rec.caption(v))
	panel := paper.Panel{Box: paper.Rect{Left: 96, Top: pressureTop, Right: 1288, Bottom: pressureBottom}, Time: paper.NewAxis(st.from, st.to, 10)}
	marks := append(countLifts(page, &panel, v.Lifts), rec.changes(page, &panel)...)
	st.draw(page, panel.Box, panel.Time, scalesOf(st), marks, layout{labels: true, thresholds: true, raised: secondLine})
	clock := paper.Font{Size: 23, Color: paper.Faded}
	beside := panel.Box.Right + 24
	for _, k := range panel.Time.Ticks {
		beside = max(beside, panel.X(k.At)+paper.TextWidth(clock, k.Text)/2+12)
	}
	page.Text(clock, paper.Point{X: beside, Y: clockLine}, paper.FromLeft, "s after the start")
	if _, many := rec.lastLifts(p.valve); many && st.from == 0 {
		for i, line := range []string{"The lifts run together", "here; the last ones are", "drawn by themselves", "in last-lifts."} {
			page.Text(markFont, paper.Point{X: panel.Box.Right + 24, Y: pressureBottom + 72 + 30*float64(i)}, paper.FromLeft, line)
		}
	}
	return page
}

// clockLine is the base line of the times below the lowest chart.
const clockLine = pressureBottom + 3*(smallGap+smallHeight) + 30.6

// countLifts marks the lifts and writes their numbers above the charts, as
// many as there is room for.
func countLifts(page *paper.Page, n *paper.Panel, lifts []Lift) []paper.Mark {
	var marks []paper.Mark
	const apart = 18.0
	free := math.Inf(-1)
	for i, l := range lifts {
		x, half := n.X(l.T), paper.TextWidth(markFont, fmt.Sprint(i+1))/2
		if x < n.Box.Left || x-half < free {
			continue
		}
		free = x + half + apart
		marks = append(marks, paper.Mark{At: l.T, Pen: eventPen})
		page.Text(markFont, paper.Point{X: x, Y: n.Box.Top - 10}, paper.Centred, fmt.Sprint(i+1))
	}
	if len(marks) > 0 {
		page.Text(markFont, paper.Point{X: max(free, n.Box.Right+24), Y: n.Box.Top - 10}, paper.FromLeft, "number of the lift")
	}
	return marks
}

// changes marks what set in during the run: faults and commands. The words
// stand in the line of the heading, right of it.
func (rec *Record) changes(page *paper.Page, n *paper.Panel) []paper.Mark {
	var out []paper.Mark
	free := n.Box.Left + paper.TextWidth(strongFont, pressureHeading) + 40
	for _, c := range rec.setIn() {
		if c.at < n.Time.From {
			continue
		}
		out = append(out, paper.Mark{At: c.at, Pen: changePen})
		x, width := n.X(c.at), paper.TextWidth(strongFont, c.text)
		start := max(free, min(x-width/2, paper.Width-20-width))
		if start+width > paper.Width {
			continue // no room; the report has it
		}
		free = start + width + 20
		page.Text(strongFont, paper.Point{X: start, Y: pressureTop - 10 - secondLine}, paper.FromLeft, c.text)
		page.Line(changePen, paper.Point{X: x, Y: pressureTop - secondLine}, paper.Point{X: x, Y: pressureTop})
	}
	return out
}

// secondLine is how far above the first line over the charts the second one
// stands.
const secondLine = 32.0

const pressureHeading = "Pressure, bar abs"
