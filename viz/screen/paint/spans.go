package paint

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"underdisc/viz/outline"
)

// spans paints any areas by the nonzero rule as upright rectangles of equal
// share: right for every pixel, but many where an edge is neither upright nor
// level.
type spans struct {
	raster vector.Rasterizer
	mask   image.Alpha
	above  []span // those that end at the row above
	next   []span
}

type span struct {
	left, right, top int
	share            uint8
}

// paint paints the lines from one to before another.
func (s *spans) paint(m *mesh, l *outline.Lines, from, to int) {
	left, top, right, bottom := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := from; i < to; i++ {
		for _, p := range l.At(i) {
			left, right = min(left, p.X), max(right, p.X)
			top, bottom = min(top, p.Y), max(bottom, p.Y)
		}
	}
	if !(right > left && bottom > top) {
		return
	}
	x0, y0 := math.Floor(left), math.Floor(top)
	w, h := int(math.Ceil(right)-x0), int(math.Ceil(bottom)-y0)
	if w > widest || h > widest { // far outside of any picture
		return
	}
	s.raster.Reset(w, h)
	s.raster.DrawOp = draw.Src
	for i := from; i < to; i++ {
		for k, p := range l.At(i) {
			if x, y := float32(p.X-x0), float32(p.Y-y0); k == 0 {
				s.raster.MoveTo(x, y)
			} else {
				s.raster.LineTo(x, y)
			}
		}
		s.raster.ClosePath()
	}
	if n := w * h; cap(s.mask.Pix) < n {
		s.mask.Pix = make([]uint8, n)
	}
	s.mask.Pix, s.mask.Stride, s.mask.Rect = s.mask.Pix[:w*h], w, image.Rect(0, 0, w, h)
	s.raster.Draw(&s.mask, s.mask.Rect, image.Opaque, image.Point{})
	s.above = s.above[:0]
	for y := range h {
		s.row(m, s.mask.Pix[y*w:(y+1)*w], y, x0, y0)
	}
	for _, a := range s.above {
		a.emit(m, h, x0, y0)
	}
}

// widest is the side of the largest area, px.
const widest = 16384

// row joins the spans of a row to equal ones above, and paints those that end.
func (s *spans) row(m *mesh, pix []uint8, y int, x0, y0 float64) {
	s.next = s.next[:0]
	k := 0
	for x := 0; x < len(pix); {
		a := pix[x]
		end := x + 1
		for end < len(pix) && pix[end] == a {
			end++
		}
		if a != 0 {
			n := span{x, end, y, a}
			for k < len(s.above) && s.above[k].left < x {
				s.above[k].emit(m, y, x0, y0)
				k++
			}
			if k < len(s.above) && s.above[k].left == x {
				if o := s.above[k]; o.right == end && o.share == a {
					n.top = o.top
				} else {
					o.emit(m, y, x0, y0)
				}
				k++
			}
			s.next = append(s.next, n)
		}
		x = end
	}
	for ; k < len(s.above); k++ {
		s.above[k].emit(m, y, x0, y0)
	}
	s.above, s.next = s.next, s.above
}

func (s span) emit(m *mesh, bottom int, x0, y0 float64) {
	m.bar(x0+float64(s.left), y0+float64(s.top), x0+float64(s.right), y0+float64(bottom), float64(s.share)/255)
}
