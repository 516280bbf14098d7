package outline

import (
	"math"

	"underdisc/viz/scene"
)

// Cut appends the part of an area where a x + b y is at least c (Sutherland and
// Hodgman, Communications of the ACM 17, 1974, 32-42).
func Cut(to, area []scene.Point, a, b, c float64) []scene.Point {
	for i, q := range area {
		p := area[(i+len(area)-1)%len(area)]
		dp, dq := a*p.X+b*p.Y-c, a*q.X+b*q.Y-c
		if dp >= 0 != (dq >= 0) {
			t := dp / (dp - dq)
			to = append(to, scene.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)})
		}
		if dq >= 0 {
			to = append(to, q)
		}
	}
	return to
}

// Clip appends the parts of areas in a rectangle.
func (l *Lines) Clip(areas *Lines, r scene.Rect) {
	for i := range areas.Len() {
		from := len(l.pts)
		l.pts = append(l.pts, areas.At(i)...)
		for _, s := range [4][3]float64{{1, 0, r.Left}, {-1, 0, -r.Right}, {0, 1, r.Top}, {0, -1, -r.Bottom}} {
			n := len(l.pts)
			l.pts = Cut(l.pts, l.pts[from:n:n], s[0], s[1], s[2])
			l.pts = append(l.pts[:from], l.pts[n:]...)
		}
		l.end()
	}
}

// Runs appends the parts of a line in a rectangle, the whole of it without one,
// and to along how far along the line each begins.
func (l *Lines) Runs(line []scene.Point, r *scene.Rect, along []float64) []float64 {
	if r == nil {
		l.pts = append(l.pts, line...)
		l.end()
		return append(along, 0)
	}
	gone := 0.0
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		if a, b, ok := within(p, q, *r); ok {
			if n := len(l.pts); n > l.open() && a == p && l.pts[n-1] == a {
				l.pts = append(l.pts, b)
			} else {
				l.end()
				l.pts = append(l.pts, a, b)
				along = append(along, gone+math.Hypot(a.X-p.X, a.Y-p.Y))
			}
		}
		gone += math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	l.end()
	return along
}

// within is the part of a straight piece in a rectangle (Liang and Barsky, ACM
// Transactions on Graphics 3, 1984, 1-22).
func within(p, q scene.Point, r scene.Rect) (a, b scene.Point, ok bool) {
	from, to := 0.0, 1.0
	dx, dy := q.X-p.X, q.Y-p.Y
	for _, s := range [4][2]float64{{-dx, p.X - r.Left}, {dx, r.Right - p.X}, {-dy, p.Y - r.Top}, {dy, r.Bottom - p.Y}} {
		switch t := s[1] / s[0]; {
		case s[0] == 0:
			if s[1] < 0 {
				return a, b, false
			}
		case s[0] < 0:
			from = math.Max(from, t)
		default:
			to = math.Min(to, t)
		}
	}
	if from > to {
		return a, b, false
	}
	a, b = p, q
	if from > 0 {
		a = scene.Point{X: p.X + from*dx, Y: p.Y + from*dy}
	}
	if to < 1 {
		b = scene.Point{X: p.X + to*dx, Y: p.Y + to*dy}
	}
	return a, b, true
}

// Dash appends the strokes of a dashed line: lengths of stroke and gap in turn,
// begun so far along them. Lengths that are negative or all zero dash nothing:
// the line stays whole.
func (l *Lines) Dash(line []scene.Point, dash []float64, phase float64) {
	total := 0.0
	for _, d := range dash {
		if d < 0 {
			total = 0
			break
		}
		total += d
	}
	if !(total > 0) || len(line) < 2 {
		l.pts = append(l.pts, line...)
		l.end()
		return
	}
	if len(dash)%2 == 1 { // an odd pattern repeats with stroke and gap swapped
		total *= 2
	}
	phase -= total * math.Floor(phase/total)
	i := 0
	on := func() bool { return i%2 == 0 }
	left := dash[0]
	for ; phase >= left; left = dash[i%len(dash)] {
		phase -= left
		i++
	}
	left -= phase
	if on() {
		l.pts = append(l.pts, line[0])
	}
	for k := 1; k < len(line); k++ {
		p, q := line[k-1], line[k]
		long := math.Hypot(q.X-p.X, q.Y-p.Y)
		gone := 0.0
		for long-gone > left {
			gone += left
			at := scene.Point{X: p.X + (q.X-p.X)*gone/long, Y: p.Y + (q.Y-p.Y)*gone/long}
			l.pts = append(l.pts, at)
			if on() {
				l.end()
			}
			i++
			left = dash[i%len(dash)]
		}
		left -= long - gone
		if on() {
			l.pts = append(l.pts, q)
		}
	}
	l.end()
}
