package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A spike of one sample among ten thousand is on the curve, which holds no
// more than four points for each column.
func TestCurveKeepsSpikes(t *testing.T) {
	const columns = 100
	c := NewCurve(0, 1, columns)
	for i := range 10001 {
		v := 1.0
		if i == 5555 {
			v = 9
		}
		c.Add(float64(i)/10000, v)
	}
	low, high, ok := c.Span()
	assert.True(t, ok)
	assert.Equal(t, 1.0, low)
	assert.Equal(t, 9.0, high)
	runs := c.Runs()
	require.Len(t, runs, 1)
	assert.LessOrEqual(t, len(runs[0]), 4*(columns+1))
	for i := 1; i < len(runs[0]); i++ {
		assert.GreaterOrEqual(t, runs[0][i].X, runs[0][i-1].X)
	}
}

func TestCurveBreaksWhereThereIsNoNumber(t *testing.T) {
	c := NewCurve(0, 10, 1000)
	for i := range 11 {
		v := float64(i)
		if i == 5 {
			v = math.NaN()
		}
		c.Add(float64(i), v)
	}
	require.Len(t, c.Runs(), 2)
	assert.True(t, c.Lasts())
	c = NewCurve(0, 10, 1000)
	c.Add(1, 1)
	c.Add(2, 3)
	c.Add(3, math.NaN())
	assert.False(t, c.Lasts())
	last, ok := c.Last()
	assert.True(t, ok)
	assert.Equal(t, 3.0, last)
	first, _ := c.First()
	assert.Equal(t, 1.0, first)
	_, ok = NewCurve(0, 1, 10).Last()
	assert.False(t, ok, "an empty curve has none")
	_, _, ok = NewCurve(0, 1, 10).Span()
	assert.False(t, ok)
}

// A curve reaches the edges of its span though no sample lies there.
func TestCurveLeadsToItsEdges(t *testing.T) {
	c := NewCurve(1, 2, 10)
	for _, x := range []float64{0, 0.5, 1.5, 2.5, 3} {
		c.Add(x, x)
	}
	assert.Equal(t, [][]Point{{{0.5, 0.5}, {1.5, 1.5}, {2.5, 2.5}}}, c.Runs())
}

func TestClip(t *testing.T) {
	box := Rect{0, 0, 10, 10}
	for _, c := range []struct {
		name string
		line []Point
		want [][]Point
	}{
		{"inside", []Point{{1, 1}, {9, 9}}, [][]Point{{{1, 1}, {9, 9}}}},
		{"outside", []Point{{-5, 11}, {15, 12}}, nil},
		{"through", []Point{{-5, 5}, {15, 5}}, [][]Point{{{0, 5}, {10, 5}}}},
		{"out and in again", []Point{{5, 5}, {5, 15}, {6, 15}, {6, 5}}, [][]Point{{{5, 5}, {5, 10}}, {{6, 10}, {6, 5}}}},
		{"upright on the edge", []Point{{0, -5}, {0, 5}}, [][]Point{{{0, 0}, {0, 5}}}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, clip(c.line, box)) })
	}
}

func TestClipStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-100, 100)
		var line []Point
		for range rapid.IntRange(2, 20).Draw(t, "points") {
			line = append(line, Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
		}
		for _, piece := range clip(line, Rect{-10, -20, 30, 40}) {
			for _, p := range piece {
				const rounding = 1e-9
				if p.X < -10-rounding || p.X > 30+rounding || p.Y < -20-rounding || p.Y > 40+rounding {
					t.Fatalf("%v lies outside", p)
				}
			}
		}
	})
}

func TestSpread(t *testing.T) {
	assert.Equal(t, []float64{5, 50}, Spread([]float64{5, 50}, 10, 0, 100), "far apart: as wanted")
	assert.Equal(t, []float64{45, 55}, Spread([]float64{50, 50}, 10, 0, 100))
	assert.Equal(t, []float64{100, 90}, Spread([]float64{99, 98}, 10, 0, 100), "order is kept, bounds too")
	rapid.Check(t, func(t *rapid.T) {
		wanted := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 8).Draw(t, "wanted")
		got := Spread(wanted, 10, 0, 100)
		for i := range got {
			if got[i] < -1e-9 || got[i] > 100+1e-9 {
				t.Fatalf("%g out of bounds", got[i])
			}
			for j := range i {
				if math.Abs(got[i]-got[j]) < 10-1e-9 {
					t.Fatalf("%g and %g too near", got[i], got[j])
				}
				if (wanted[i]-wanted[j])*(got[i]-got[j]) < 0 {
					t.Fatalf("order of %g and %g not kept", wanted[i], wanted[j])
				}
			}
		}
	})
}

