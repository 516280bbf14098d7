package paint

import (
	"image"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/viz/scene"
)

// Painter paints scenes, one frame after the other, and keeps what stays the
// same between them. It is used from the game's Draw alone.
type Painter struct {
	scene *scene.Scene
	scale float64
	frame int
	made  int // counts up when no triangles made before are right any longer
	size  image.Point

	parts map[string]*part
	order []*slot // of the scene's shapes
	tool  tool
	atlas *atlas
	base  base
	batch batch
	stats Stats
}

// Stats say what the last Paint did.
type Stats struct {
	Shapes    int // in the scene
	Made      int // of which triangles had to be made anew
	Triangles int // painted, the base's making not counted
	Bases     int // how often the base was made, since New
}

// New makes a painter. It may be called before the game runs.
func New() *Painter {
	return &Painter{parts: map[string]*part{}}
}

// Stats of the last Paint.
func (p *Painter) Stats() Stats { return p.stats }

// Paint paints a scene over the whole of dst, from its upper left corner, scale
// pixels for each of its units.
func (p *Painter) Paint(dst *ebiten.Image, s *scene.Scene, scale float64) {
	if !(scale > 0) || !(s.Size.X > 0 && s.Size.Y > 0) {
		return
	}
	if p.atlas == nil {
		p.atlas = newAtlas()
	}
	p.frame++
	p.stats = Stats{Shapes: len(s.Shapes), Bases: p.stats.Bases}
	if size := (image.Point{X: int(math.Ceil(s.Size.X * scale)), Y: int(math.Ceil(s.Size.Y * scale))}); size != p.size || scale != p.scale {
		p.size, p.scale = size, scale
		p.made++
		p.base.drop()
	}
	p.scene = s
	// A full atlas is begun anew while the letters of a scene are looked up:
	// then those found before it are looked up again. One scene's fit.
	for range 2 {
		full := p.atlas.made
		p.order = p.order[:0]
		for _, of := range p.parts {
			of.used = 0
		}
		for i := range s.Shapes {
			sl := p.slot(&s.Shapes[i])
			p.update(sl, &s.Shapes[i])
			p.order = append(p.order, sl)
		}
		if p.atlas.made == full {
			break
		}
		p.made++
	}
	p.scene = nil
	p.base.update(p)
	p.paint(dst)
	const every = 256
	if p.frame%every == 0 {
		p.forget(every)
	}
}

// paint paints the base, and over it what is not in it.
func (p *Painter) paint(dst *ebiten.Image) {
	at := dst.Bounds().Min
	p.base.copy(dst, at)
	p.batch.begin(float32(at.X), float32(at.Y))
	for _, sl := range p.order {
		if sl.rank == 0 {
			p.batch.add(sl)
		}
	}
	p.stats.Triangles = len(p.batch.order) / 3
	p.batch.flush(dst, p.atlas.image)
}

// batch is triangles of many shapes on their way to a picture.
type batch struct {
	x, y    float32
	corners []ebiten.Vertex
	order   []uint32
	options ebiten.DrawTrianglesOptions
}

func (b *batch) begin(x, y float32) {
	b.x, b.y = x, y
	b.corners, b.order = b.corners[:0], b.order[:0]
}

func (b *batch) add(sl *slot) {
	n := uint32(len(b.corners))
	x, y := b.x+float32(sl.at.X), b.y+float32(sl.at.Y)
	for i := range sl.mesh.corners {
		c, t := &sl.mesh.corners[i], &sl.paints[0]
		if i >= sl.first {
			t = &sl.paints[1]
		}
		v := ebiten.Vertex{DstX: x + c.x, DstY: y + c.y, SrcX: whiteAt, SrcY: whiteAt,
			ColorR: t.r * c.a, ColorG: t.g * c.a, ColorB: t.b * c.a, ColorA: c.a}
		switch {
		case t.letters:
			v.SrcX, v.SrcY = c.u, c.v
		case t.blend:
			v.SrcX, v.SrcY = 0.5+(strip-1)*(t.from+(t.to-t.from)*c.u), stripRow+0.5
		}
		b.corners = append(b.corners, v)
	}
	for _, k := range sl.mesh.order {
		b.order = append(b.order, n+k)
	}
}

func (b *batch) flush(dst, atlas *ebiten.Image) {
	if len(b.order) == 0 {
		return
	}
	b.options.ColorScaleMode = ebiten.ColorScaleModePremultipliedAlpha
	dst.DrawTriangles32(b.corners, b.order, atlas, &b.options)
}
