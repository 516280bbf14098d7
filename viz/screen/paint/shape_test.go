package paint_test

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/viz/golden"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
	"underdisc/viz/screen/paint"
)

// of is a small scene of some shapes.
func of(shapes ...scene.Shape) *scene.Scene {
	return &scene.Scene{Size: scene.Point{X: 200, Y: 200}, Range: scene.Range{Low: 0, High: 100}, Shapes: shapes}
}

// ink is how much black there is in a part of a picture, in pixels.
func ink(m *image.RGBA, r image.Rectangle) (sum float64) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			sum += 1 - float64(m.RGBAAt(x, y).R)/255
		}
	}
	return sum
}

// A line is as wide as it should be to a tenth of a pixel, wherever it lies
// between pixels and however it is turned.
func TestWidthOfLines(t *testing.T) {
	harness.Need(t)
	for _, width := range []float64{0.4, 0.8, 1, 1.3, 1.8, 2.4, 3.5, 7} {
		for _, slope := range []float64{0, 0.02, 0.3, 1} {
			for _, off := range []float64{0, 0.25, 0.5, 0.8} {
				y := 40 + off
				s := of(scene.Shape{Stroke: &scene.Pen{Ink: scene.Black, Width: width}, Path: scene.Line(scene.Point{X: 10, Y: y}, scene.Point{X: 150, Y: y + 140*slope})})
				const from, to = 40, 120
				got := ink(onScreen(paint.New(), s, 1), image.Rect(from, 0, to, 200)) / (to - from) / math.Hypot(1, slope)
				assert.InDelta(t, width, got, 0.1, "width %g, slope %g, at %g", width, slope, y)
			}
		}
	}
}

// Areas and lines of every kind are those of paper, which makes them by other
// means, up to the softness of their edges.
func TestShapesAreThoseOfPaper(t *testing.T) {
	harness.Need(t)
	p := func(x, y float64) scene.Point { return scene.Point{X: x, Y: y} }
	black := &scene.Paint{Ink: scene.Black}
	frame := func(r scene.Rect, hole scene.Path) scene.Path { return append(scene.Box(r, 0), hole...) }
	var star []scene.Point
	for k := range 5 {
		a := 4 * math.Pi / 5 * float64(k)
		star = append(star, p(100+80*math.Sin(a), 100-80*math.Cos(a)))
	}
	var wave, chatter []scene.Point
	for k := range 400 {
		x := 10 + 0.45*float64(k)
		wave = append(wave, p(x, 100+60*math.Sin(x/14)))
	}
	for k := range 90 {
		chatter = append(chatter, p(10+2*float64(k), 60+80*float64(k%2)))
	}
	pen := func(w float64, dash ...float64) *scene.Pen {
		return &scene.Pen{Ink: scene.Black, Width: w, Dash: dash}
	}
	for _, c := range []struct {
		name  string
		shape scene.Shape
		bound float64
	}{
		{"box on pixels", scene.Shape{Fill: black, Path: scene.Box(scene.Rect{Left: 20, Top: 30, Right: 90, Bottom: 120}, 0)}, 0.001},
		{"box between pixels", scene.Shape{Fill: black, Path: scene.Box(scene.Rect{Left: 20.3, Top: 30.6, Right: 90.45, Bottom: 120.2}, 0)}, 0.005},
		{"thin box", scene.Shape{Fill: black, Path: scene.Box(scene.Rect{Left: 20.3, Top: 30.6, Right: 20.7, Bottom: 120.2}, 0)}, 0.005},
		{"rounded box", scene.Shape{Fill: black, Path: scene.Box(scene.Rect{Left: 20.3, Top: 30.6, Right: 90.45, Bottom: 120.2}, 5)}, 0.02},
		{"box, hardly rounded", scene.Shape{Fill: black, Path: scene.Box(scene.Rect{Left: 20.3, Top: 30.6, Right: 90.45, Bottom: 120.2}, 0.3)}, 0.02},
		{"circle", scene.Shape{Fill: black, Path: scene.Circle(p(100.2, 99.7), 40)}, 0.03},
		{"dot", scene.Shape{Fill: black, Path: scene.Circle(p(100.2, 99.7), 0.9)}, 0.02},
		{"angle", scene.Shape{Fill: black, Path: scene.Polygon(p(20, 20), p(180, 20), p(180, 60), p(70.5, 60), p(70.5, 170), p(20, 170))}, 0.01},
		{"dart", scene.Shape{Fill: black, Path: scene.Polygon(p(20, 20), p(180, 90), p(20, 160), p(60, 90))}, 0.03},
		{"needle", scene.Shape{Fill: black, Path: scene.Polygon(p(20, 20), p(180, 90), p(20, 21.2))}, 0.03},
		{"hole", scene.Shape{Fill: black, Path: frame(scene.Rect{Left: 20, Top: 20, Right: 180, Bottom: 180}, scene.Polygon(p(60, 60), p(60, 140), p(140, 140), p(140, 60)))}, 0.01},
		{"no hole", scene.Shape{Fill: black, Path: frame(scene.Rect{Left: 20, Top: 20, Right: 180, Bottom: 180}, scene.Polygon(p(60, 60), p(140, 60), p(140, 140), p(60, 140)))}, 0.01},
		{"star", scene.Shape{Fill: black, Path: scene.Polygon(star...)}, 0.03},
		{"eight", scene.Shape{Fill: black, Path: scene.Polygon(p(20, 20), p(180, 180), p(180, 20), p(20, 180))}, 0.03},
		{"clipped", scene.Shape{Fill: black, Path: scene.Circle(p(100, 100), 80), Clip: &scene.Rect{Left: 30.5, Top: 90, Right: 120, Bottom: 300}}, 0.03},
		{"hatched", scene.Shape{Fill: &scene.Paint{Kind: scene.Hatched, Ink: scene.Metal}, Path: scene.Circle(p(100, 100), 80)}, 0.04},
		{"blend", scene.Shape{Fill: &scene.Paint{Kind: scene.Blend, A: 10, B: 90, From: p(50, 60), To: p(130, 140)}, Path: scene.Circle(p(100, 100), 80)}, 0.04},
		{"blend of one colour", scene.Shape{Fill: &scene.Paint{Kind: scene.Blend, A: 30, B: 30}, Path: scene.Circle(p(100, 100), 80)}, 0.03},
		{"outline", scene.Shape{Stroke: pen(4), Path: scene.Box(scene.Rect{Left: 20.3, Top: 30.6, Right: 90.45, Bottom: 120.2}, 0)}, 0.03},
		{"ring", scene.Shape{Stroke: pen(3), Path: scene.Circle(p(100, 100), 60)}, 0.04},
		{"arrow", scene.Shape{Stroke: pen(2.5), Path: scene.Arrow(p(20, 150), p(160, 40), 20)}, 0.04},
		{"sharp bend", scene.Shape{Stroke: pen(7), Path: scene.Line(p(20, 100), p(180, 100), p(30, 110))}, 0.04},
		{"curve", scene.Shape{Stroke: pen(2.4), Path: scene.Line(wave...)}, 0.05},
		{"curve in a chart", scene.Shape{Stroke: pen(5.2), Path: scene.Line(wave...), Clip: &scene.Rect{Left: 40, Top: 60, Right: 170, Bottom: 130}}, 0.05},
		{"chatter", scene.Shape{Stroke: pen(1.4), Path: scene.Line(chatter...)}, 0.12},
		{"dashes", scene.Shape{Stroke: pen(2.4, 5, 11), Path: scene.Line(p(20, 50), p(180, 50), p(180, 160))}, 0.05},
		{"dashed ring", scene.Shape{Stroke: pen(1.7, 2.8, 2.8), Path: scene.Circle(p(100, 100), 13)}, 0.08},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, move := range []scene.Point{{}, {X: 3.3, Y: -7.4}} {
				s := of(c.shape)
				s.Shapes[0].Moves = scene.WithDisc
				s.Shift[scene.WithDisc] = move
				got, want := onScreen(paint.New(), s, 1), onPaper(t, s, 1)
				d, box := golden.Compare(got, want)
				assert.Less(t, d, c.bound, "moved by %v, at %v", move, box)
				keep(t, fmt.Sprintf("shape-%s-%g.png", c.name, move.X), got)
				keep(t, fmt.Sprintf("paper-shape-%s-%g.png", c.name, move.X), want)
			}
		})
	}
}

