package screen

import (
	"image"

	"github.com/ebitenui/ebitenui"
	"github.com/ebitenui/ebitenui/input"
	"github.com/ebitenui/ebitenui/widget"
	"github.com/hajimehoshi/ebiten/v2"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// board is the widgets: the bars of buttons, the panel that is open, the
// notice. They are drawn into one image no larger than they need, the regions
// of which are then laid on the picture.
type board struct {
	d       *desk.Desk
	look    *look
	ui      *ebitenui.UI
	root    *widget.Container
	places  *fixed
	regions []region
	stops   map[string]image.Rectangle // where on the screen the stops lie
	fields  map[string]*widget.TextInput
	pace    [2]*widget.Text
	pointer pointer
	clicked func(stop desk.Stop)

	over int // by how much the panel's items are longer than it, px

	image   *ebiten.Image
	size    image.Point // of what is used of it
	stale   bool        // the image must be drawn again
	focused *widget.TextInput
}

func newBoard(d *desk.Desk, clicked func(desk.Stop)) *board {
	b := &board{d: d, clicked: clicked, ui: &ebitenui.UI{DisableDefaultFocus: true}}
	b.pointer.regions = &b.regions
	b.pointer.at = outside
	input.SetCursorUpdater(&b.pointer)
	input.CursorManagementEnabled = false
	return b
}

// build makes the widgets anew: in the rooms that the picture leaves, and over
// it. Sizes are in units of the picture.
func (b *board) build(l *look, sc *scene.Scene, items []desk.Item) {
	b.look, b.regions, b.size, b.stale = l, b.regions[:0], image.Point{}, true
	b.stops, b.fields, b.pace, b.focused = map[string]image.Rectangle{}, map[string]*widget.TextInput{}, [2]*widget.Text{}, nil
	b.places = &fixed{}
	b.ui.ClearFocus()
	b.root = widget.NewContainer(widget.ContainerOpts.Layout(b.places))
	b.ui.Container = b.root
	for _, r := range sc.Rooms {
		at := b.rect(r.At)
		switch {
		case at.Dx() < 24 || at.Dy() < 20:
		case r.Name == "time":
			b.timeBar(b.open(at))
		case r.Name == "views":
			b.viewsBar(b.open(at))
		}
	}
	if line, refused := b.d.Notice(); line != "" {
		b.noticeBox(sc, line, refused)
	}
	if b.d.Panel() != nil {
		b.panel(sc, items)
	}
	b.root.Validate() // input may come before it is drawn
}

// rect is a rectangle of the picture on the screen, px.
func (b *board) rect(r scene.Rect) image.Rectangle {
	s := b.look.scale
	return image.Rect(int(r.Left*s+0.5), int(r.Top*s+0.5), int(r.Right*s+0.5), int(r.Bottom*s+0.5))
}

// open adds a region of the screen.
func (b *board) open(at image.Rectangle) (pane, image.Rectangle) {
	corner := image.Pt(0, b.size.Y)
	b.regions = append(b.regions, region{from: image.Rectangle{Max: at.Size()}.Add(corner), to: at.Min})
	b.size = image.Pt(max(b.size.X, at.Dx()), b.size.Y+at.Dy())
	return pane{b: b, corner: corner, to: at.Min}, image.Rectangle{Max: at.Size()}
}

// update lets the widgets have the input of this tick.
func (b *board) update() {
	focused := b.fields[b.d.Focus()]
	if focused != b.focused {
		b.focused = focused
		if focused == nil {
			b.ui.ClearFocus()
		} else {
			b.ui.SetFocusedWidget(focused)
			focused.SelectAll()
		}
		b.stale = true
	}
	b.ui.Update()
	if b.pointer.stirs() && (b.pointer.over() || b.focused != nil) {
		b.stale = true
	}
	// A click gives the widgets' own focus; only a field keeps it.
	if f := b.ui.GetFocusedWidget(); f != nil && f != widget.Focuser(b.focused) {
		for name, t := range b.fields {
			if f == widget.Focuser(t) {
				b.focused = t
				b.clicked(desk.Stop{Item: &desk.Item{Kind: desk.Field, Name: name[len("item "):]}})
				return
			}
		}
		b.ui.ClearFocus()
		if b.focused != nil {
			b.ui.SetFocusedWidget(b.focused)
		}
	} else if f == nil && b.focused != nil {
		b.ui.SetFocusedWidget(b.focused)
	}
}

// draw draws the widgets into their image, if they have changed.
func (b *board) draw() {
	if !b.stale || b.size.X == 0 {
		return
	}
	b.stale = false
	if b.image == nil || b.image.Bounds().Dx() < b.size.X || b.image.Bounds().Dy() < b.size.Y {
		if b.image != nil {
			b.image.Deallocate()
		}
		b.image = ebiten.NewImage(b.size.X, b.size.Y)
	}
	b.image.Clear()
	b.ui.Draw(b.image)
}

// lay lays the regions on the screen.
func (b *board) lay(screen *ebiten.Image) {
	if b.image == nil {
		return
	}
	var op ebiten.DrawImageOptions
	for _, r := range b.regions {
		op.GeoM.Reset()
		op.GeoM.Translate(float64(r.to.X), float64(r.to.Y))
		screen.DrawImage(b.image.SubImage(r.from).(*ebiten.Image), &op)
	}
}
