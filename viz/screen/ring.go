package screen

import (
	"image"
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// ring is where the ring of the focus lies, if it is shown.
func (g *Game) ring() (image.Rectangle, bool) {
	if !g.ringed && !g.desk.Typing() {
		return image.Rectangle{}, false
	}
	name := g.desk.Focus()
	if name == "" {
		return image.Rectangle{}, false
	}
	if r, ok := g.board.stops[name]; ok {
		return r, true
	}
	for i := range g.shown.Spots {
		if s := &g.shown.Spots[i]; desk.IsAt(name, s) {
			return g.board.rect(s.At), true
		}
	}
	return image.Rectangle{}, false
}

// ring draws the focus: a line of ink, and white between it and what it goes
// round.
func (p *picture) ring(screen *ebiten.Image, at image.Rectangle, scale float64) {
	if p.dot == nil {
		p.dot = ebiten.NewImage(3, 3)
		p.dot.Fill(color.White)
	}
	px := func(x float64) int { return max(int(x*scale+0.5), 1) }
	gap, line := px(3), px(4)
	within := screen.Bounds()
	if most := within.Inset(gap + line); !at.In(most) { // at the edge the ring comes inside
		at = at.Intersect(most)
	}
	p.frame(screen, at.Inset(-gap), gap, scene.White)
	p.frame(screen, at.Inset(-gap-line), line, scene.Dark)
}

// frame draws the edge of a rectangle, inside it.
func (p *picture) frame(screen *ebiten.Image, r image.Rectangle, wide int, ink scene.Ink) {
	for _, s := range [4]image.Rectangle{
		{r.Min, image.Pt(r.Max.X, r.Min.Y+wide)}, {image.Pt(r.Min.X, r.Max.Y-wide), r.Max},
		{r.Min, image.Pt(r.Min.X+wide, r.Max.Y)}, {image.Pt(r.Max.X-wide, r.Min.Y), r.Max},
	} {
		var op ebiten.DrawImageOptions
		op.GeoM.Scale(float64(s.Dx())/3, float64(s.Dy())/3)
		op.GeoM.Translate(float64(s.Min.X), float64(s.Min.Y))
		op.ColorScale.ScaleWithColor(ink.Color())
		screen.DrawImage(p.dot, &op)
	}
}
