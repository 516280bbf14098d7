package outline_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"underdisc/viz/outline"
	"underdisc/viz/scene"
)

type point = scene.Point

func all(l *outline.Lines) (out [][]point) {
	for i := range l.Len() {
		out = append(out, append([]point(nil), l.At(i)...))
	}
	return out
}

// Chords miss a circle by no more than the tolerance, and what the Bezier curve
// itself misses it by.
func TestFlattenKeepsItsTolerance(t *testing.T) {
	for _, radius := range []float64{0.5, 5, 40, 300} {
		for _, tolerance := range []float64{0.05, 0.1, 1} {
			var l outline.Lines
			l.Flatten(scene.Circle(point{X: 7, Y: -3}, radius), point{X: 1, Y: 2}, 2, tolerance, true)
			if !assert.Equal(t, 1, l.Len()) {
				return
			}
			pts := l.At(0)
			assert.Equal(t, pts[0], pts[len(pts)-1])
			for i := 1; i < len(pts); i++ {
				mid := point{X: (pts[i].X + pts[i-1].X) / 2, Y: (pts[i].Y + pts[i-1].Y) / 2}
				assert.InDelta(t, 2*radius, math.Hypot(mid.X-16, mid.Y+2), tolerance+6e-4*radius)
			}
			assert.Less(t, len(pts), int(12+8*math.Sqrt(2*radius/tolerance)), "no more than it takes")
		}
	}
}

func TestFlattenSeveralLines(t *testing.T) {
	path := append(scene.Line(point{X: 0, Y: 0}, point{X: 1, Y: 0}), scene.Polygon(point{X: 5, Y: 5}, point{X: 6, Y: 5}, point{X: 6, Y: 6})...)
	path = append(path, scene.Seg{Op: scene.LineTo, P: [3]point{{X: 9, Y: 9}}}) // goes on from where the polygon began
	var l outline.Lines
	l.Flatten(path, point{}, 1, 0.1, false)
	assert.Equal(t, [][]point{{{X: 0}, {X: 1}}, {{X: 5, Y: 5}, {X: 6, Y: 5}, {X: 6, Y: 6}}, {{X: 5, Y: 5}, {X: 9, Y: 9}}}, all(&l))
	l.Reset()
	l.Flatten(append(scene.Line(point{X: 3, Y: 3}), path...), point{}, 1, 0.1, true)
	assert.Equal(t, 3, l.Len(), "a single point is no line")
	assert.Len(t, l.At(1), 4)
}

// Straightening keeps the ends, adds no point, and passes every point it leaves
// out within the tolerance.
func TestStraighten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const tolerance = 0.1
		step := rapid.Float64Range(-0.3, 0.3)
		var line []point
		x, y := 0.0, 0.0
		for range rapid.IntRange(2, 60).Draw(t, "points") {
			line = append(line, point{X: x, Y: y})
			x, y = x+step.Draw(t, "x")+0.1, y+step.Draw(t, "y")
		}
		var l outline.Lines
		l.Straighten(line, tolerance)
		if l.Len() != 1 {
			t.Fatalf("%d lines", l.Len())
		}
		got := l.At(0)
		if got[0] != line[0] || got[len(got)-1] != line[len(line)-1] || len(got) > len(line) {
			t.Fatalf("%v became %v", line, got)
		}
		k := 0
		for _, p := range line {
			if k+1 < len(got) && p == got[k+1] {
				k++
				continue
			}
			if k+1 < len(got) && off(p, got[k], got[k+1]) > tolerance+1e-9 && p != got[k] {
				t.Fatalf("%v lies %g off", p, off(p, got[k], got[k+1]))
			}
		}
	})
	var straight []point
	for i := range 500 {
		straight = append(straight, point{X: float64(i), Y: 0.05 * float64(i%2)})
	}
	var l outline.Lines
	l.Straighten(straight, 0.1)
	assert.Len(t, l.At(0), 2)
}

// off is how far a point lies from a piece of a line.
func off(p, a, b point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := dx*dx + dy*dy
	s := 0.0
	if l > 0 {
		s = math.Min(math.Max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l, 0), 1)
	}
	return math.Hypot(p.X-a.X-s*dx, p.Y-a.Y-s*dy)
}

