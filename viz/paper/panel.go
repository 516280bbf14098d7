package paper

// Panel is one chart on a page.
type Panel struct {
	Box     Rect
	Heading string  // above the box, from its left edge
	Raised  float64 // the heading, above where it would stand
	Time    Axis
	Value   Axis
	Traces  []Trace
	Marks   []Mark
	Clock   bool // write the times below the box
}

// Trace is a curve in a chart with the words that stand beside its right end.
type Trace struct {
	Curve *Curve
	Pen   Pen
	Label string // empty for none
}

// Mark is an upright line at a time.
type Mark struct {
	At  float64
	Pen Pen
}

// Sizes within a chart.
const (
	tickSize  = 23.0
	labelSize = 25.0
	labelGap  = 29.0 // between base lines
	sample    = 34.0 // of the line that stands before its label
	reach     = 22.0 // from the box to the sample
)

// X is where a time lies on the page.
func (n *Panel) X(t float64) float64 {
	return n.Box.Left + (t-n.Time.From)/(n.Time.To-n.Time.From)*(n.Box.Right-n.Box.Left)
}

// Y is where a value lies on the page.
func (n *Panel) Y(v float64) float64 {
	return n.Box.Bottom - (v-n.Value.From)/(n.Value.To-n.Value.From)*(n.Box.Bottom-n.Box.Top)
}

// Draw puts the chart on the page.
func (n *Panel) Draw(p *Page) {
	p.Box(White, n.Box)
	rule := Pen{Color: Grid, Width: 1.5}
	small := Font{Size: tickSize, Color: Faded}
	for _, k := range n.Value.Ticks {
		y := n.Y(k.At)
		p.Line(rule, Point{n.Box.Left, y}, Point{n.Box.Right, y})
		p.Text(small, Point{n.Box.Left - 10, y + capHeight*tickSize/2}, FromRight, k.Text)
	}
	for _, k := range n.Time.Ticks {
		x := n.X(k.At)
		p.Line(rule, Point{x, n.Box.Top}, Point{x, n.Box.Bottom})
		if n.Clock {
			p.Text(small, Point{x, n.Box.Bottom + 14 + capHeight*tickSize}, Centred, k.Text)
		}
	}
	for _, m := range n.Marks {
		x := n.X(m.At)
		p.Line(m.Pen, Point{x, n.Box.Top}, Point{x, n.Box.Bottom})
	}
	for _, t := range n.Traces {
		n.trace(p, t)
	}
	axis := Pen{Color: Ink, Width: 2}
	p.Line(axis, Point{n.Box.Left, n.Box.Top}, Point{n.Box.Left, n.Box.Bottom}, Point{n.Box.Right, n.Box.Bottom})
	n.heading(p)
	n.labels(p)
}

// heading writes the heading on a clear ground.
func (n *Panel) heading(p *Page) {
	if n.Heading == "" {
		return
	}
	f := Font{Size: labelSize, Bold: true, Color: Ink}
	y := n.Box.Top - 10 - n.Raised
	p.Box(Ground, Rect{n.Box.Left - 4, y - 0.8*labelSize, n.Box.Left + TextWidth(f, n.Heading) + 4, y + 0.25*labelSize})
	p.Text(f, Point{n.Box.Left, y}, FromLeft, n.Heading)
}

// trace draws a curve, cut to the box.
func (n *Panel) trace(p *Page, t Trace) {
	// A line along an edge of the box keeps its width.
	room := Rect{n.Box.Left, n.Box.Top - t.Pen.Width/2, n.Box.Right, n.Box.Bottom + t.Pen.Width/2}
	for _, run := range t.Curve.Runs() {
		line := make([]Point, len(run))
		for i, q := range run {
			line[i] = Point{n.X(q.X), n.Y(q.Y)}
		}
		for _, piece := range clip(line, room) {
			p.Line(t.Pen, piece...)
		}
	}
}

// labels writes the words of each curve right of the box, as near to the
// curve's end as the others let it, after a piece of the curve's own line.
func (n *Panel) labels(p *Page) {
	var traces []Trace
	var ends, wanted []float64
	for _, t := range n.Traces {
		v, ok := t.Curve.Last()
		if t.Label == "" || !ok {
			continue
		}
		y := max(n.Box.Top, min(n.Y(v), n.Box.Bottom))
		traces, ends, wanted = append(traces, t), append(ends, y), append(wanted, y)
	}
	places := Spread(wanted, labelGap, n.Box.Top+8, n.Box.Bottom-4)
	for i, t := range traces {
		x, y := n.Box.Right, places[i]
		if t.Curve.Lasts() {
			p.Line(Pen{Color: Faded, Width: 1.2}, Point{x + 3, ends[i]}, Point{x + reach - 3, y})
		}
		p.Line(t.Pen, Point{x + reach, y}, Point{x + reach + sample, y})
		p.Text(Font{Size: labelSize, Color: Ink}, Point{x + reach + sample + 9, y + capHeight*labelSize/2}, FromLeft, t.Label)
	}
}
