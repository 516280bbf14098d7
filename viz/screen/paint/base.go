package paint

import (
	"image"
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"
)

// base is what stays the same, painted once.
type base struct {
	picture *ebiten.Image
	members int   // how many shapes are in it
	made    int   // in which frame
	still   int   // for how many frames nothing has changed
	looked  int   // and when it was last asked whether a better one can be had
	over    cover // scratch
	options ebiten.DrawImageOptions
}

// drop forgets the picture: the size has changed.
func (b *base) drop() {
	if b.picture != nil {
		b.picture.Deallocate()
		b.picture = nil
	}
	b.members = 0
}

// cover are shapes that are not in the base.
type cover []*slot

// meets tells whether a shape overlaps one of them.
func (c cover) meets(sl *slot) bool {
	for _, o := range c {
		if sl.meets(o) {
			return true
		}
	}
	return false
}

// update makes the base anew if one of its shapes has changed, gone, or come to
// lie over one that changes; or if by now much more has settled.
func (b *base) update(p *Painter) {
	if b.picture == nil {
		b.picture = ebiten.NewImageWithOptions(image.Rectangle{Max: p.size}, &ebiten.NewImageOptions{Unmanaged: true})
		b.picture.Fill(color.White)
		for _, sl := range p.order {
			sl.rank = 0
		}
		b.members, b.made, b.looked = 0, p.frame, p.frame
	}
	b.still++
	for _, sl := range p.order {
		if sl.since == p.frame {
			b.still = 0
			break
		}
	}
	if !b.holds(p) || b.still == settleFirst {
		b.make(p)
		return
	}
	const every, gain = 30, 5 // frames; a fifth of the triangles
	if p.frame-b.looked >= every {
		b.looked = p.frame
		now, then := 0, 0
		b.over = b.over[:0]
		for _, sl := range p.order {
			n := len(sl.mesh.order)
			if sl.rank == 0 {
				now += n
			}
			if n > 0 && !b.fit(sl, p.frame) {
				b.over = append(b.over, sl)
				then += n
			}
		}
		if (now-then)*gain > now {
			b.make(p)
		}
	}
}

// holds tells whether the base is still right.
func (b *base) holds(p *Painter) bool {
	right, last, found := true, 0, 0
	b.over = b.over[:0]
	for _, sl := range p.order {
		switch {
		case sl.rank == 0:
			if len(sl.mesh.order) > 0 {
				b.over = append(b.over, sl)
			}
			continue
		case sl.since > b.made: // changed; it will have to stay the same for longer
			sl.settle = min(2*sl.settle, settleMost)
			right = false
		case sl.rank < last || b.over.meets(sl):
			right = false
		}
		last = sl.rank
		found++
	}
	return right && found == b.members
}

// fit tells whether a shape can go into the base, those before it given that
// cannot. If the whole picture stands still, all can.
func (b *base) fit(sl *slot, frame int) bool {
	return (b.still >= settleFirst || frame-sl.since >= sl.settle) && !b.over.meets(sl)
}

func (b *base) make(p *Painter) {
	b.made, b.looked = p.frame, p.frame
	b.members = 0
	b.over = b.over[:0]
	p.batch.begin(0, 0)
	for _, of := range p.parts {
		for _, sl := range of.slots {
			sl.rank = 0
		}
	}
	for _, sl := range p.order {
		if !b.fit(sl, p.frame) {
			if len(sl.mesh.order) > 0 {
				b.over = append(b.over, sl)
			}
			continue
		}
		b.members++
		sl.rank = b.members
		p.batch.add(sl)
	}
	b.picture.Fill(color.White)
	p.batch.flush(b.picture, p.atlas.image)
	p.stats.Bases++
}

// copy puts the base under everything.
func (b *base) copy(dst *ebiten.Image, at image.Point) {
	b.options.GeoM.Reset()
	b.options.GeoM.Translate(float64(at.X), float64(at.Y))
	b.options.Blend = ebiten.BlendCopy
	dst.DrawImage(b.picture, &b.options)
}
