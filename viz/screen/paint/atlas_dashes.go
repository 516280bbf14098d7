package paint

import "image"

// pattern is a dashed line as a row of pixels: from where in the first of them
// it starts, how long it is, and its strokes and gaps, all in 1/fine px.
type pattern struct {
	from   int16
	long   int32
	dashes int
	dash   [most]int32
}

const (
	fine = 64
	most = 4 // strokes and gaps
)

// dashes finds a pattern, and puts it into the atlas if it is not there. It says
// no if there is nothing to repeat, or no room.
func (a *atlas) dashes(p pattern) (cell, bool) {
	if c, ok := a.rows[p]; ok {
		return c, true
	}
	end := int32(p.from) + p.long
	c := cell{w: int16((end + fine - 1) / fine), h: 1}
	total := int32(0)
	for _, d := range p.dash[:p.dashes] {
		if d < 0 {
			return c, false
		}
		total += d
	}
	if total <= 0 || c.w <= 0 {
		return c, false
	}
	a.blank(int(c.w), 1)
	for at, i := int32(p.from), 0; at < end; i++ {
		to := min(at+p.dash[i%p.dashes], end)
		if i%2 == 0 {
			a.cover(at, to)
		}
		at = to
	}
	if !a.place(&c) {
		return c, false
	}
	a.rows[p] = c
	return c, true
}

// blank makes a.mask a clear one of a size.
func (a *atlas) blank(w, h int) {
	if n := w * h; cap(a.mask.Pix) < n {
		a.mask.Pix = make([]uint8, n)
	}
	a.mask.Pix, a.mask.Stride, a.mask.Rect = a.mask.Pix[:w*h], w, image.Rect(0, 0, w, h)
	clear(a.mask.Pix)
}

// cover adds a stroke to the first row of a.mask.
func (a *atlas) cover(from, to int32) {
	for x := from / fine; x*fine < to; x++ {
		part := min(to, (x+1)*fine) - max(from, x*fine)
		a.mask.Pix[x] = uint8(min(255, int32(a.mask.Pix[x])+(part*255+fine/2)/fine))
	}
}
