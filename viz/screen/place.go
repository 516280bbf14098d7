package screen

import (
	"image"

	"github.com/ebitenui/ebitenui/widget"
)

// fixed is a layout whose places have been found beforehand.
type fixed struct{ at []image.Rectangle }

// PreferredSize implements widget.Layouter.
func (f *fixed) PreferredSize([]widget.PreferredSizeLocateableWidget) (int, int) {
	var all image.Rectangle
	for _, r := range f.at {
		all = all.Union(r)
	}
	return all.Dx(), all.Dy()
}

// Layout implements widget.Layouter.
func (f *fixed) Layout(ws []widget.PreferredSizeLocateableWidget, _ image.Rectangle) {
	for i, w := range ws {
		w.SetLocation(f.at[i])
	}
}

// region is a piece of the widgets' image and where it lies on the screen.
type region struct {
	from image.Rectangle // in the widgets' image
	to   image.Point     // its corner on the screen, px
}

func (r region) onScreen() image.Rectangle { return r.from.Sub(r.from.Min).Add(r.to) }

// pane is a region being filled: places in it count from its own corner.
type pane struct {
	b      *board
	corner image.Point // in the widgets' image
	to     image.Point // on the screen
}

// put adds a widget.
func (p pane) put(w widget.PreferredSizeLocateableWidget, r image.Rectangle) {
	p.b.root.AddChild(w)
	p.b.places.at = append(p.b.places.at, r.Add(p.corner))
}

// mark notes where on the screen a stop lies, so that it can be ringed.
func (p pane) mark(stop string, r image.Rectangle) { p.b.stops[stop] = r.Add(p.to) }
