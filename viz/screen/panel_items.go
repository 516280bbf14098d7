package screen

import (
	"fmt"
	"image"

	"github.com/ebitenui/ebitenui/widget"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// labelled puts an item's label at the left and returns what is left of its
// row.
func (s *sheet) labelled(it *desk.Item) image.Rectangle {
	r := image.Rect(s.x, s.y, s.x+s.w, s.y+s.l.row())
	if it.Text == "" {
		return r
	}
	label := r
	label.Max.X = r.Min.X + int(0.26*float64(s.w))
	if !s.dry {
		s.label(s.l.fit(sizeText, false, it.Text, label.Dx()), sizeText, false, scene.Dark, widget.TextPositionStart, label)
	}
	r.Min.X = label.Max.X + s.l.px(8)
	return r
}

// beside writes what stands beside an item's value, below it if there is no
// room at its end.
func (s *sheet) beside(it *desk.Item, row image.Rectangle, x int) {
	l := s.l
	s.y = row.Max.Y
	if it.Beside != "" {
		at := image.Rect(x+l.px(10), row.Min.Y, row.Max.X, row.Max.Y)
		if l.width(sizeSmall, false, it.Beside) > at.Dx() {
			s.y += l.px(6) // below the ring of the focus
			at = image.Rect(row.Min.X, s.y, row.Max.X, s.y+int(1.28*l.text(sizeSmall)))
			s.y = at.Max.Y
		}
		if !s.dry {
			s.label(l.fit(sizeSmall, false, it.Beside, at.Dx()), sizeSmall, false, scene.Soft, widget.TextPositionStart, at)
		}
	}
	s.trouble(it.Wrong)
	s.space()
}

// field is a text to type, between buttons that step it if it can be stepped.
func (s *sheet) field(it *desk.Item) {
	l := s.l
	row := s.labelled(it)
	wide := min(row.Dx(), max(int(9*l.text(sizeText)), row.Dx()/3))
	r := image.Rect(row.Min.X, row.Min.Y, row.Min.X+wide, row.Max.Y)
	x := r.Max.X
	if it.Step != nil {
		less := image.Rect(r.Min.X, r.Min.Y, r.Min.X+l.row(), r.Max.Y)
		r = r.Add(image.Pt(less.Dx()+l.px(4), 0))
		more := less.Add(image.Pt(r.Max.X+l.px(4)-less.Min.X, 0))
		x = more.Max.X
		if !s.dry {
			s.button("−", false, plain, false, less, func() { s.b.clicked(desk.Stop{Item: it}); it.Step(-1) })
			s.button("+", false, plain, false, more, func() { s.b.clicked(desk.Stop{Item: it}); it.Step(1) })
		}
	}
	if !s.dry {
		s.typed(it, r)
	}
	if it.Button != "" {
		at := image.Rect(x+l.px(8), row.Min.Y, x+l.px(8)+l.width(sizeSmall, false, it.Button)+l.px(24), row.Max.Y)
		x = at.Max.X
		if !s.dry {
			s.button(it.Button, false, plain, false, at, func() { s.b.clicked(desk.Stop{Item: it}); s.b.do(it) })
		}
	}
	s.beside(it, row, x)
}

func (s *sheet) typed(it *desk.Item, r image.Rectangle) {
	l := s.l
	dark, soft := scene.Dark.Color(), scene.Soft.Color()
	stop := desk.Stop{Item: it}
	was := it.Value // which the field reports as new, too
	t := widget.NewTextInput(
		widget.TextInputOpts.Image(&widget.TextInputImage{Idle: l.box(scene.White, scene.Dark, 2), Disabled: l.box(scene.Ground, scene.Hatch, 2),
			Highlight: l.box(scene.Hatch, scene.Hatch, 0)}),
		widget.TextInputOpts.Face(l.face(sizeText, false)),
		widget.TextInputOpts.Color(&widget.TextInputColor{Idle: dark, Disabled: soft, Caret: dark, DisabledCaret: soft}),
		widget.TextInputOpts.Padding(&widget.Insets{Left: l.px(8), Right: l.px(8), Top: max((r.Dy()-int(1.15*l.text(sizeText)))/2, 0)}),
		widget.TextInputOpts.CaretWidth(l.px(2)),
		widget.TextInputOpts.SubmitOnEnter(false),
		widget.TextInputOpts.ChangedHandler(func(a *widget.TextInputChangedEventArgs) {
			if a.InputText != was {
				was, it.Value = a.InputText, a.InputText
				it.Type(a.InputText)
			}
		}),
	)
	s.put(t, r)
	t.SetText(it.Value)
	s.b.fields[stop.Name()] = t
	s.mark(stop.Name(), r)
}

// choice is a row of buttons of which one is on.
func (s *sheet) choice(it *desk.Item) {
	l := s.l
	row := s.labelled(it)
	x := row.Min.X
	for i, o := range it.Options {
		w := l.width(sizeSmall, true, o) + l.px(20)
		r := image.Rect(x, row.Min.Y, x+w, row.Max.Y)
		if !s.dry {
			s.button(o, i == it.Picked, plain, it.Off, r, func() { s.b.clicked(desk.Stop{Item: it}); s.b.pick(it, i) })
		}
		x = r.Max.X + l.px(3)
	}
	if !s.dry {
		s.mark(desk.Stop{Item: it}.Name(), image.Rect(row.Min.X, row.Min.Y, x-l.px(3), row.Max.Y))
	}
	s.beside(it, row, x)
}

// pick chooses an option by pointer.
func (b *board) pick(it *desk.Item, i int) {
	if it.Pick != nil {
		it.Pick(i)
	}
}

// do does what an item is for, by pointer.
func (b *board) do(it *desk.Item) {
	it.Do()
	b.d.Touch()
}

// listShape is in how many columns and rows a list stands, if it has all the
// height it wants: no more columns than fit.
func (s *sheet) listShape(it *desk.Item) (cols, rows int) {
	l := s.l
	wide := 0
	for _, o := range it.Options {
		wide = max(wide, l.width(sizeSmall, true, o)+l.px(20))
	}
	gap := l.px(4)
	cols = max((s.w+gap)/(wide+gap), 1)
	if cols > 2 && !s.whole {
		cols = min(cols, 3)
	}
	return cols, (len(it.Options) + cols - 1) / cols
}

// list is a choice among many, in columns; what does not fit is on further
// pages.
func (s *sheet) list(it *desk.Item) {
	l := s.l
	cols, rows := s.listShape(it)
	gap := l.px(4)
	each, high := (s.w+gap)/cols, l.row()+gap
	if s.dry {
		s.y += rows*high - gap
		s.space()
		return
	}
	first, last := 0, len(it.Options)
	if rows > s.rows { // a row for turning pages
		rows = max(s.rows-1, 1)
		n := rows * cols
		page := max(it.Picked, 0) / n
		first, last = page*n, min((page+1)*n, len(it.Options))
		defer s.pages(it, page, n)
	}
	all := image.Rect(s.x, s.y, s.x+s.w, s.y+rows*high-gap)
	for i := first; i < last; i++ {
		c, r := (i-first)/rows, (i-first)%rows
		at := image.Rect(s.x+c*each, s.y+r*high, s.x+(c+1)*each-gap, s.y+(r+1)*high-gap)
		s.button(it.Options[i], i == it.Picked, plain, false, at, func() { s.b.clicked(desk.Stop{Item: it}); s.b.pick(it, i) })
	}
	s.mark(desk.Stop{Item: it}.Name(), all)
	s.y = all.Max.Y
	s.space()
}

// pages are the buttons that turn a list's pages.
func (s *sheet) pages(it *desk.Item, page, each int) {
	l := s.l
	n := (len(it.Options) + each - 1) / each
	turn := func(to int) func() {
		return func() { s.b.pick(it, min(max(to, 0), n-1)*each) }
	}
	r := image.Rect(s.x, s.y, s.x+2*l.row(), s.y+l.row())
	s.button("‹", false, plain, page == 0, r, turn(page-1))
	s.button("›", false, plain, page == n-1, r.Add(image.Pt(r.Dx()+l.px(4), 0)), turn(page+1))
	s.label(fmt.Sprintf("page %d of %d", page+1, n), sizeSmall, false, scene.Dark, widget.TextPositionStart, image.Rect(r.Max.X+r.Dx()+l.px(16), r.Min.Y, s.x+s.w, r.Max.Y))
	s.y = r.Max.Y
	s.space()
}
