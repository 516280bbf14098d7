package scene

import (
	"math"
	"strings"
)

// curve draws one line, of each column of pixels its lowest and highest point.
func (s *sheet) curve(c *chart, l *curve, axis timeAxis) {
	tr := &s.v.Trace
	var past, ahead []Point
	flush := func() {
		for _, run := range []struct {
			pts []Point
			ink Ink
		}{{past, l.pen.Ink}, {ahead, Soft}} {
			if len(run.pts) > 1 {
				pen := l.pen
				pen.Ink = run.ink
				clip := Rect{c.box.Left, c.box.Top - l.pen.Width, c.box.Right, c.box.Bottom + l.pen.Width}
				s.out = append(s.out, Shape{Part: c.part, Path: Line(thin(run.pts)...), Stroke: &pen, Clip: &clip})
			}
		}
		past, ahead = nil, nil
	}
	for i, t := range tr.T {
		if math.IsNaN(l.y[i]) {
			flush()
			continue
		}
		p := Point{axis.x(t), c.y(l.y[i])}
		if t <= s.v.Snapshot.T {
			past = append(past, p)
			ahead = append(ahead[:0], p)
		} else {
			ahead = append(ahead, p)
		}
	}
	flush()
}

// thin keeps of the points in each column of pixels the first, the lowest, the
// highest and the last, in their order.
func thin(pts []Point) []Point {
	var out []Point
	for i := 0; i < len(pts); {
		column := math.Floor(pts[i].X)
		j, low, high := i, i, i
		for ; j < len(pts) && math.Floor(pts[j].X) == column; j++ {
			if pts[j].Y > pts[low].Y {
				low = j
			}
			if pts[j].Y < pts[high].Y {
				high = j
			}
		}
		last := -1
		for _, k := range []int{i, min(low, high), max(low, high), j - 1} {
			if k > last {
				out = append(out, pts[k])
				last = k
			}
		}
		i = j
	}
	return out
}

// labelFaces are those of the words beside the charts.
func (s *sheet) labelFaces() (quiet, strong face) {
	quiet, strong = s.small(), face{s.p.text(sizeSmall), true, Dark}
	quiet.ink = Dark
	return quiet, strong
}

// lead is the room from a curve to the words beside it.
func (s *sheet) lead() float64 { return 40 * s.p.scale }

func (s *sheet) labelWidth(strips []*chart) float64 {
	quiet, strong := s.labelFaces()
	w := 0.0
	for _, c := range strips {
		for _, l := range c.curves {
			f := quiet
			if l.strong {
				f = strong
			}
			if l.name != "" || l.value != "" {
				w = math.Max(w, s.width(f, strings.TrimSpace(l.name+" "+l.value)))
			}
		}
	}
	// As steady as its widest number.
	return s.lead() + math.Max(w, s.width(quiet, "reseats above "+s.v.Units.PressureOf(s.v.Range.High))) + 6*s.p.scale
}

// values writes beside each curve what it is and what it reads now.
func (s *sheet) values(c *chart, x, nowX float64, at Rect) {
	quiet, strong := s.labelFaces()
	type label struct {
		y    float64
		text string
		f    face
	}
	var ls []label
	for _, l := range c.curves {
		text := strings.TrimSpace(l.name + " " + l.value)
		if text == "" || c.key && l.name == "" {
			continue
		}
		v := now(&s.v.Trace, l.y, s.v.Snapshot.T)
		if math.IsNaN(v) {
			continue
		}
		f := quiet
		if l.strong {
			f = strong
		}
		y := math.Max(c.box.Top, math.Min(c.y(v), c.box.Bottom))
		i := 0
		for i < len(ls) && ls[i].y < y {
			i++
		}
		ls = append(ls[:i], append([]label{{y, text, f}}, ls[i:]...)...)
	}
	wanted := make([]float64, len(ls))
	for i, l := range ls {
		wanted[i] = l.y
	}
	gap := 1.25 * quiet.size
	for i, y := range spread(wanted, gap, c.box.Top+0.3*quiet.size, c.box.Bottom-0.62*quiet.size) {
		from := math.Min(nowX, c.box.Right)
		s.line(c.part, Line(Point{math.Max(from, x) + 20*s.p.scale, ls[i].y}, Point{x + s.lead() - 4*s.p.scale, y}), Soft, 1.2*s.p.scale)
		s.text(c.part, ls[i].f, x+s.lead(), y+capShare*quiet.size/2, FromLeft, ls[i].text)
	}
}

// bracket marks the margin on the pressure chart.
func (s *sheet) bracket(strips []*chart, words float64) {
	m := &s.v.Facts.Margin
	if m.Threshold <= 0 {
		return
	}
	for _, c := range strips {
		if !c.key {
			continue
		}
		u, k := s.v.Units, s.p.scale
		a, b := c.y(u.shown(s.st.Below)), c.y(u.shown(m.Threshold))
		x := words + 11*k
		clamp := func(y float64) float64 { return math.Max(c.box.Top, math.Min(y, c.box.Bottom)) }
		a, b = clamp(a), clamp(b)
		if math.Abs(a-b) < 6*k {
			return
		}
		s.line("margin", Arrow(Point{x, a}, Point{x, b}, math.Min(9*k, 0.6*math.Abs(a-b))), Dark, 2.4*k)
		s.line("margin", Line(Point{x - 5*k, b}, Point{x + 5*k, b}), Dark, 2.4*k)
	}
}
