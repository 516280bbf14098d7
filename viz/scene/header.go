package scene

import (
	"strings"

	"underdisc/model/explain"
)

// header is the state with its sign, the sentence, and what is shown and when.
func (s *sheet) header() {
	const part = "header"
	at, p := s.p.header, s.p
	s.fill(part, s.box(at, 0), Dark)
	mid := (at.Top + at.Bottom) / 2

	// The state: a sign of its direction and the word.
	f := face{p.text(sizeState), true, Dark}
	word := strings.ToUpper(s.v.State)
	high := 1.5 * f.size
	plate := Rect{at.Left + 0.014*p.size.X, mid - high/2, 0, mid + high/2}
	signWide := 1.15 * f.size
	plate.Right = plate.Left + 0.35*f.size + signWide + 0.3*f.size + s.width(f, word) + 0.45*f.size
	s.fill(part, s.box(plate, p.px(6)), White)
	sign := Rect{plate.Left + 0.35*f.size, mid - 0.5*signWide, plate.Left + 0.35*f.size + signWide, mid + 0.5*signWide}
	s.sign(sign)
	s.text(part, f, sign.Right+0.3*f.size, mid+0.5*capShare*f.size, FromLeft, word)

	// What is shown, and when.
	end := at.Right - 0.014*p.size.X
	if p.views.Width() > 0 {
		end = p.views.Left - 0.012*p.size.X
	}
	room := 0.0
	if p.foot.Width() <= 0 {
		room = s.when(end, mid) + 0.02*p.size.X
	}

	// Why.
	left := plate.Right + 0.016*p.size.X
	wide := end - room - left
	said := face{p.text(sizeSentence), false, White}
	lines := s.v.balance(s.v.Sentence, said.size, false, wide, 2)
	for lines == nil && said.size > p.floor {
		said.size = max(said.size-0.5, p.floor)
		lines = s.v.balance(s.v.Sentence, said.size, false, wide, 2)
	}
	if lines == nil { // the smallest letters, closer
		lines = s.v.balance(s.v.Sentence, said.size, false, wide, 3)
	}
	pitch := 1.22 * said.size
	y := mid + capShare*said.size/2 - pitch*float64(len(lines)-1)/2
	for i, l := range lines {
		s.text(part, said, left, y+pitch*float64(i), FromLeft, l)
	}
	s.spot("why", at, s.say(s.v.State, ". ", s.v.Sentence))
}

// when writes what is shown and the time of the run, up to a right end, and
// returns how wide that is.
func (s *sheet) when(end, mid float64) float64 {
	const part = "header"
	p := s.p
	clock := face{p.text(22), true, White}
	name := face{p.text(sizeSmall), false, White}
	now := s.say(s.number(s.v.Snapshot.T, 3), " s")
	title := s.title(name)
	if valve := s.v.Named(); valve != "" { // which of several
		name = face{name.size, true, White}
		title = valve
	}
	if title == "" || p.wide && s.v.Named() == "" {
		s.text(part, clock, end, mid+capShare*clock.size/2, FromRight, now)
		return s.width(clock, s.say("00", now))
	}
	gap := 0.32 * clock.size
	top := mid - (capShare*(clock.size+name.size)+gap)/2
	s.text(part, name, end, top+capShare*name.size, FromRight, title)
	if n := len(ValveNames(s.v.Model)); n > 1 {
		wide := max(s.width(name, title), s.width(clock, now))
		s.spot("valve", Rect{end - wide, p.header.Top, end, p.header.Bottom}, s.sayValve(n))
	}
	s.text(part, clock, end, top+capShare*(name.size+clock.size)+gap, FromRight, now)
	return max(s.width(clock, s.say("00", now)), s.width(name, title))
}

// sayValve tells which of so many valves is looked at.
func (s *sheet) sayValve(n int) string {
	return s.say(s.v.Named(), ", valve ", s.number(float64(s.v.Valve+1), 0), " of ", s.number(float64(n), 0))
}

