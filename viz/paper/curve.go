package paper

import "math"

// Curve collects a quantity over a span of time and keeps of it what a chart
// of some columns of pixels can show: in each column the first, the lowest,
// the highest and the last value, in the order in which they came. So a
// narrow spike is never lost, and an hour takes no more room than a second.
type Curve struct {
	from, to float64
	columns  float64
	runs     [][]Point // unbroken pieces; X is the time
	col      int       // of what is held in first..last
	held     bool
	first    Point
	low      Point
	high     Point
	last     Point
	before   Point // the sample before the span, if any
	early    bool
	done     bool
	broken   bool
}

// NewCurve is an empty curve over from..to.
func NewCurve(from, to float64, columns int) *Curve {
	return &Curve{from: from, to: to, columns: float64(columns), broken: true}
}

// Add appends a sample; t must not fall. A value that is not a number breaks
// the curve. Samples outside the span only serve to lead the curve to its
// edges.
func (c *Curve) Add(t, v float64) {
	switch {
	case c.done:
		return
	case math.IsNaN(v):
		c.flush()
		c.broken, c.early = true, false
		return
	case t < c.from:
		c.before, c.early = Point{t, v}, true
		return
	}
	if c.early {
		c.put(c.before)
		c.early = false
	}
	if t > c.to {
		c.flush()
		c.put(Point{t, v})
		c.done = true
		return
	}
	p := Point{t, v}
	col := int((t - c.from) / (c.to - c.from) * c.columns)
	if c.held && col != c.col {
		c.flush()
	}
	if !c.held {
		c.held, c.col = true, col
		c.first, c.low, c.high, c.last = p, p, p, p
		return
	}
	if v < c.low.Y {
		c.low = p
	}
	if v > c.high.Y {
		c.high = p
	}
	c.last = p
}

// flush puts what one column holds on the curve.
func (c *Curve) flush() {
	if !c.held {
		return
	}
	c.held = false
	a, b := c.low, c.high
	if b.X < a.X {
		a, b = b, a
	}
	c.put(c.first)
	for _, p := range []Point{a, b, c.last} {
		run := c.runs[len(c.runs)-1]
		if run[len(run)-1] != p {
			c.put(p)
		}
	}
}

func (c *Curve) put(p Point) {
	if c.broken {
		c.runs = append(c.runs, nil)
		c.broken = false
	}
	k := len(c.runs) - 1
	c.runs[k] = append(c.runs[k], p)
}

// Runs are the unbroken pieces; X is the time, Y the value.
func (c *Curve) Runs() [][]Point {
	c.flush()
	return c.runs
}

// Span is the lowest and the highest value within the curve's span of time,
// false if it has none.
func (c *Curve) Span() (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, run := range c.Runs() {
		for _, p := range run {
			if p.X >= c.from && p.X <= c.to {
				low, high, ok = min(low, p.Y), max(high, p.Y), true
			}
		}
	}
	return low, high, ok
}

// Last is the curve's last value within its span, false if it has none.
func (c *Curve) Last() (float64, bool) {
	runs := c.Runs()
	for k := len(runs) - 1; k >= 0; k-- {
		for i := len(runs[k]) - 1; i >= 0; i-- {
			if p := runs[k][i]; p.X >= c.from && p.X <= c.to {
				return p.Y, true
			}
		}
	}
	return 0, false
}

// First is the curve's first value within its span, false if it has none.
func (c *Curve) First() (float64, bool) {
	for _, run := range c.Runs() {
		for _, p := range run {
			if p.X >= c.from && p.X <= c.to {
				return p.Y, true
			}
		}
	}
	return 0, false
}

// Lasts tells whether the curve reaches the end of its span.
func (c *Curve) Lasts() bool {
	runs := c.Runs()
	if len(runs) == 0 || c.broken {
		return false
	}
	run := runs[len(runs)-1]
	return run[len(run)-1].X >= c.to-(c.to-c.from)/c.columns
}

// clip cuts a line to the rectangle: the pieces of it that lie inside.
func clip(line []Point, r Rect) [][]Point {
	var out [][]Point
	var piece []Point
	end := func() {
		if len(piece) > 1 {
			out = append(out, piece)
		}
		piece = nil
	}
	for i := 1; i < len(line); i++ {
		a, b, ok := clipSegment(line[i-1], line[i], r)
		if !ok {
			end()
			continue
		}
		if len(piece) == 0 || piece[len(piece)-1] != a {
			end()
			piece = []Point{a}
		}
		piece = append(piece, b)
	}
	end()
	return out
}

// clipSegment is the part of a-b within the rectangle (Liang and Barsky,
// ACM Transactions on Graphics 3, 1984, 1-22).
func clipSegment(a, b Point, r Rect) (Point, Point, bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	t0, t1 := 0.0, 1.0
	for _, side := range [4][2]float64{
		{-dx, a.X - r.Left}, {dx, r.Right - a.X},
		{-dy, a.Y - r.Top}, {dy, r.Bottom - a.Y},
	} {
		p, q := side[0], side[1]
		switch {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			t0 = max(t0, q/p)
		default:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = Point{a.X + t0*dx, a.Y + t0*dy}
	}
	if t1 < 1 {
		to = Point{a.X + t1*dx, a.Y + t1*dy}
	}
	return from, to, true
}