func TestClipAreas(t *testing.T) {
	var whole, in outline.Lines
	whole.Flatten(scene.Box(scene.Rect{Left: -5, Top: -5, Right: 5, Bottom: 5}, 0), point{}, 1, 0.1, false)
	whole.Flatten(scene.Box(scene.Rect{Left: 50, Top: 50, Right: 60, Bottom: 60}, 0), point{}, 1, 0.1, false)
	in.Clip(&whole, scene.Rect{Left: 0, Top: -2, Right: 20, Bottom: 20})
	if assert.Equal(t, 1, in.Len(), "what lies outside is gone") {
		assert.ElementsMatch(t, []point{{X: 0, Y: -2}, {X: 5, Y: -2}, {X: 5, Y: 5}, {X: 0, Y: 5}}, in.At(0))
	}
}

func TestRuns(t *testing.T) {
	var l outline.Lines
	line := []point{{X: -5, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 15}, {X: 8, Y: 15}, {X: 8, Y: 2}}
	along := l.Runs(line, &scene.Rect{Right: 10, Bottom: 10}, nil)
	assert.Equal(t, [][]point{{{X: 0, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 10}}, {{X: 8, Y: 10}, {X: 8, Y: 2}}}, all(&l))
	assert.Equal(t, []float64{5, 28}, along)
	l.Reset()
	assert.Equal(t, []float64{0}, l.Runs(line, nil, nil))
	assert.Equal(t, [][]point{line}, all(&l))
}

func TestDash(t *testing.T) {
	line := []point{{X: 0}, {X: 10}, {X: 10, Y: 10}}
	for _, c := range []struct {
		name  string
		dash  []float64
		phase float64
		want  [][]point
	}{
		{"round the corner", []float64{6, 2}, 0, [][]point{{{X: 0}, {X: 6}}, {{X: 8}, {X: 10}, {X: 10, Y: 4}}, {{X: 10, Y: 6}, {X: 10, Y: 10}}}},
		{"begun in a stroke", []float64{6, 8}, 4, [][]point{{{X: 0}, {X: 2}}, {{X: 10}, {X: 10, Y: 6}}}},
		{"begun in a gap", []float64{6, 8}, -2, [][]point{{{X: 2}, {X: 8}}, {{X: 10, Y: 6}, {X: 10, Y: 10}}}},
		{"one length for both", []float64{8}, 0, [][]point{{{X: 0}, {X: 8}}, {{X: 10, Y: 6}, {X: 10, Y: 10}}}},
		{"nothing to repeat", []float64{0, 0}, 0, [][]point{line}},
		{"unbroken", nil, 3, [][]point{line}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var l outline.Lines
			l.Dash(line, c.dash, c.phase)
			assert.Equal(t, c.want, all(&l))
		})
	}
}

// Hatching lies in the area, on the raster, and leaves holes free.
func TestHatching(t *testing.T) {
	path := scene.Box(scene.Rect{Right: 100, Bottom: 100}, 0)
	path = append(path, scene.Polygon(point{X: 30, Y: 30}, point{X: 30, Y: 70}, point{X: 70, Y: 70}, point{X: 70, Y: 30})...)
	var l outline.Lines
	l.Flatten(path, point{}, 1, 0.1, false)
	var crossings []outline.Crossing
	pieces := outline.Hatching(nil, &l, 10, &crossings)
	long := 0.0
	for _, s := range pieces {
		n := (s[0].X + s[0].Y) / 10
		assert.InDelta(t, math.Round(n), n, 1e-9)
		assert.InDelta(t, s[0].X+s[0].Y, s[1].X+s[1].Y, 1e-9)
		mid := point{X: (s[0].X + s[1].X) / 2, Y: (s[0].Y + s[1].Y) / 2}
		assert.False(t, mid.X > 30 && mid.X < 70 && mid.Y > 30 && mid.Y < 70, "%v", s)
		long += math.Hypot(s[1].X-s[0].X, s[1].Y-s[0].Y)
	}
	// Lines of all lengths, one for every 10/sqrt(2) across: the area over that.
	assert.InDelta(t, (100*100-40*40)*math.Sqrt2/10, long, 30)
}
