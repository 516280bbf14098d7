package paper

import (
	"math"
	"sort"

	"underdisc/viz/scene"
)

// polyline is a line of straight pieces.
type polyline []scene.Point

// flatten turns the outlines of a path into straight pieces, each closed, moved
// by a way.
func flatten(path scene.Path, by scene.Point) []polyline { return straight(path, by, false) }

// flattenOpen does so with lines; a closed one ends where it began.
func flattenOpen(path scene.Path, by scene.Point) []polyline { return straight(path, by, true) }

func straight(path scene.Path, by scene.Point, lines bool) []polyline {
	var out []polyline
	var l polyline
	end := func() {
		if len(l) > 1 {
			out = append(out, l)
		}
		l = nil
	}
	move := func(p scene.Point) scene.Point { return scene.Point{X: p.X + by.X, Y: p.Y + by.Y} }
	for _, g := range path {
		switch g.Op {
		case scene.MoveTo:
			end()
			l = polyline{move(g.P[0])}
		case scene.LineTo:
			l = append(l, move(g.P[0]))
		case scene.CurveTo:
			l = curve(l, move(g.P[0]), move(g.P[1]), move(g.P[2]))
		case scene.Close:
			if len(l) > 0 {
				first := l[0]
				if lines {
					l = append(l, first)
				}
				end()
				l = polyline{first}
			}
		}
	}
	end()
	return out
}

// curve adds a Bezier curve in pieces of about two units, at least six and no
// more than forty.
func curve(l polyline, b, c, d scene.Point) polyline {
	a := l[len(l)-1]
	long := math.Hypot(b.X-a.X, b.Y-a.Y) + math.Hypot(c.X-b.X, c.Y-b.Y) + math.Hypot(d.X-c.X, d.Y-c.Y)
	n := int(math.Min(math.Max(long/2, 6), 40))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		w := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
		l = append(l, scene.Point{X: w[0]*a.X + w[1]*b.X + w[2]*c.X + w[3]*d.X, Y: w[0]*a.Y + w[1]*b.Y + w[2]*c.Y + w[3]*d.Y})
	}
	return append(l, d)
}

// cut keeps the part of an area where a linear function is not negative
// (Sutherland and Hodgman, Communications of the ACM 17, 1974, 32-42).
func cut(area polyline, side func(scene.Point) float64) polyline {
	var out polyline
	for i, b := range area {
		a := area[(i+len(area)-1)%len(area)]
		da, db := side(a), side(b)
		if da >= 0 != (db >= 0) {
			t := da / (da - db)
			out = append(out, scene.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}

// clipArea is the part of an area in a rectangle.
func clipArea(area polyline, r scene.Rect) polyline {
	for _, side := range []func(scene.Point) float64{
		func(p scene.Point) float64 { return p.X - r.Left },
		func(p scene.Point) float64 { return r.Right - p.X },
		func(p scene.Point) float64 { return p.Y - r.Top },
		func(p scene.Point) float64 { return r.Bottom - p.Y },
	} {
		area = cut(area, side)
	}
	return area
}

// run is a part of a line that begins so far along it.
type run struct {
	pts   polyline
	along float64
}

// runs are the parts of a line in a rectangle; the whole of it without one.
func runs(l polyline, r *scene.Rect) []run {
	if r == nil {
		return []run{{pts: l}}
	}
	box := Rect(*r)
	var out []run
	along := 0.0
	for i := 1; i < len(l); i++ {
		p, q := Point(l[i-1]), Point(l[i])
		if a, b, ok := clipSegment(p, q, box); ok {
			from := along + math.Hypot(a.X-p.X, a.Y-p.Y)
			if n := len(out); n > 0 && a == p && out[n-1].pts[len(out[n-1].pts)-1] == scene.Point(a) {
				out[n-1].pts = append(out[n-1].pts, scene.Point(b))
			} else {
				out = append(out, run{polyline{scene.Point(a), scene.Point(b)}, from})
			}
		}
		along += math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	return out
}

// hatching are the pieces of the lines x + y = n pitch that lie in an area,
// inside by the nonzero rule.
func hatching(area []polyline, pitch float64) [][2]scene.Point {
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range area {
		for _, p := range l {
			low, high = math.Min(low, p.X+p.Y), math.Max(high, p.X+p.Y)
		}
	}
	type crossing struct {
		d   float64 // x - y
		dir int
	}
	var out [][2]scene.Point
	for n := math.Ceil(low / pitch); n*pitch <= high; n++ {
		s := n * pitch
		var hits []crossing
		for _, l := range area {
			for i, b := range l {
				a := l[(i+len(l)-1)%len(l)]
				sa, sb := a.X+a.Y, b.X+b.Y
				if sa <= s == (sb <= s) {
					continue
				}
				t := (s - sa) / (sb - sa)
				dir := 1
				if sb < sa {
					dir = -1
				}
				hits = append(hits, crossing{(a.X - a.Y) + t*((b.X-b.Y)-(a.X-a.Y)), dir})
			}
		}
		sort.Slice(hits, func(i, j int) bool { return hits[i].d < hits[j].d })
		at := func(d float64) scene.Point { return scene.Point{X: (s + d) / 2, Y: (s - d) / 2} }
		wind := 0
		for i, h := range hits {
			if wind != 0 && h.d > hits[i-1].d {
				out = append(out, [2]scene.Point{at(hits[i-1].d), at(h.d)})
			}
			wind += h.dir
		}
	}
	return out
}
