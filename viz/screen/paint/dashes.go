package paint

import (
	"math"

	"underdisc/viz/outline"
	"underdisc/viz/scene"
)

// stroke paints a line: dashed, clipped, without points that nobody sees.
func (p *Painter) stroke(m *mesh, s *scene.Shape, by point) {
	t, pen := &p.tool, s.Stroke
	l := &t.lines
	l.Reset()
	l.Flatten(s.Path, by, p.scale, smooth, true)
	t.dash = t.dash[:0]
	for _, d := range pen.Dash {
		t.dash = append(t.dash, d*p.scale)
	}
	var clip *scene.Rect
	if s.Clip != nil {
		t.clip = grown(*s.Clip, p.scale)
		clip = &t.clip
	}
	for i := range l.Len() {
		t.clipped.Reset()
		t.along = t.clipped.Runs(l.At(i), clip, t.along[:0])
		for k := range t.clipped.Len() {
			line := t.clipped.At(k)
			if len(line) > 4 {
				t.fewer.Reset()
				t.fewer.Straighten(line, smooth)
				line = t.fewer.At(0)
			}
			if len(t.dash) == 0 {
				t.line(m, line, pen.Width*p.scale)
				continue
			}
			t.dashes.Reset()
			t.dashes.Dash(line, t.dash, t.along[k]+pen.Phase*p.scale)
			for n := range t.dashes.Len() {
				t.line(m, t.dashes.At(n), pen.Width*p.scale)
			}
		}
	}
}

// upright paints an upright dashed line that stands between pixels of its own:
// as two or three columns of pixels with the dashes as their picture, for the
// marks on the charts are many, and move. It tells whether the shape is one.
func (p *Painter) upright(m *mesh, s *scene.Shape, by point) bool {
	pen := s.Stroke
	if len(pen.Dash) == 0 || len(pen.Dash) > most || pen.Phase != 0 || s.Clip != nil || len(s.Path) != 2 {
		return false
	}
	a, b := grow(s.Path[0].P[0], p.scale), grow(s.Path[1].P[0], p.scale)
	if s.Path[0].Op != scene.MoveTo || s.Path[1].Op != scene.LineTo || a.X != b.X || b.Y <= a.Y || b.Y-a.Y > atlasSide-4 {
		return false
	}
	x, top := a.X+by.X*p.scale, a.Y+by.Y*p.scale
	first := math.Floor(top)
	c := pattern{from: int16(math.Round((top - first) * fine)), long: int32(math.Round((b.Y - a.Y) * fine)), dashes: len(pen.Dash)}
	for i, d := range pen.Dash {
		c.dash[i] = int32(math.Round(d * p.scale * fine))
	}
	at, ok := p.atlas.dashes(c)
	if !ok {
		return false
	}
	half := pen.Width * p.scale / 2
	var edges [4]float64
	var shares [3]float64
	for i := range steps(x-half, x+half, &edges, &shares) {
		n := len(m.corners)
		m.bar(edges[i], first, edges[i+1], first+float64(at.w), shares[i])
		for k, along := range [4]int16{0, 0, at.w, at.w} {
			m.corners[n+k].u, m.corners[n+k].v = float32(at.u+along), float32(at.v)+0.5
		}
	}
	return true
}

// hatch paints the lines of hatching in areas.
func (p *Painter) hatch(m *mesh, l *outline.Lines) {
	t := &p.tool
	pitch, width := outline.Raster(p.scene.Size)
	t.hatches = outline.Hatching(t.hatches[:0], l, pitch*p.scale, &t.crossings)
	for i := range t.hatches {
		t.line(m, t.hatches[i][:], width*p.scale)
	}
}
