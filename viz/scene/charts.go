package scene

import (
	"fmt"
	"math"
	"strconv"
)

// curve is one line of a chart.
type curve struct {
	y      []float64 // in the chart's unit
	pen    Pen
	name   string // beside its value now; empty for none
	value  string
	strong bool
}

// chart is one strip.
type chart struct {
	part, heading string
	low, high     float64
	at            []float64 // values written beside it
	decimals      int
	curves        []curve
	share         float64 // of the height
	key           bool    // its axis is the key of the pressure colours
	box           Rect
}

func (c *chart) y(v float64) float64 {
	return c.box.Bottom - (v-c.low)/(c.high-c.low)*c.box.Height()
}

// timeAxis puts times on the charts.
type timeAxis struct{ from, to, left, right float64 }

func (a timeAxis) x(t float64) float64 {
	return a.left + (t-a.from)/(a.to-a.from)*(a.right-a.left)
}

// strips are the charts of a picture, from top to bottom.
func (s *sheet) strips() []*chart {
	v, tr, st, u := s.v, &s.v.Trace, s.st, s.v.Units
	k := s.p.scale
	convert := func(y []float64, f func(float64) float64) []float64 {
		out := make([]float64, len(y))
		for i := range y {
			out[i] = f(y[i])
		}
		return out
	}
	milli := func(x float64) float64 { return 1e3 * x }
	solid := func(w float64) Pen { return Pen{Ink: Dark, Width: w * k} }
	pressure := &chart{part: "pressure chart", heading: "Pressure, " + u.PressureName(), share: 0.46, key: true}
	top := v.Range.High
	for i := range tr.T {
		for _, p := range []float64{tr.Above[i], tr.Below[i]} {
			top = math.Max(top, 1.03*p)
		}
	}
	pressure.low, pressure.high = u.shown(v.Range.Low), u.shown(top)
	pressure.at, pressure.decimals = ticks(pressure.low, pressure.high, 5)
	lifts, drops := now(tr, tr.LiftBelow, v.Snapshot.T), now(tr, tr.DropAbove, v.Snapshot.T)
	pressure.curves = []curve{
		{y: convert(tr.LiftBelow, u.shown), pen: Pen{Ink: Dark, Width: 1.8 * k, Dash: []float64{9 * k, 5 * k}}, name: "lifts below", value: u.PressureOf(lifts)},
		{y: convert(tr.DropAbove, u.shown), pen: Pen{Ink: Dark, Width: 1.8 * k, Dash: []float64{3 * k, 4 * k}}, name: "reseats above", value: u.PressureOf(drops)},
		{y: convert(tr.Below, u.shown), pen: solid(5.2), name: "below", value: u.PressureOf(st.Below), strong: true},
		{y: convert(tr.Above, u.shown), pen: solid(2.4), name: "above", value: u.PressureOf(st.Above), strong: true},
	}
	if math.IsNaN(lifts) || lifts <= v.Range.Low {
		pressure.curves[0].name = ""
	}
	if math.IsNaN(drops) || drops <= v.Range.Low {
		pressure.curves[1].name = ""
	}
	lift := &chart{part: "lift chart", heading: "Disc lift, mm", share: 0.22, high: 1e3 * 1.12 * st.Disc.Travel, at: []float64{0, 1e3 * st.Disc.Travel},
		curves: []curve{{y: convert(tr.Lift, milli), pen: solid(3.4), value: places(1e3*st.Disc.Lift, 1) + " mm", strong: true}}}
	if s.p.wide {
		pressure.share, lift.share = 0.66, 0.34
		return []*chart{pressure, lift}
	}
	most := st.Coil.Supply / st.Coil.Resistance
	for _, i := range tr.Current {
		most = math.Max(most, i)
	}
	if !(most > 0.02) || math.IsInf(most, 1) {
		most = 0.02
	}
	current := &chart{part: "current chart", heading: "Coil current, A", share: 0.17, high: 1.12 * most,
		curves: []curve{{y: tr.Current, pen: solid(2.6), value: Current(st.Coil.Current) + " A", strong: true}}}
	current.at, current.decimals = ticks(0, current.high, 2)
	pilot := &chart{part: "pilot chart", heading: "Pilot lift, mm", share: 0.15, high: 1e3 * 1.12 * st.Pilot.Stroke, at: []float64{0, 1e3 * st.Pilot.Stroke},
		curves: []curve{{y: convert(tr.Pilot, milli), pen: solid(2.6), value: places(1e3*st.Pilot.Lift, 1) + " mm", strong: true}}}
	if s.p.floor > 1.001*sizeSmall*s.p.scale { // a small window
		current.share, pressure.share, lift.share = 0.20, 0.53, 0.27
		return []*chart{current, pressure, lift}
	}
	return []*chart{current, pressure, lift, pilot}
}

