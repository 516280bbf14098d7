package paint

import (
	"image"
	"image/draw"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"underdisc/viz/letters"
	"underdisc/viz/scene"
)

// side of the atlas, px; it holds some 5,000 letters of usual size.
const atlasSide = 1024

// Where in the atlas plain white and the colours of pressure are.
const (
	whiteAt  = 2.0 // both ways
	strip    = 256 // number of colours
	stripRow = 6   // and its neighbours
	topShelf = 10
)

// places of a letter between pixels, each way.
const places = 4

// letter is a glyph as it is painted: its size in 1/64 px, its place between
// pixels.
type letter struct {
	glyph sfnt.GlyphIndex
	bold  bool
	size  int32
	x, y  uint8
}

// cell is where in the atlas a letter is, and where its left upper corner lies
// from the whole pixel of its origin.
type cell struct{ u, v, w, h, left, top int16 }

// atlas is the picture that all triangles take their colour from.
type atlas struct {
	image  *ebiten.Image
	cells  map[letter]cell
	rows   map[pattern]cell
	fonts  [2]*sfnt.Font
	buffer sfnt.Buffer
	raster vector.Rasterizer
	mask   image.Alpha
	pixels []byte

	x, y, shelf int // where the next letter goes, and how high this row is
	made        int // how often it was begun anew
}

func newAtlas() *atlas {
	a := &atlas{}
	for i := range a.fonts {
		f, err := sfnt.Parse(letters.TTF(i == 1))
		if err != nil {
			panic("a font that comes with the program cannot be read: " + err.Error())
		}
		a.fonts[i] = f
	}
	a.clear()
	return a
}

// clear begins it anew.
func (a *atlas) clear() {
	if a.image == nil {
		a.image = ebiten.NewImage(atlasSide, atlasSide)
	}
	a.image.Clear()
	pix := make([]byte, 4*atlasSide*topShelf)
	for y := range 4 {
		for x := range 4 {
			copy(pix[4*(y*atlasSide+x):], []byte{255, 255, 255, 255})
		}
	}
	for x := range strip {
		c := scene.Range{Low: 0, High: strip - 1}.Color(float64(x))
		for y := stripRow - 1; y <= stripRow+1; y++ {
			copy(pix[4*(y*atlasSide+x):], []byte{c.R, c.G, c.B, c.A})
		}
	}
	a.image.SubImage(image.Rect(0, 0, atlasSide, topShelf)).(*ebiten.Image).WritePixels(pix)
	a.cells, a.rows = map[letter]cell{}, map[pattern]cell{}
	a.x, a.y, a.shelf = 0, topShelf, 0
	a.made++
}

// cell finds a letter, and puts it into the atlas if it is not there. When that
// is full it is begun anew, and what was found before is no longer there.
func (a *atlas) cell(l letter) cell {
	if c, ok := a.cells[l]; ok {
		return c
	}
	c, ok := a.rasterise(l)
	if !ok {
		a.cells[l] = cell{}
		return cell{}
	}
	if a.place(&c) {
		a.cells[l] = c
	} else {
		a.cells[l], c = cell{}, cell{} // larger than the atlas: no letter is
	}
	return c
}

// place finds room for a.mask and puts it there.
func (a *atlas) place(c *cell) bool {
	w, h := int(c.w), int(c.h)
	if w+1 > atlasSide || h+1 > atlasSide-topShelf {
		return false
	}
	if a.x+w+1 > atlasSide {
		a.x, a.y, a.shelf = 0, a.y+a.shelf, 0
	}
	if a.y+h+1 > atlasSide {
		a.clear()
	}
	c.u, c.v = int16(a.x), int16(a.y)
	a.x += w + 1
	a.shelf = max(a.shelf, h+1)
	a.pixels = a.pixels[:0]
	for _, p := range a.mask.Pix {
		a.pixels = append(a.pixels, p, p, p, p)
	}
	at := image.Rect(int(c.u), int(c.v), int(c.u)+w, int(c.v)+h)
	a.image.SubImage(at).(*ebiten.Image).WritePixels(a.pixels)
	return true
}

// rasterise makes a.mask the letter; a blank has none.
func (a *atlas) rasterise(l letter) (c cell, ok bool) {
	f := a.fonts[0]
	if l.bold {
		f = a.fonts[1]
	}
	segs, err := f.LoadGlyph(&a.buffer, l.glyph, fixed.Int26_6(l.size), nil)
	if err != nil || len(segs) == 0 {
		return c, false
	}
	px := func(p fixed.Point26_6) (x, y float32) {
		return float32(p.X)/64 + float32(l.x)/places, float32(p.Y)/64 + float32(l.y)/places
	}
	b := segs.Bounds()
	x0, y0 := px(b.Min)
	x1, y1 := px(b.Max)
	left, top := math.Floor(float64(x0)), math.Floor(float64(y0))
	w, h := int(math.Ceil(float64(x1))-left), int(math.Ceil(float64(y1))-top)
	if w <= 0 || h <= 0 {
		return c, false
	}
	a.raster.Reset(w, h)
	a.raster.DrawOp = draw.Src
	at := func(p fixed.Point26_6) (x, y float32) {
		x, y = px(p)
		return x - float32(left), y - float32(top)
	}
	for _, s := range segs {
		x, y := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			a.raster.ClosePath()
			a.raster.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			a.raster.LineTo(x, y)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			a.raster.QuadTo(x, y, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			a.raster.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	a.raster.ClosePath()
	a.blank(w, h)
	a.raster.Draw(&a.mask, a.mask.Rect, image.Opaque, image.Point{})
	return cell{w: int16(w), h: int16(h), left: int16(left), top: int16(top)}, true
}
