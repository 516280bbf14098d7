// Package golden compares pictures.
package golden

import (
	"image"
	"image/color"
)

// Tile is the side of the squares that Compare looks at, px: small enough that
// a line moved by a pixel changes much of one.
const Tile = 16

// Compare is how much two pictures differ where they differ most, 0 to 1: the
// mean over a square of the largest difference of red, green and blue over a
// white ground; and where that square is. Squares overlap by half. What one
// picture has and the other has not differs by 1.
func Compare(got, want image.Image) (difference float64, box image.Rectangle) {
	b := got.Bounds().Union(want.Bounds())
	const half = Tile / 2
	w, h := (b.Dx()+half-1)/half, (b.Dy()+half-1)/half
	if w == 0 || h == 0 {
		return 0, b
	}
	sums, counts := make([]int, w*h), make([]int, w*h) // of each quarter of a tile
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			k := (y-b.Min.Y)/half*w + (x-b.Min.X)/half
			sums[k] += apart(got, want, x, y)
			counts[k]++
		}
	}
	worst := -1.0
	for j := range max(1, h-1) {
		for i := range max(1, w-1) {
			sum, count := 0, 0
			for _, d := range [4][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
				if x, y := i+d[0], j+d[1]; x < w && y < h {
					sum += sums[y*w+x]
					count += counts[y*w+x]
				}
			}
			if mean := float64(sum) / float64(count) / 255; mean > worst {
				worst = mean
				at := image.Pt(b.Min.X+i*half, b.Min.Y+j*half)
				box = image.Rectangle{Min: at, Max: at.Add(image.Pt(Tile, Tile))}.Intersect(b)
			}
		}
	}
	return worst, box
}

// Spread is how much two pictures of one size differ in all: the mean over all
// pixels of what Compare looks at, and the share of pixels that differ by more
// than a step of 1/16.
func Spread(got, want image.Image) (mean, share float64) {
	b := got.Bounds().Union(want.Bounds())
	sum, many := 0, 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			d := apart(got, want, x, y)
			sum += d
			if d > 16 {
				many++
			}
		}
	}
	n := float64(max(1, b.Dx()*b.Dy()))
	return float64(sum) / n / 255, float64(many) / n
}

// apart is the largest difference of a pixel's red, green and blue, 0 to 255.
func apart(a, b image.Image, x, y int) int {
	at := image.Pt(x, y)
	if !at.In(a.Bounds()) || !at.In(b.Bounds()) {
		return 255
	}
	p, q := onWhite(a, x, y), onWhite(b, x, y)
	d := 0
	for i := range p {
		d = max(d, p[i]-q[i], q[i]-p[i])
	}
	return d
}

func onWhite(m image.Image, x, y int) [3]int {
	if m, ok := m.(*image.RGBA); ok {
		p := m.Pix[m.PixOffset(x, y):]
		rest := 255 - int(p[3])
		return [3]int{int(p[0]) + rest, int(p[1]) + rest, int(p[2]) + rest}
	}
	c := color.RGBAModel.Convert(m.At(x, y)).(color.RGBA)
	rest := 255 - int(c.A)
	return [3]int{int(c.R) + rest, int(c.G) + rest, int(c.B) + rest}
}