// now is the last value of a trace up to t; NaN if there is none.
func now(tr *Trace, y []float64, t float64) float64 {
	last := math.NaN()
	for i := range tr.T {
		if tr.T[i] > t {
			break
		}
		last = y[i]
	}
	return last
}

// charts draws the strips on one time axis.
func (s *sheet) charts() {
	const part = "charts"
	at := s.p.charts
	s.panel(part, at)
	tr, t := &s.v.Trace, s.v.Snapshot.T
	strips := s.strips()
	small, head := s.small(), face{s.p.text(sizeLabel), true, Dark}
	r := s.radius()
	k := s.p.scale

	// Sides: numbers on the left, room for the words on the right.
	labels := s.labelWidth(strips)
	left := 0.0
	for _, c := range strips {
		for _, a := range c.at {
			left = math.Max(left, s.width(small, places(a, c.decimals)))
		}
	}
	keyWide := 13 * k
	axis := timeAxis{tr.From, tr.To, at.Left + 10*k + left + 8*k + keyWide, at.Right - 12*k}
	words := axis.right - labels // where they begin
	switch ahead := len(tr.T) > 0 && tr.T[len(tr.T)-1] > t; {
	case ahead:
		axis.right = words
	case axis.x(t) <= words:
		words = axis.x(t)
	case t > tr.From: // they take the time ahead, of which more is shown then
		axis.to = tr.From + (t-tr.From)*(axis.right-axis.left)/(words-axis.left)
	}

	top := at.Top + 3.1*r
	bottom := at.Bottom - 3.5*small.size
	headRoom := 1.75 * head.size
	free := bottom - top - headRoom*float64(len(strips))
	y := top
	for _, c := range strips {
		y += headRoom
		c.box = Rect{axis.left, y, axis.right, y + c.share/shares(strips)*free}
		y = c.box.Bottom
	}
	nowX := axis.x(t)
	inside := nowX >= axis.left && nowX <= axis.right
	if inside && nowX < axis.right {
		for _, c := range strips {
			s.fill(part, Box(Rect{nowX, c.box.Top, axis.right, c.box.Bottom}, 0), Ahead)
		}
	}
	marks := s.markRow(strips, axis, at.Top+1.55*r, r)
	for _, c := range strips {
		until := c.box.Right
		if math.Abs(words-nowX) < 1 { // the words stand in the time ahead
			until = nowX
		}
		s.frame(c, until, small, head, keyWide)
		for i := range c.curves {
			s.curve(c, &c.curves[i], axis)
		}
	}
	s.clock(axis, strips[len(strips)-1].box.Bottom, small, at)
	if inside {
		s.line("now", Line(Point{nowX, at.Top + 1.55*r}, Point{nowX, strips[len(strips)-1].box.Bottom}), Now, 3.4*k)
	}
	for _, m := range marks {
		s.out = append(s.out, m...)
	}
	for _, c := range strips {
		s.values(c, words, nowX, at)
	}
	s.bracket(strips, words)
	s.spot("charts", at, s.saysCharts())
}

func shares(cs []*chart) (sum float64) {
	for _, c := range cs {
		sum += c.share
	}
	return sum
}

// frame draws what stands still: heading, axis, values beside it, their lines as
// far as no words stand.
func (s *sheet) frame(c *chart, until float64, small, head face, keyWide float64) {
	k := s.p.scale
	s.line(c.part, Line(Point{c.box.Left, c.box.Bottom}, Point{c.box.Right, c.box.Bottom}), Dark, 1.6*k)
	for _, a := range c.at {
		y := c.y(a)
		if y < c.box.Top-1 || y > c.box.Bottom+1 {
			continue
		}
		if a != c.low {
			s.line(c.part, Line(Point{c.box.Left, y}, Point{until, y}), Hatch, 0.9*k)
		}
	}
	lastY := math.Inf(1)
	for _, a := range c.at {
		y := math.Min(c.y(a)+capShare*small.size/2, c.box.Bottom+0.1*small.size)
		if c.y(a) < c.box.Top-1 || y > lastY-1.15*small.size {
			continue
		}
		lastY = y
		s.text(c.part, small, c.box.Left-8*s.p.scale-boolTo(c.key, keyWide), y, FromRight, places(a, c.decimals))
	}
	if c.key {
		const slices = 32
		r := s.v.Range
		u := s.v.Units
		for i := range slices {
			a, b := r.Low+(r.High-r.Low)*float64(i)/slices, r.Low+(r.High-r.Low)*float64(i+1)/slices
			y1, y0 := c.y(u.shown(a)), c.y(u.shown(b))
			s.fluid("pressure key", Box(Rect{c.box.Left - keyWide - 3*k, y0 - 0.4, c.box.Left - 3*k, y1}, 0), (a+b)/2)
		}
		s.line("pressure key", Box(Rect{c.box.Left - keyWide - 3*k, c.y(u.shown(r.High)), c.box.Left - 3*k, c.box.Bottom}, 0), Dark, 1.2*k)
	}
	y := c.box.Top - 0.5*head.size
	w := s.width(head, c.heading)
	s.fill(c.part, Box(Rect{c.box.Left - 3, y - 0.95*head.size, c.box.Left + w + 4, y + 0.3*head.size}, 0), Panel)
	s.text(c.part, head, c.box.Left, y, FromLeft, c.heading)
}

