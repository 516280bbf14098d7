package scene

import "math"

// curve draws one line: what is past in its own ink, what is ahead in a softer
// one.
func (s *sheet) curve(c *chart, l *curve, axis timeAxis) {
	if l.level != nil {
		y := c.of(*l.level)
		s.line(c.part, s.open(Point{c.box.Left, y}, Point{math.Min(axis.x(s.v.Snapshot.T), c.box.Right), y}), l.pen.Ink, l.pen.Width, l.pen.Dash...)
		return
	}
	pts := s.points[:0]
	t, done := s.v.Snapshot.T, false // done: the past is drawn
	flush := func(ink Ink) {
		if len(pts) > 1 {
			pen := l.pen
			pen.Ink = ink
			clip := Rect{c.box.Left, c.box.Top - pen.Width, c.box.Right, c.box.Bottom + pen.Width}
			s.out = append(s.out, Shape{Part: c.part, Path: s.open(straight(thin(pts))...), Stroke: s.pens.put(pen), Clip: s.rects.put(clip)})
		}
	}
	for i, at := range l.tr.T {
		if at > t && !done {
			flush(l.pen.Ink)
			if len(pts) > 0 { // go on from the last point
				pts[0] = pts[len(pts)-1]
				pts = pts[:1]
			}
			done = true
		}
		if math.IsNaN(l.y[i]) || at < l.from {
			flush(inkAt(l, done))
			pts = pts[:0]
			continue
		}
		pts = append(pts, Point{axis.x(at), c.of(l.y[i])})
	}
	flush(inkAt(l, done))
	s.points = pts
}

func inkAt(l *curve, ahead bool) Ink {
	if ahead {
		return Soft
	}
	return l.pen.Ink
}

// thin keeps of the points in each column of pixels the first, the lowest, the
// highest and the last, in their order. It writes over the points.
func thin(pts []Point) []Point {
	out := pts[:0]
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
		for _, k := range [...]int{i, min(low, high), max(low, high), j - 1} {
			if k > last {
				out = append(out, pts[k])
				last = k
			}
		}
		i = j
	}
	return out
}

// straight leaves out points that lie within a tenth of a unit of a straight
// line through those kept on either side. It writes over the points.
//
// From the last point kept it holds open the widest range of slopes that passes
// all points since; the first point outside it begins a new line at the point
// before.
func straight(pts []Point) []Point {
	const off = 0.1
	if len(pts) < 3 {
		return pts
	}
	out := append(pts[:0], pts[0])
	from, last := pts[0], pts[0]
	low, high := math.Inf(-1), math.Inf(1)
	for _, p := range pts[1:] {
		dx := p.X - from.X
		slope := (p.Y - from.Y) / dx
		if dx >= 1e-6 && slope >= low && slope <= high {
			low, high = math.Max(low, (p.Y-from.Y-off)/dx), math.Min(high, (p.Y-from.Y+off)/dx)
			last = p
			continue
		}
		if last != from {
			out = append(out, last)
			from = last
			dx = p.X - from.X
		}
		last = p
		low, high = (p.Y-from.Y-off)/dx, (p.Y-from.Y+off)/dx
		if dx < 1e-6 { // straight up or down
			out = append(out, p)
			from = p
			low, high = math.Inf(-1), math.Inf(1)
		}
	}
	if last != from {
		out = append(out, last)
	}
	return out
}
