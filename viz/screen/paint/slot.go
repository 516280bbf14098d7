package paint

import (
	"math"

	"underdisc/viz/scene"
)

// slot is what is kept of one shape from frame to frame: the shape of its part
// that was drawn as its n-th. As long as that looks the same, its triangles
// stay.
type slot struct {
	geometry uint64 // what its triangles were made from
	look     uint64 // that, and its colours
	by       point  // how far it had moved then
	made     int    // for which scale, size and atlas

	mesh  mesh
	first int // so many corners at the start take the first paint, the others the second
	moves bool

	textured bool // its corners say where in the atlas their colour is

	at     point // px: from where its triangles were made to where they are now
	paints [2]tint

	seen, since int // the last frame that had it, and the first in which it looked as it does now
	settle      int // so many frames it must not have changed to be painted into the base
	rank        int // in the base, from 1; 0: it is not
}

// tint is the paint of triangles in one frame.
type tint struct {
	r, g, b  float32
	blend    bool    // by the atlas's colours of pressure,
	from, to float32 // these, as U goes from 0 to 1
	letters  bool    // U and V are the place in the atlas
}

// part holds the slots of one part.
type part struct {
	slots []*slot
	used  int // in this frame
}

// settleFirst and settleMost are frames: half a second, and ten.
const (
	settleFirst = 30
	settleMost  = 600
)

// slot finds the slot of a shape.
func (p *Painter) slot(s *scene.Shape) *slot {
	of := p.parts[s.Part]
	if of == nil {
		of = &part{}
		p.parts[s.Part] = of
	}
	if of.used == len(of.slots) {
		of.slots = append(of.slots, &slot{settle: settleFirst})
	}
	of.used++
	return of.slots[of.used-1]
}

// forget drops what has not been seen for so many frames.
func (p *Painter) forget(frames int) {
	for name, of := range p.parts {
		n := len(of.slots)
		for n > 0 && p.frame-of.slots[n-1].seen > frames {
			n--
			of.slots[n] = nil
		}
		of.slots = of.slots[:n]
		if n == 0 {
			delete(p.parts, name)
		}
	}
}

// digest is a hash in the making. Two pictures' shapes share one by chance of 1
// in 2^64 each.
type digest uint64

func (d *digest) word(x uint64) {
	h := (uint64(*d) ^ x) * 0x9E3779B97F4A7C15
	*d = digest(h ^ h>>29)
}
func (d *digest) number(x float64) { d.word(math.Float64bits(x)) }
func (d *digest) point(p point)    { d.number(p.X); d.number(p.Y) }

func (d *digest) words(s string) {
	d.word(uint64(len(s)))
	for len(s) >= 8 {
		d.word(uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 | uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56)
		s = s[8:]
	}
	var x uint64
	for i := range len(s) {
		x = x<<8 | uint64(s[i])
	}
	d.word(x)
}

// geometryOf is a hash of what a shape's triangles depend on but its carrier's
// way, and lookOf one of that and its colours.
func geometryOf(s *scene.Shape) uint64 {
	var d digest = 0x51ED27
	for i := range s.Path {
		g := &s.Path[i]
		d.word(uint64(g.Op))
		switch g.Op {
		case scene.CurveTo:
			d.point(g.P[0])
			d.point(g.P[1])
			d.point(g.P[2])
		case scene.MoveTo, scene.LineTo:
			d.point(g.P[0])
		}
	}
	if s.Clip != nil {
		d.point(point{X: s.Clip.Left, Y: s.Clip.Top})
		d.point(point{X: s.Clip.Right, Y: s.Clip.Bottom})
	}
	switch {
	case s.Fill != nil:
		d.word(2 + uint64(s.Fill.Kind))
		if s.Fill.Kind == scene.Blend {
			d.point(s.Fill.From)
			d.point(s.Fill.To)
		}
	case s.Stroke != nil:
		d.word(1)
		d.number(s.Stroke.Width)
		for _, x := range s.Stroke.Dash {
			d.number(x)
		}
		d.number(s.Stroke.Phase)
	case s.Text != nil:
		d.words(s.Text.Words)
		d.point(s.Text.At)
		d.number(s.Text.Size)
		d.word(uint64(s.Text.Anchor) << 1)
		if s.Text.Bold {
			d.word(1)
		}
	}
	return uint64(d)
}

func lookOf(geometry uint64, t *[2]tint) uint64 {
	d := digest(geometry)
	for i := range t {
		for _, x := range [...]float32{t[i].r, t[i].g, t[i].b, t[i].from, t[i].to} {
			d.word(uint64(math.Float32bits(x)))
		}
	}
	return uint64(d)
}
