package golden_test

import (
	"image"
	"image/color"
	"image/draw"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/viz/golden"
)

func blank(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(m, m.Rect, image.White, image.Point{}, draw.Src)
	return m
}

func box(m *image.RGBA, r image.Rectangle, c color.Color) *image.RGBA {
	draw.Draw(m, r, image.NewUniform(c), image.Point{}, draw.Src)
	return m
}

func TestCompare(t *testing.T) {
	line := func(y int) *image.RGBA { return box(blank(300, 200), image.Rect(40, y, 260, y+3), color.Black) }
	same, _ := golden.Compare(line(90), line(90))
	assert.Zero(t, same)

	// A line of three pixels moved by one leaves a row and gains a row.
	moved, at := golden.Compare(line(90), line(91))
	assert.InDelta(t, 2.0/golden.Tile, moved, 1e-9)
	assert.True(t, image.Rect(40, 90, 260, 94).Overlaps(at), "%v", at)

	// One pixel in a large picture is found, and where it is.
	dot := box(blank(300, 200), image.Rect(299, 199, 300, 200), color.Black)
	d, at := golden.Compare(dot, blank(300, 200))
	assert.Greater(t, d, 1.0/(golden.Tile*golden.Tile)-1e-9)
	assert.True(t, image.Pt(299, 199).In(at))

	d, _ = golden.Compare(blank(300, 200), blank(300, 216))
	assert.Equal(t, 1.0, d, "another size")
	d, _ = golden.Compare(blank(5, 3), box(blank(5, 3), image.Rect(0, 0, 5, 3), color.Black))
	assert.Equal(t, 1.0, d, "smaller than a tile")
	d, _ = golden.Compare(image.NewRGBA(image.Rect(0, 0, 9, 9)), blank(9, 9))
	assert.Zero(t, d, "nothing is as good as white")
	d, _ = golden.Compare(image.NewNRGBA(image.Rect(0, 0, 9, 9)), blank(9, 9))
	assert.Zero(t, d, "whatever the picture is made of")
}

func TestSpread(t *testing.T) {
	a := blank(100, 100)
	mean, share := golden.Spread(box(blank(100, 100), image.Rect(0, 0, 10, 10), color.Black), a)
	assert.InDelta(t, 0.01, mean, 1e-9)
	assert.InDelta(t, 0.01, share, 1e-9)
	mean, share = golden.Spread(box(blank(100, 100), image.Rect(0, 0, 10, 10), color.Gray{250}), a)
	assert.InDelta(t, 0.01*5/255, mean, 1e-9)
	assert.Zero(t, share, "too little to count")
}