func TestAxis(t *testing.T) {
	text := func(a Axis) (out []string) {
		for _, k := range a.Ticks {
			out = append(out, k.Text)
		}
		return out
	}
	assert.Equal(t, []string{"0", "2", "4", "6", "8", "10", "12"}, text(NewAxis(0, 12.7, 7)))
	assert.Equal(t, []string{"0", "10", "20", "30", "40", "50", "60"}, text(NewAxis(0, 60, 10)))
	assert.Equal(t, []string{"-0.5", "0.0", "0.5", "1.0"}, text(NewAxis(-0.6, 1.2, 4)))
	assert.Equal(t, []string{"0", "15"}, text(AxisUpTo(15, "15")))
	flat := NewAxis(3, 3, 5)
	assert.Greater(t, flat.To, flat.From, "a span of nothing is still one")
}

func TestWrap(t *testing.T) {
	f := Font{Size: 20}
	text := strings.Repeat("word ", 30)
	lines := Wrap(f, 200, text)
	assert.Greater(t, len(lines), 5)
	for _, l := range lines {
		assert.LessOrEqual(t, TextWidth(f, l), 200.0)
	}
	assert.Equal(t, strings.TrimSpace(text), strings.Join(lines, " "))
	assert.Len(t, Wrap(f, 10, "unbreakable"), 1)
}

// A long line is painted in pieces that join without a gap.
func TestPieces(t *testing.T) {
	var line []Point
	for i := range 1000 {
		line = append(line, Point{float64(i), 0})
	}
	end := 0.0
	for _, p := range pieces(line) {
		assert.LessOrEqual(t, p.pts[0].X, end, "starts where the last one still is")
		assert.Equal(t, p.pts[0].X, p.along)
		end = p.pts[len(p.pts)-1].X
	}
	assert.Equal(t, 999.0, end)
}

// draft is a page with one of everything.
func draft() *Page {
	p := &Page{Title: "A <draft> & more"}
	c := NewCurve(0, 10, 400)
	for i := range 101 {
		c.Add(float64(i)/10, math.Sin(float64(i)/10))
	}
	n := Panel{Box: Rect{200, 100, 1200, 500}, Heading: "Sine", Time: NewAxis(0, 10, 5), Value: NewAxis(-1, 1, 4), Clock: true,
		Traces: []Trace{{c, Pen{Color: Ink, Width: 4, Dash: []float64{10, 5}}, "sine"}, {c, Pen{Color: Deep, Width: 2}, "again"}},
		Marks:  []Mark{{5, Pen{Color: Faded, Width: 2}}}}
	n.Draw(p)
	p.Badge(Point{700, 700}, 20, "7")
	p.Text(Font{Size: 30, Color: Ink}, Point{100, 800}, FromLeft, "5 < 6 & 7 > 6")
	return p
}

func TestPNG(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, draft().PNG(&b))
	img, err := png.Decode(&b)
	require.NoError(t, err)
	assert.Equal(t, int(Width), img.Bounds().Dx())
	assert.Equal(t, int(Height), img.Bounds().Dy())
	at := func(x, y int) color.RGBA { return color.RGBAModel.Convert(img.At(x, y)).(color.RGBA) }
	assert.Equal(t, Ground, at(5, 5))
	assert.Equal(t, White, at(1190, 110), "inside a chart")
	assert.Equal(t, Ink, at(685, 700), "inside a badge")
	// The curve's top, near x = pi/2, is where it should be: not mirrored.
	assert.NotEqual(t, White, at(200+157, 101))
	assert.Equal(t, White, at(200+157, 492))
}

func TestSVG(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, draft().SVG(&b))
	assert.Contains(t, b.String(), `<svg width="1600" height="900" role="img"`)
	assert.Contains(t, b.String(), "font-face", "it carries its fonts")
	d := xml.NewDecoder(&b)
	title := false
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if text, ok := tok.(xml.CharData); ok && string(text) == "A <draft> & more" {
			title = true
		}
	}
	assert.True(t, title, "it has a title")
}

func TestTextsLieWhereTheyShould(t *testing.T) {
	p := &Page{}
	f := Font{Size: 30}
	w := TextWidth(f, "mm")
	p.Text(f, Point{100, 100}, FromLeft, "mm")
	p.Text(f, Point{100, 200}, Centred, "mm")
	p.Text(f, Point{100, 300}, FromRight, "mm")
	p.Text(f, Point{100, 400}, FromRight, "")
	texts, boxes := p.Texts()
	assert.Equal(t, []string{"mm", "mm", "mm"}, texts)
	for i, left := range []float64{100, 100 - w/2, 100 - w} {
		assert.InDelta(t, left, boxes[i].Left, 1e-9)
		assert.InDelta(t, left+w, boxes[i].Right, 1e-9)
	}
}
