package scene_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

// inside tells whether a point lies in an outline, by the even-odd rule; curves
// count as their chords.
func inside(path scene.Path, p scene.Point) bool {
	in := false
	var start, last scene.Point
	edge := func(q scene.Point) {
		if (last.Y > p.Y) != (q.Y > p.Y) && p.X < (q.X-last.X)*(p.Y-last.Y)/(q.Y-last.Y)+last.X {
			in = !in
		}
		last = q
	}
	for _, g := range path {
		switch g.Op {
		case scene.MoveTo:
			start, last = g.P[0], g.P[0]
		case scene.LineTo:
			edge(g.P[0])
		case scene.CurveTo:
			edge(g.P[2])
		case scene.Close:
			edge(start)
		}
	}
	return in
}

// pathBox is the upright box round a path's points.
func pathBox(path scene.Path) scene.Rect {
	r := scene.Rect{Left: math.Inf(1), Top: math.Inf(1), Right: math.Inf(-1), Bottom: math.Inf(-1)}
	for _, g := range path {
		if g.Op == scene.Close {
			continue
		}
		for _, p := range g.P[:map[bool]int{false: 1, true: 3}[g.Op == scene.CurveTo]] {
			r = scene.Rect{Left: min(r.Left, p.X), Top: min(r.Top, p.Y), Right: max(r.Right, p.X), Bottom: max(r.Bottom, p.Y)}
		}
	}
	return r
}

// luminance by WCAG 2.2.
func luminance(r, g, b uint8) float64 {
	lin := func(c uint8) float64 {
		x := float64(c) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
}

func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

func inkLuminance(i scene.Ink) float64 {
	c := i.Color()
	return luminance(c.R, c.G, c.B)
}

// Every text stands out from all that is painted under its ends and its middle.
func TestContrast(t *testing.T) {
	everywhere(t, contrasts)
}

func contrasts(t *testing.T, q shot) {
	v, s := q.v, q.s
	if v.Units.Pressure != scene.PSI || v.Size.X > 1280 { // units and scale do not change colours
		return
	}
	boxes := make([]scene.Rect, len(s.Shapes))
	for i := range s.Shapes {
		boxes[i] = pathBox(s.Shapes[i].Path)
		if c := s.Shapes[i].Clip; c != nil {
			b := &boxes[i]
			*b = scene.Rect{Left: max(b.Left, c.Left), Top: max(b.Top, c.Top), Right: min(b.Right, c.Right), Bottom: min(b.Bottom, c.Bottom)}
		}
	}
	fluid := func(p float64) float64 {
		c := s.Range.Color(p)
		return luminance(c.R, c.G, c.B)
	}
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		if sh.Text == nil {
			continue
		}
		box := boxOf(v, s, sh)
		y := (box.Top + box.Bottom) / 2
		for _, x := range []float64{box.Left + 1, (box.Left + box.Right) / 2, box.Right - 1} {
			var ground *scene.Shape
			for j := range s.Shapes[:i] {
				under := &s.Shapes[j]
				by := s.Shift[under.Moves]
				p := scene.Point{X: x - by.X, Y: y - by.Y}
				if b := boxes[j]; under.Fill != nil && p.X >= b.Left && p.X <= b.Right && p.Y >= b.Top && p.Y <= b.Bottom && inside(under.Path, p) {
					ground = under
				}
			}
			require.NotNil(t, ground, sh.Text.Words)
			var grounds []float64
			switch f := ground.Fill; f.Kind {
			case scene.Pressure:
				grounds = []float64{fluid(f.A)}
			case scene.Blend:
				dx, dy := f.To.X-f.From.X, f.To.Y-f.From.Y
				by := s.Shift[ground.Moves]
				along := ((x-by.X-f.From.X)*dx + (y-by.Y-f.From.Y)*dy) / (dx*dx + dy*dy)
				grounds = []float64{fluid(f.A + (f.B-f.A)*min(max(along, 0), 1))}
			case scene.Hatched:
				grounds = []float64{inkLuminance(f.Ink)}
			default:
				grounds = []float64{inkLuminance(f.Ink)}
			}
			ink := inkLuminance(sh.Text.Ink)
			for _, g := range grounds {
				if p := sh.Text.OnPressure; p != nil {
					ink = 0
					if contrast(1, fluid(*p)) > contrast(0, fluid(*p)) {
						ink = 1
					}
				}
				assert.GreaterOrEqual(t, contrast(ink, g), 4.5, "%q (%s) on %s", sh.Text.Words, sh.Part, ground.Part)
			}
		}
	}
}
