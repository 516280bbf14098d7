package outline

import (
	"math"

	"underdisc/viz/scene"
)

// Lines are lines of straight pieces, one after the other in one slice.
type Lines struct {
	pts  []scene.Point
	ends []int // of each line, in pts
}

// Reset leaves no line.
func (l *Lines) Reset() { l.pts, l.ends = l.pts[:0], l.ends[:0] }

// Len is the number of lines.
func (l *Lines) Len() int { return len(l.ends) }

// At is one of the lines, valid until the next change of l.
func (l *Lines) At(i int) []scene.Point { return l.pts[l.start(i):l.ends[i]] }

func (l *Lines) start(i int) int {
	if i == 0 {
		return 0
	}
	return l.ends[i-1]
}

// open is where the line begins that has not ended.
func (l *Lines) open() int { return l.start(len(l.ends)) }

// end ends a line; one of fewer than two points is dropped.
func (l *Lines) end() {
	if len(l.pts)-l.open() < 2 {
		l.pts = l.pts[:l.open()]
		return
	}
	l.ends = append(l.ends, len(l.pts))
}

// Flatten appends the lines of a path, moved by a way and then made scale times
// as large, its curves replaced by chords that miss them by no more than the
// tolerance, in the unit of the result. A closed line ends with the point that
// it began with if again is set.
func (l *Lines) Flatten(path scene.Path, by scene.Point, scale, tolerance float64, again bool) {
	move := func(p scene.Point) scene.Point {
		return scene.Point{X: (p.X + by.X) * scale, Y: (p.Y + by.Y) * scale}
	}
	for i := range path {
		g := &path[i]
		switch g.Op {
		case scene.MoveTo:
			l.end()
			l.pts = append(l.pts, move(g.P[0]))
		case scene.LineTo:
			l.pts = append(l.pts, move(g.P[0]))
		case scene.CurveTo:
			l.curve(move(g.P[0]), move(g.P[1]), move(g.P[2]), tolerance)
		case scene.Close:
			if from := l.open(); len(l.pts) > from {
				first := l.pts[from]
				if again {
					l.pts = append(l.pts, first)
				}
				l.end()
				l.pts = append(l.pts, first)
			}
		}
	}
	l.end()
}

// curve appends a Bezier curve as chords. n of them miss it by no more than 6/8
// of its largest second difference over n2 (Wang's formula for degree three).
func (l *Lines) curve(b, c, d scene.Point, tolerance float64) {
	a := l.pts[len(l.pts)-1]
	bend := math.Max(math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y), math.Hypot(b.X-2*c.X+d.X, b.Y-2*c.Y+d.Y))
	n := int(math.Ceil(math.Sqrt(0.75 * bend / tolerance)))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		w := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
		l.pts = append(l.pts, scene.Point{X: w[0]*a.X + w[1]*b.X + w[2]*c.X + w[3]*d.X, Y: w[0]*a.Y + w[1]*b.Y + w[2]*c.Y + w[3]*d.Y})
	}
	l.pts = append(l.pts, d)
}

// Straighten appends a line without the points that lie within the tolerance of
// the chord past them: a chord is drawn out as long as it can pass every point
// so near.
func (l *Lines) Straighten(line []scene.Point, tolerance float64) {
	if len(line) < 2 {
		return
	}
	l.pts = append(l.pts, line[0])
	for from := 0; from < len(line)-1; {
		a := line[from]
		var low, high scene.Point // the directions between which a chord passes all points near enough
		to, bound, far := from+1, false, 0.0
		for k := from + 1; k < len(line); k++ {
			v := scene.Point{X: line[k].X - a.X, Y: line[k].Y - a.Y}
			d := math.Hypot(v.X, v.Y)
			if d < far { // going back
				break
			}
			far = d
			if d <= tolerance {
				to = k
				continue
			}
			sin := tolerance / d
			cos := math.Sqrt(1 - sin*sin)
			below := scene.Point{X: v.X*cos + v.Y*sin, Y: v.Y*cos - v.X*sin}
			above := scene.Point{X: v.X*cos - v.Y*sin, Y: v.Y*cos + v.X*sin}
			if !bound {
				low, high, bound = below, above, true
			}
			if cross(low, v) < 0 || cross(v, high) < 0 {
				break
			}
			to = k
			if cross(low, below) > 0 {
				low = below
			}
			if cross(above, high) > 0 {
				high = above
			}
		}
		l.pts = append(l.pts, line[to])
		from = to
	}
	l.end()
}

func cross(a, b scene.Point) float64 { return a.X*b.Y - a.Y*b.X }
