package screen

import (
	"image"

	"github.com/ebitenui/ebitenui/widget"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// panelPlaces are where a panel may lie, the first in which its items fit: over
// the charts, so that two runs stay in sight; over forces and charts; over all
// of the picture between header and time.
func (b *board) panelPlaces(size scene.Point) []scene.Rect {
	lefts := []float64{0.5375, 0.010}
	top, bottom := 0.093, 0.849
	switch {
	case b.d.Projector:
		lefts[0] = 0.615
		top, bottom = 0.130, 0.9165
	case b.d.Beside && b.d.Two() && 0.2975*size.X >= 440:
		lefts = []float64{0.6925, 0.5375, 0.010}
	}
	var out []scene.Rect
	for _, left := range lefts {
		out = append(out, scene.Rect{Left: left * size.X, Right: 0.990 * size.X, Top: top * size.Y, Bottom: bottom * size.Y})
	}
	return out
}

// sheet is a panel being filled, from the top down.
type sheet struct {
	pane
	l       *look
	x, w, y int
	dry     bool // only to see how high it is
	whole   bool // over the whole picture
	columns int
	rows    int // of a list
}

// panel makes the widgets of the open panel.
func (b *board) panel(sc *scene.Scene, items []desk.Item) {
	l := b.look
	pad, top := l.px(16), l.px(16)+int(1.4*l.text(sizeTitle))+l.px(8)
	s := sheet{l: l, x: pad, y: top, columns: 0}
	places := b.panelPlaces(sc.Size)
	var r image.Rectangle
	for i, at := range places {
		r = b.rect(at)
		s.w, s.whole = r.Dx()-2*pad, len(places) > 1 && i == len(places)-1
		if _, ok := b.d.Panel().(desk.Short); ok {
			s.columns = s.columnsFor(items)
		}
		probe := s
		probe.dry = true
		probe.fill(items)
		spare := r.Dy() - pad - probe.y
		b.over = -spare
		s.rows = 1 << 20
		if spare >= 0 {
			break
		}
		for j := range items {
			if items[j].Kind == desk.List {
				_, rows := probe.listShape(&items[j])
				s.rows = max(rows-(-spare+l.row()+l.px(4)-1)/(l.row()+l.px(4)), 2)
				b.over = -spare - (rows-s.rows)*(l.row()+l.px(4))
			}
		}
	}
	p, r := b.open(r)
	s.pane = p
	p.put(widget.NewContainer(widget.ContainerOpts.BackgroundImage(l.box(scene.Panel, scene.Dark, 3))), r)
	title := image.Rect(pad, pad, r.Max.X-pad, top-l.px(8))
	p.label(b.d.Panel().Title(), sizeTitle, true, scene.Dark, widget.TextPositionStart, title)
	s.fill(items)
}

// fill puts the items on it.
func (s *sheet) fill(items []desk.Item) {
	if s.columns > 0 {
		s.inColumns(items, s.columns)
		return
	}
	s.all(items)
}

// columnsFor is how many columns have room for the widest of the items.
func (s *sheet) columnsFor(items []desk.Item) int {
	l, wide := s.l, 1
	for i := range items {
		wide = max(wide, l.width(sizeSmall, false, items[i].Text)+l.width(sizeSmall, true, items[i].Beside)+l.px(26))
	}
	gap := l.px(12)
	return max((s.w+gap)/(wide+gap), 1)
}

// inColumns puts items into columns of equal length.
func (s *sheet) inColumns(items []desk.Item, n int) {
	gap, top := s.l.px(12), s.y
	each := (len(items) + n - 1) / n
	wide := (s.w + gap) / n
	for c := range n {
		col := *s
		col.x, col.w, col.y = s.x+c*wide, wide-gap, top
		for i := c * each; i < min((c+1)*each, len(items)); i++ {
			col.line(&items[i])
		}
		s.y = max(s.y, col.y)
	}
}

// line is an item on one line: a button or words, and at its end what stands
// beside it.
func (s *sheet) line(it *desk.Item) {
	l := s.l
	r := image.Rect(s.x, s.y, s.x+s.w, s.y+l.row())
	s.y = r.Max.Y + l.px(4)
	if s.dry {
		return
	}
	in := r
	in.Min.X += l.px(8)
	in.Max.X -= l.px(8)
	key := l.width(sizeSmall, true, it.Beside)
	ink := scene.Dark
	if it.Kind == desk.Press {
		s.press(it, "", r)
		switch {
		case it.On:
			ink = scene.White
		case it.Off:
			ink = scene.Soft
		}
	}
	s.label(l.fit(sizeSmall, false, it.Text, in.Dx()-key-l.px(8)), sizeSmall, false, ink, widget.TextPositionStart, in)
	s.label(it.Beside, sizeSmall, true, ink, widget.TextPositionEnd, in)
}

// all puts items below each other; buttons that follow each other stand side by
// side.
func (s *sheet) all(items []desk.Item) {
	for i := 0; i < len(items); i++ {
		it := &items[i]
		switch it.Kind {
		case desk.Words:
			if i > 0 && items[i-1].Kind == desk.Choice {
				s.space() // below the ring of the focus
			}
			s.words(it.Text, sizeText, it.Strong)
		case desk.Caution:
			s.caution(it.Text)
		case desk.Field:
			s.field(it)
		case desk.Choice:
			s.choice(it)
		case desk.List:
			s.list(it)
		case desk.Press:
			n := 1
			for i+n < len(items) && items[i+n].Kind == desk.Press {
				n++
			}
			s.presses(items[i : i+n])
			i += n - 1
		}
	}
}

func (s *sheet) space() { s.y += s.l.px(8) }

// words are some lines of text.
func (s *sheet) words(text string, base float64, bold bool) {
	pitch := int(1.28 * s.l.text(base))
	for _, line := range s.l.wrap(base, bold, text, s.w) {
		if !s.dry {
			s.label(line, base, bold, scene.Dark, widget.TextPositionStart, image.Rect(s.x, s.y, s.x+s.w, s.y+pitch))
		}
		s.y += pitch
	}
	s.space()
}

// caution is a text on its own ground, between two lines.
func (s *sheet) caution(text string) {
	l, pad := s.l, s.l.px(8)
	pitch := int(1.26 * l.text(sizeSmall))
	lines := l.wrap(sizeSmall, false, text, s.w-2*pad)
	r := image.Rect(s.x, s.y, s.x+s.w, s.y+pitch*len(lines)+2*pad)
	if !s.dry {
		s.put(widget.NewContainer(widget.ContainerOpts.BackgroundImage(l.box(scene.Ground, scene.Dark, 1.5))), r)
		for i, line := range lines {
			s.label(line, sizeSmall, false, scene.Dark, widget.TextPositionStart, image.Rect(r.Min.X+pad, r.Min.Y+pad+i*pitch, r.Max.X-pad, r.Min.Y+pad+(i+1)*pitch))
		}
	}
	s.y = r.Max.Y
	s.space()
}

// press is a button that stands for an item.
func (s *sheet) press(it *desk.Item, words string, r image.Rectangle) {
	stop := desk.Stop{Item: it}
	s.button(words, it.On, groundOf(it), it.Off, r, func() { s.b.clicked(stop) })
	s.mark(stop.Name(), r)
}

func groundOf(it *desk.Item) ground {
	if it.Strong {
		return strong
	}
	return plain
}

func (s *sheet) presses(items []desk.Item) {
	l := s.l
	x := s.x
	for i := range items {
		it := &items[i]
		words := it.Text
		w := l.width(sizeSmall, it.Strong, words) + l.px(36)
		r := image.Rect(x, s.y, x+w, s.y+l.row())
		if !s.dry {
			s.press(it, words, r)
			if it.Beside != "" {
				at := image.Rect(r.Max.X+l.px(8), r.Min.Y, s.x+s.w, r.Max.Y)
				s.label(l.fit(sizeSmall, false, it.Beside, at.Dx()), sizeSmall, false, scene.Soft, widget.TextPositionStart, at)
			}
		}
		x = r.Max.X + l.px(14)
		if it.Beside != "" {
			x += l.px(8) + l.width(sizeSmall, false, it.Beside)
		}
	}
	s.y += l.row()
	for i := range items {
		s.trouble(items[i].Wrong)
	}
	s.space()
}

// trouble is what is wrong with an item, below it.
func (s *sheet) trouble(line string) {
	if line == "" {
		return
	}
	s.y += s.l.px(8) // below the ring of the focus
	s.words("» "+line, sizeSmall, true)
	s.y -= s.l.px(8)
}