func boolTo(b bool, x float64) float64 {
	if b {
		return x + 3
	}
	return 0
}

// clock writes the times below the charts.
func (s *sheet) clock(axis timeAxis, bottom float64, small face, at Rect) {
	tr := &s.v.Trace
	unit, size := "s", 1.0
	if tr.To-tr.From < 0.95 {
		unit, size = "ms", 1e-3
	}
	values, n := ticks((tr.From-tr.Zero)/size, (axis.to-tr.Zero)/size, 4)
	y := bottom + 0.55*small.size + capShare*small.size
	last := math.Inf(-1)
	for _, a := range values {
		x := axis.x(tr.Zero + a*size)
		text := places(a, n)
		w := s.width(small, text)
		if x-w/2 < last+0.6*small.size || x+w/2 > at.Right-2 {
			continue
		}
		last = x + w/2
		s.line("time axis", Line(Point{x, bottom}, Point{x, bottom + 0.3*small.size}), Dark, 1.4*s.p.scale)
		s.text("time axis", small, x, y, Centred, text)
	}
	name := "time, " + unit
	if tr.ZeroName != "" {
		name = unit + " after " + tr.ZeroName
	}
	s.text("time axis", small, at.Right-12*s.p.scale, y+1.3*small.size, FromRight, name)
}

// markRow draws the lines of the events and returns the badges above them.
func (s *sheet) markRow(strips []*chart, axis timeAxis, y, r float64) [][]Shape {
	t := s.v.Snapshot.T
	var shown []Mark
	for _, m := range s.v.Marks {
		if m.Done && m.T >= axis.from && m.T <= math.Min(axis.to, t) {
			shown = append(shown, m)
		}
	}
	gap := 2.55 * r
	acts := int(s.v.Facts.Acts.Link)
	end := math.Max(axis.left, math.Min(axis.x(t), axis.right))
	if acts > 0 {
		end -= gap // the badge of now keeps its place
	}
	room := max(int((end-axis.left)/gap+1), 0)
	if len(shown) > room { // only where lifts begin and end
		ends := shown[:0:0]
		for _, m := range shown {
			if m.Link == 1 && !m.Shut || m.Link == 6 && m.Shut {
				ends = append(ends, m)
			}
		}
		shown = ends
	}
	if len(shown) > room {
		shown = shown[len(shown)-room:]
	}
	wanted := make([]float64, 0, len(shown))
	for _, m := range shown {
		wanted = append(wanted, axis.x(m.T))
	}
	var out [][]Shape
	k := s.p.scale
	if acts > 0 {
		out = append(out, Badge("now", Point{math.Max(axis.x(t), axis.left), y}, r, acts, ActsNow, math.Max(1.2*r, s.p.floor)))
	}
	for i, x := range spread(wanted, gap, axis.left, end) {
		for j, c := range strips {
			from := c.box.Top
			pen := []float64{2 * k, 4 * k}
			if j == 0 {
				s.line("event", Line(Point{x, y + r}, Point{wanted[i], from}), Soft, 1.4*k, pen...)
			}
			s.line("event", Line(Point{wanted[i], from}, Point{wanted[i], c.box.Bottom}), Soft, 1.4*k, pen...)
		}
		out = append(out, Badge("event", Point{x, y}, r, shown[i].Link, Done, math.Max(1.2*r, s.p.floor)))
	}
	return out
}

// saysCharts is the charts for the text twin.
func (s *sheet) saysCharts() string {
	st, u := s.st, s.v.Units
	return fmt.Sprintf("%s s: above %s, below %s %s, disc lift %s, pilot lift %s, coil current %s A",
		strconv.FormatFloat(s.v.Snapshot.T, 'f', 3, 64), u.PressureOf(st.Above), u.PressureOf(st.Below), u.PressureName(),
		Millimetres(st.Disc.Lift), Millimetres(st.Pilot.Lift), Current(st.Coil.Current))
}
