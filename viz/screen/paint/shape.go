package paint

import (
	"math"

	"golang.org/x/image/font/sfnt"

	"underdisc/viz/letters"
	"underdisc/viz/scene"
)

// update brings a slot up to date with its shape.
func (p *Painter) update(sl *slot, s *scene.Shape) {
	by := p.scene.Shift[s.Moves]
	geometry := geometryOf(s)
	if geometry != sl.geometry || sl.made != p.made || by != sl.by && !sl.moves {
		p.triangulate(sl, s, by)
		sl.geometry, sl.by, sl.made = geometry, by, p.made
		sl.mesh.bound()
		p.stats.Made++
		sl.since = p.frame
	}
	at := point{X: (by.X - sl.by.X) * p.scale, Y: (by.Y - sl.by.Y) * p.scale}
	sl.paints = p.tints(s)
	sl.paints[0].letters = sl.textured
	if look := lookOf(geometry, &sl.paints); look != sl.look || at != sl.at || sl.seen < p.frame-1 {
		sl.look, sl.at, sl.since = look, at, p.frame
	}
	sl.seen = p.frame
}

// tints are the paints of a shape.
func (p *Painter) tints(s *scene.Shape) (t [2]tint) {
	ink := func(i scene.Ink) tint {
		c := i.Color()
		return tint{r: float32(c.R) / 255, g: float32(c.G) / 255, b: float32(c.B) / 255}
	}
	pressure := func(a, b float64) tint {
		return tint{r: 1, g: 1, b: 1, blend: true, from: shade(p.scene.Range.Share(a)), to: shade(p.scene.Range.Share(b))}
	}
	switch {
	case s.Fill != nil:
		switch f := s.Fill; f.Kind {
		case scene.Pressure:
			t[0] = pressure(f.A, f.A)
		case scene.Blend:
			t[0] = pressure(f.A, f.B)
		default:
			t[0] = ink(f.Ink)
			t[1] = ink(scene.Hatch)
		}
	case s.Stroke != nil:
		t[0] = ink(s.Stroke.Ink)
	case s.Text != nil:
		i := s.Text.Ink
		if s.Text.OnPressure != nil {
			i = scene.InkOn(p.scene.Range.Color(*s.Text.OnPressure))
		}
		t[0] = ink(i)
	}
	return t
}

// shade is the nearest of the colours of pressure, as a share of their range: as
// long as it stays, nothing changes to be seen.
func shade(share float64) float32 { return float32(math.Round(share*(strip-1)) / (strip - 1)) }

// smooth is how far chords may miss their curve, px.
const smooth = 0.1

// triangulate makes the triangles of a shape.
func (p *Painter) triangulate(sl *slot, s *scene.Shape, by point) {
	m, t := &sl.mesh, &p.tool
	m.reset()
	sl.moves, sl.first, sl.textured = true, math.MaxInt, false
	switch {
	case s.Fill != nil:
		if s.Fill.Kind <= scene.Flat && s.Fill.Ink == scene.NoInk {
			return
		}
		l := &t.lines
		l.Reset()
		l.Flatten(s.Path, by, p.scale, smooth, false)
		if s.Clip != nil {
			t.clipped.Reset()
			t.clipped.Clip(l, grown(*s.Clip, p.scale))
			l = &t.clipped
		}
		sl.moves = t.areas(m, l) && s.Clip == nil
		switch s.Fill.Kind {
		case scene.Hatched:
			sl.first, sl.moves = len(m.corners), false
			p.hatch(m, l)
		case scene.Blend:
			sl.moves = false
			blend(m, grow(s.Fill.From, p.scale), grow(s.Fill.To, p.scale))
		}
	case s.Stroke != nil:
		if s.Stroke.Ink != scene.NoInk {
			sl.textured = p.upright(m, s, by)
			if !sl.textured {
				p.stroke(m, s, by)
			}
		}
		sl.moves = s.Clip == nil && !sl.textured
	case s.Text != nil:
		sl.moves, sl.textured = false, true
		if s.Text.Ink != scene.NoInk || s.Text.OnPressure != nil {
			p.text(m, s.Text, by)
		}
	}
}

func grow(q point, scale float64) point { return point{X: q.X * scale, Y: q.Y * scale} }

func grown(r scene.Rect, scale float64) scene.Rect {
	return scene.Rect{Left: r.Left * scale, Top: r.Top * scale, Right: r.Right * scale, Bottom: r.Bottom * scale}
}

// text paints letters, each on its own place to a quarter of a pixel.
func (p *Painter) text(m *mesh, t *scene.Text, by point) {
	x := (t.At.X + by.X) * p.scale
	y := (t.At.Y + by.Y) * p.scale
	switch t.Anchor {
	case scene.Centred:
		x -= letters.Width(t.Size*p.scale, t.Bold, t.Words) / 2
	case scene.FromRight:
		x -= letters.Width(t.Size*p.scale, t.Bold, t.Words)
	}
	whole := func(v float64) (int, uint8) {
		q := int(math.Round(v * places))
		n := q / places
		if q < 0 && n*places != q {
			n--
		}
		return n, uint8(q - n*places)
	}
	size := int32(math.Round(t.Size * p.scale * 64))
	row, down := whole(y)
	letters.Set(t.Size*p.scale, t.Bold, t.Words, func(glyph sfnt.GlyphIndex, at float64) {
		column, right := whole(x + at)
		c := p.atlas.cell(letter{glyph, t.Bold, size, right, down})
		if c.w == 0 {
			return
		}
		n := len(m.corners)
		left, top := float64(column+int(c.left)), float64(row+int(c.top))
		m.bar(left, top, left+float64(c.w), top+float64(c.h), 1)
		for i, d := range [4][2]int16{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
			m.corners[n+i].u, m.corners[n+i].v = float32(c.u+d[0]*c.w), float32(c.v+d[1]*c.h)
		}
	})
}
