package screen

import (
	"image"

	"github.com/ebitenui/ebitenui/widget"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// commandButton is a button of a bar.
func (p pane) commandButton(name string, g ground, r image.Rectangle) {
	c := desk.Find(name)
	stop := desk.Stop{Command: c}
	off := c.Can != nil && !c.Can(p.b.d)
	p.button(c.Word(p.b.d), c.On != nil && c.On(p.b.d) && !off, g, off, r, func() { p.b.clicked(stop) })
	p.mark(stop.Name(), r)
}

// button is any button.
func (p pane) button(words string, on bool, g ground, off bool, r image.Rectangle, do func()) *widget.Button {
	l := p.b.look
	img, ink := l.button(on, g)
	w := widget.NewButton(
		widget.ButtonOpts.Image(img),
		widget.ButtonOpts.Text(l.fit(sizeSmall, g == strong || on, words, r.Dx()-2*l.px(4)), l.face(sizeSmall, g == strong || on), ink),
		widget.ButtonOpts.ClickedHandler(func(*widget.ButtonClickedEventArgs) { do() }),
	)
	w.DisableDefaultKeys = true
	w.GetWidget().Disabled = off
	p.put(w, r)
	return w
}

// label is a line of text, its middle at that of the rectangle.
func (p pane) label(words string, base float64, bold bool, ink scene.Ink, h widget.TextPosition, r image.Rectangle) *widget.Text {
	l := p.b.look
	w := widget.NewText(
		widget.TextOpts.Text(words, l.face(base, bold), ink.Color()),
		widget.TextOpts.Position(h, widget.TextPositionCenter),
	)
	p.put(w, r)
	return w
}

// fit is a text, cut if it is too wide.
func (l *look) fit(base float64, bold bool, words string, width int) string {
	if l.width(base, bold, words) <= width {
		return words
	}
	r := []rune(words)
	for len(r) > 1 && l.width(base, bold, string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// timeBar has the buttons of time and says how it goes: in two rows and a line,
// or all in one row where the room is low.
func (b *board) timeBar(p pane, r image.Rectangle) {
	l := b.look
	pad, gap := l.px(8), l.px(6)
	if r.Dx() > 6*r.Dy() {
		var all []string
		for _, row := range desk.TimeBar {
			all = append(all, row...)
		}
		in := r.Inset(pad)
		words := in
		in.Max.X -= in.Dx() / 3
		p.row(all, plain, in, gap)
		words.Min.X = in.Max.X + 2*gap
		half := words
		half.Max.Y = (words.Min.Y + words.Max.Y) / 2
		words.Min.Y = half.Max.Y
		b.pace[0] = p.label("", sizeSmall, true, scene.Dark, widget.TextPositionStart, half)
		b.pace[1] = p.label("", sizeSmall, false, scene.Dark, widget.TextPositionStart, words)
		b.setPace()
		return
	}
	in := r.Inset(pad)
	line := int(1.35 * l.text(sizeSmall))
	high := (in.Dy() - line - 2*gap) / 2
	top := in
	top.Max.Y = top.Min.Y + high
	p.row(desk.TimeBar[0], plain, top, gap)
	p.row(desk.TimeBar[1], plain, top.Add(image.Pt(0, high+gap)), gap)
	words := image.Rect(in.Min.X, in.Max.Y-line, in.Max.X, in.Max.Y)
	b.pace[0] = p.label("", sizeSmall, true, scene.Dark, widget.TextPositionStart, words)
	b.pace[1] = p.label("", sizeSmall, false, scene.Dark, widget.TextPositionEnd, words)
	b.setPace()
}

// row is a row of buttons of one width.
func (p pane) row(names []string, g ground, r image.Rectangle, gap int) {
	n := len(names)
	for i, name := range names {
		at := r
		at.Min.X = r.Min.X + i*(r.Dx()+gap)/n
		at.Max.X = r.Min.X + (i+1)*(r.Dx()+gap)/n - gap
		mine := g
		if name == "run" {
			mine = strong
		}
		p.commandButton(name, mine, at)
	}
}

// viewsBar has the buttons of what is seen.
func (b *board) viewsBar(p pane, r image.Rectangle) { p.row(desk.ViewsBar, onDark, r, b.look.px(6)) }

// setPace says how time goes now; it tells whether that has changed.
func (b *board) setPace() bool {
	if b.pace[0] == nil {
		return false
	}
	state, measure := desk.PaceWords(b.d.Session.Pace())
	if b.pace[0].Label == state && b.pace[1].Label == measure {
		return false
	}
	b.pace[0].Label, b.pace[1].Label = state, measure
	b.stale = true
	return true
}

// noticeBox says what was last done, or refused, at the foot of the cutaway.
func (b *board) noticeBox(sc *scene.Scene, line string, refused bool) {
	l := b.look
	pad := l.px(12)
	lines := l.wrap(sizeText, true, line, int(0.48*sc.Size.X*l.scale)-2*pad)
	wide, pitch := 0, int(1.3*l.text(sizeText))
	for _, s := range lines {
		wide = max(wide, l.width(sizeText, true, s))
	}
	left, bottom := int(0.018*sc.Size.X*l.scale), int(0.842*sc.Size.Y*l.scale)
	p, r := b.open(image.Rect(left, bottom-pitch*len(lines)-2*pad, left+wide+2*pad+l.px(2), bottom))
	fill, ink := scene.White, scene.Dark
	if refused {
		fill = scene.Ahead
	}
	p.put(widget.NewContainer(widget.ContainerOpts.BackgroundImage(l.box(fill, scene.Dark, 3))), r)
	for i, s := range lines {
		at := image.Rect(pad, pad+i*pitch, r.Max.X-pad, pad+(i+1)*pitch)
		p.label(s, sizeText, true, ink, widget.TextPositionStart, at)
	}
}