// title is the scenario's name, cut to its room.
func (s *sheet) title(f face) string {
	const share = 0.16 // of the width
	title := s.v.Title
	for s.width(f, title) > share*s.p.size.X && len(title) > 4 {
		title = strings.TrimRight(title[:len(title)-4], " ,.-") + "..."
	}
	return title
}

// foot is the projector's strip of time: room for buttons, and the time.
func (s *sheet) foot() {
	at := s.p.foot
	if at.Width() <= 0 {
		return
	}
	s.panel("time", at)
	f := face{s.p.text(22), true, Dark}
	now := s.say(s.number(s.v.Snapshot.T, 3), " s")
	x, y := at.Right-0.014*s.p.size.X, (at.Top+at.Bottom+capShare*f.size)/2
	s.text("time", f, x, y, FromRight, now)
	if valve := s.v.Named(); valve != "" && s.pair == nil { // left of the widest time
		right := x - s.width(f, s.say("00", now))
		s.first("time", f, right, y, FromRight, right-s.p.time.Right-0.3*f.size, valve)
		s.spot("valve", Rect{s.p.time.Right, at.Top, right, at.Bottom}, s.sayValve(len(ValveNames(s.v.Model))))
	}
}

// sign draws which way the disc goes, or how it stands: the seat is the bar on
// top, as in the cutaway.
func (s *sheet) sign(at Rect) {
	const part = "sign"
	w, h := at.Width(), at.Height()
	pt := func(x, y float64) Point { return Point{at.Left + x*w, at.Top + y*h} }
	bar := func(y float64) {
		s.fill(part, s.polygon(pt(0.05, y), pt(0.95, y), pt(0.95, y+0.16), pt(0.05, y+0.16)), Dark)
	}
	down := func(top, bottom, half float64) {
		s.fill(part, s.polygon(pt(0.5-half, top), pt(0.5+half, top), pt(0.5, bottom)), Dark)
	}
	stem := func(top, bottom float64) {
		s.fill(part, s.polygon(pt(0.36, top), pt(0.64, top), pt(0.64, bottom), pt(0.36, bottom)), Dark)
	}
	if s.v.Sealed { // what it does inside is not known
		f := face{max(1.05*h, s.p.floor), true, Dark}
		s.text(part, f, (at.Left+at.Right)/2, (at.Top+at.Bottom)/2+capShare*f.size/2, Centred, "?")
		return
	}
	if s.v.Spring != nil {
		s.springSign(pt, bar, stem, down, w)
		return
	}
	switch s.v.Facts.State {
	case explain.Opening:
		stem(0.02, 0.5)
		down(0.45, 1, 0.45)
	case explain.Closing:
		stem(0.5, 0.98)
		down(0.55, 0, 0.45)
	case explain.Emptying: // disc on its seat, what holds it leaves
		bar(0)
		bar(0.22)
		down(0.56, 0.98, 0.3)
	case explain.Refilling: // disc off its seat, what lifts it comes
		bar(0)
		bar(0.5)
		s.fill(part, s.polygon(pt(0.2, 1), pt(0.8, 1), pt(0.5, 0.72)), Dark)
	case explain.Open:
		bar(0.1)
		bar(0.74)
	case explain.HungOpen: // off its seat, a bolt across
		bar(0.02)
		bar(0.82)
		s.line(part, s.open(pt(0.25, 0.3), pt(0.75, 0.7)), Dark, 0.13*w)
		s.line(part, s.open(pt(0.75, 0.3), pt(0.25, 0.7)), Dark, 0.13*w)
	case explain.Leaking: // on its seat, a drop
		bar(0)
		bar(0.22)
		s.fill(part, append(s.circle(pt(0.5, 0.8), 0.17*h), s.polygon(pt(0.34, 0.75), pt(0.5, 0.44), pt(0.66, 0.75))...), Dark)
	case explain.Cycling: // down and up
		s.line(part, s.arrow(pt(0.26, 0.05), pt(0.26, 0.95), 0.32*w), Dark, 0.12*w)
		s.line(part, s.arrow(pt(0.74, 0.95), pt(0.74, 0.05), 0.32*w), Dark, 0.12*w)
	default:
		bar(0.26)
		bar(0.56)
	}
}