// What has no size, or no colour, paints nothing and breaks nothing.
func TestNothingToPaint(t *testing.T) {
	harness.Need(t)
	p := func(x, y float64) scene.Point { return scene.Point{X: x, Y: y} }
	s := of(
		scene.Shape{Fill: &scene.Paint{}, Path: scene.Circle(p(50, 50), 20)},
		scene.Shape{Fill: &scene.Paint{Ink: scene.Black}, Path: scene.Line(p(5, 5), p(50, 50))},
		scene.Shape{Fill: &scene.Paint{Ink: scene.Black}, Path: scene.Circle(p(50, 50), 0)},
		scene.Shape{Fill: &scene.Paint{Ink: scene.Black}},
		scene.Shape{Stroke: &scene.Pen{Ink: scene.Black, Width: 3}, Path: scene.Line(p(9, 9), p(9, 9))},
		scene.Shape{Stroke: &scene.Pen{Ink: scene.Black}, Path: scene.Line(p(9, 9), p(90, 9))},
		scene.Shape{Stroke: &scene.Pen{Width: 3}, Path: scene.Line(p(9, 9), p(90, 9))},
		scene.Shape{Stroke: &scene.Pen{Ink: scene.Black, Width: 3}, Path: scene.Line(p(9, 9), p(90, 9)), Clip: &scene.Rect{Left: 100, Top: 100, Right: 120, Bottom: 120}},
		scene.Shape{Text: &scene.Text{At: p(9, 9), Size: 12, Ink: scene.Black}},
		scene.Shape{Text: &scene.Text{At: p(9, 9), Size: 12, Words: "transparent"}},
		scene.Shape{Text: &scene.Text{At: p(9, 9), Size: 12, Ink: scene.Black, Words: " "}},
	)
	assert.Zero(t, ink(onScreen(paint.New(), s, 1), image.Rect(0, 0, 200, 200)))
}
