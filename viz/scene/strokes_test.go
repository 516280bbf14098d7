package scene_test

import (
	"math"
	"strings"
	"testing"

	"underdisc/viz/scene"
)

// crossings finds lines over texts: none lies in the letters, unless something was
// painted over the line before the text was written.
func crossings(t *testing.T, q shot) {
	// A picture of 2560 is as that of 1600; the widest and the narrowest numbers do
	// for all units.
	if u := q.v.Units; q.v.Size.X > 1600 || u.Pressure == scene.KPa || u.Pressure == scene.Bar && u.Gauge {
		return
	}
	for i := range q.s.Shapes {
		text := &q.s.Shapes[i]
		if text.Text == nil {
			continue
		}
		box := boxOf(q.v, q.s, text)
		edge := 0.06 * text.Text.Size // what letters leave free
		box = scene.Rect{Left: box.Left + edge, Top: box.Top + edge, Right: box.Right - edge, Bottom: box.Bottom - 0.2*text.Text.Size}
		for j := range q.s.Shapes {
			line := &q.s.Shapes[j]
			if line.Stroke == nil || !pathBox(line.Path).Meets(grown(shiftBack(box, q.s.Shift[line.Moves]), line.Stroke.Width/2)) {
				continue
			}
			if at, ok := crosses(q.s, j, i, box); ok {
				t.Errorf("a line (%s) crosses %q (%s) at %.0f", line.Part, text.Text.Words, text.Part, at)
			}
		}
	}
}

// flowsAreNamed: what passes a way is said with the way's name in every window.
func flowsAreNamed(t *testing.T, q shot) {
	for _, sh := range texts(q.s) {
		w := sh.Text.Words
		if sh.Part == "bleed" && strings.HasSuffix(w, "/h") && !strings.HasPrefix(w, "bleed ") && !strings.HasPrefix(w, "gap ") && !strings.Contains(w, "rain ") {
			t.Errorf("%q of what?", w)
		}
	}
}

func shiftBack(r scene.Rect, by scene.Point) scene.Rect {
	return scene.Rect{Left: r.Left - by.X, Top: r.Top - by.Y, Right: r.Right - by.X, Bottom: r.Bottom - by.Y}
}

func grown(r scene.Rect, by float64) scene.Rect {
	return scene.Rect{Left: r.Left - by, Top: r.Top - by, Right: r.Right + by, Bottom: r.Bottom + by}
}

// crosses looks along the line of shape j for a place in the box of the text of
// shape i that is not painted over between the two.
func crosses(s *scene.Scene, j, i int, box scene.Rect) (scene.Point, bool) {
	line := &s.Shapes[j]
	by, half := s.Shift[line.Moves], line.Stroke.Width/2
	area := grown(box, half)
	for _, pts := range flattened(line.Path) {
		for k := 1; k < len(pts); k++ {
			a, b := pts[k-1], pts[k]
			n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)) + 1
			for m := 0.0; m <= n; m++ {
				at := scene.Point{X: a.X + (b.X-a.X)*m/n, Y: a.Y + (b.Y-a.Y)*m/n}
				if c := line.Clip; c != nil && (at.X < c.Left || at.X > c.Right || at.Y < c.Top || at.Y > c.Bottom) {
					continue
				}
				at = scene.Point{X: at.X + by.X, Y: at.Y + by.Y}
				if at.X <= area.Left || at.X >= area.Right || at.Y <= area.Top || at.Y >= area.Bottom {
					continue
				}
				in := scene.Point{X: min(max(at.X, box.Left), box.Right), Y: min(max(at.Y, box.Top), box.Bottom)}
				if j > i || !painted(s, j+1, i, in) {
					return in, true
				}
			}
		}
	}
	return scene.Point{}, false
}

// painted tells whether one of the shapes from..to fills a place.
func painted(s *scene.Scene, from, to int, at scene.Point) bool {
	for k := from; k < to; k++ {
		sh := &s.Shapes[k]
		if sh.Fill == nil || sh.Clip != nil {
			continue
		}
		p := scene.Point{X: at.X - s.Shift[sh.Moves].X, Y: at.Y - s.Shift[sh.Moves].Y}
		if r := pathBox(sh.Path); p.X < r.Left || p.X > r.Right || p.Y < r.Top || p.Y > r.Bottom {
			continue
		}
		turns := 0
		for _, pts := range flattened(sh.Path) {
			for m, q := range pts {
				o := pts[(m+len(pts)-1)%len(pts)]
				if (o.Y <= p.Y) != (q.Y <= p.Y) && o.X+(p.Y-o.Y)/(q.Y-o.Y)*(q.X-o.X) > p.X {
					turns += map[bool]int{true: 1, false: -1}[q.Y > o.Y]
				}
			}
		}
		if turns != 0 {
			return true
		}
	}
	return false
}

// flattened is a path as lines.
func flattened(path scene.Path) (out [][]scene.Point) {
	var pts []scene.Point
	flush := func() {
		if len(pts) > 1 {
			out = append(out, pts)
		}
		pts = nil
	}
	for _, g := range path {
		switch g.Op {
		case scene.MoveTo:
			flush()
			pts = append(pts, g.P[0])
		case scene.LineTo:
			pts = append(pts, g.P[0])
		case scene.CurveTo:
			a := pts[len(pts)-1]
			const n = 8
			for k := 1.0; k <= n; k++ {
				f := k / n
				w := [4]float64{(1 - f) * (1 - f) * (1 - f), 3 * f * (1 - f) * (1 - f), 3 * f * f * (1 - f), f * f * f}
				pts = append(pts, scene.Point{X: w[0]*a.X + w[1]*g.P[0].X + w[2]*g.P[1].X + w[3]*g.P[2].X,
					Y: w[0]*a.Y + w[1]*g.P[0].Y + w[2]*g.P[1].Y + w[3]*g.P[2].Y})
			}
		case scene.Close:
			if len(pts) > 0 {
				pts = append(pts, pts[0])
			}
			flush()
		}
	}
	flush()
	return out
}
