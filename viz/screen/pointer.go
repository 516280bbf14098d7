package screen

import (
	"image"

	"github.com/hajimehoshi/ebiten/v2"
)

// pointer is the mouse or a finger, as the widgets see it: in their own image,
// or outside of it.
type pointer struct {
	regions *[]region
	at      image.Point // on the screen, px
	down    bool
	was     bool
	touches []ebiten.TouchID
	seen    image.Point // at, a tick ago
}

// outside of every widget.
var outside = image.Pt(-1<<20, -1<<20)

// Update implements input.CursorUpdater.
func (p *pointer) Update() {
	p.was, p.seen = p.down, p.at
	p.touches = ebiten.AppendTouchIDs(p.touches[:0])
	if len(p.touches) > 0 {
		p.at = image.Pt(ebiten.TouchPosition(p.touches[0]))
		p.down = true
		return
	}
	p.down = ebiten.IsMouseButtonPressed(ebiten.MouseButtonLeft)
	if at := image.Pt(ebiten.CursorPosition()); at != (image.Point{}) || !p.was {
		p.at = at // after a finger there is no cursor, and the finger's place stays
	}
}

// stirs tells whether it has done anything since the last tick.
func (p *pointer) stirs() bool { return p.down || p.was || p.at != p.seen }

// over tells whether it is on a region.
func (p *pointer) over() bool {
	for _, r := range *p.regions {
		if p.at.In(r.onScreen()) {
			return true
		}
	}
	return false
}

// CursorPosition implements input.CursorUpdater.
func (p *pointer) CursorPosition() (x, y int) {
	at := outside
	for _, r := range *p.regions { // the last lies on top
		if p.at.In(r.onScreen()) {
			at = p.at.Sub(r.to).Add(r.from.Min)
		}
	}
	return at.X, at.Y
}

// MouseButtonPressed implements input.CursorUpdater.
func (p *pointer) MouseButtonPressed(b ebiten.MouseButton) bool {
	return b == ebiten.MouseButtonLeft && p.down
}

// MouseButtonJustPressed implements input.CursorUpdater.
func (p *pointer) MouseButtonJustPressed(b ebiten.MouseButton) bool {
	return b == ebiten.MouseButtonLeft && p.down && !p.was
}

// MouseButtonJustReleased implements input.CursorUpdater.
func (p *pointer) MouseButtonJustReleased(b ebiten.MouseButton) bool {
	return b == ebiten.MouseButtonLeft && !p.down && p.was
}

// AfterUpdate, Draw and AfterDraw implement input.CursorUpdater.
func (p *pointer) AfterUpdate()            {}
func (p *pointer) Draw(*ebiten.Image)      {}
func (p *pointer) AfterDraw(*ebiten.Image) {}

// GetCursorImage implements input.CursorUpdater: the system's own.
func (p *pointer) GetCursorImage(string) *ebiten.Image { return nil }

// GetCursorOffset implements input.CursorUpdater.
func (p *pointer) GetCursorOffset(string) image.Point { return image.Point{} }
