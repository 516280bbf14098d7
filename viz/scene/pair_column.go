package scene

import (
	"math"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// state is the state's word as headings have it.
func (s *sheet) state() string { return strings.ToUpper(s.v.State) }

// column is one run of a pair: its letter and state, its links, its cutaway, and
// the chamber's pressure against the one that decides.
func (s *sheet) column(at Rect) {
	s.panel(s.part("run"), at)
	h, label := s.heading(), s.label()
	pad := 0.03 * at.Width()
	y := at.Top + 0.55*h.size
	s.letter(Rect{at.Left + pad, y, at.Left + pad + 1.6*h.size, y + 1.6*h.size})
	x := at.Left + pad + 2.1*h.size
	base := y + 0.8*h.size + capShare*h.size/2
	end := s.text(s.part("state"), h, x, base, FromLeft, s.state())
	s.first(s.part("state"), label, at.Right-pad, base, FromRight, at.Right-pad-end-label.size, s.vessel()...)

	r := s.radius()
	row := y + 1.6*h.size + 0.55*label.size + 1.22*r
	if s.sp == nil {
		s.links(at, row, r)
	} else if !s.v.Sealed {
		s.springRow(at, row, r)
	}
	top := row + 1.22*r + 2.1*s.small().size
	foot := at.Bottom - s.barHeight()
	if s.sp != nil {
		s.springColumn(Rect{at.Left, top, at.Right, at.Bottom}, pad, foot)
		return
	}
	if s.v.Sealed {
		s.sealedColumn(Rect{at.Left, top, at.Right, at.Bottom})
		return
	}
	in := s.inside(Rect{at.Left, top, at.Right, foot})
	s.insideSpots(in)
	s.chamberBar(Rect{at.Left + pad, foot, at.Right - pad, at.Bottom})
}

// part is the name of a part of one of the runs.
func (s *sheet) part(name string) string { return s.say(name, " ", s.lane) }

// letter draws the run's letter: A on dark, B with a dashed edge, as their lines
// are.
func (s *sheet) letter(at Rect) {
	part, f, k := s.part("run"), s.heading(), s.p.scale
	path := s.box(at, 0.2*at.Height())
	if s.lane == laneA {
		s.fill(part, path, Dark)
		f.ink = White
	} else {
		s.line(part, path, Dark, 3*k, 7*k, 4*k)
	}
	s.text(part, f, (at.Left+at.Right)/2, (at.Top+at.Bottom)/2+capShare*f.size/2, Centred, s.lane)
}

// vessel is its pressure in several wordings.
func (s *sheet) vessel() []string {
	p := s.pressureUnit(s.v.Units, s.st.Vessel)
	return []string{s.say(strings.ToLower(s.v.vesselName()), " ", p), p}
}

// links are the six links in a row.
func (s *sheet) links(at Rect, y, r float64) {
	part, k := s.part("links"), s.p.scale
	small := s.small()
	small.ink, small.bold = Dark, true
	pitch := at.Width() / 6
	x := func(link int) float64 { return at.Left + pitch*(float64(link)-0.5) }
	for link := 2; link <= 6; link++ {
		a, b := Point{x(link-1) + 1.35*r, y}, Point{x(link) - 1.35*r, y}
		if s.stands(link-1) == Done && s.stands(link) != ToCome {
			s.line(part, s.open(a, b), Dark, 4*k)
		} else {
			s.line(part, s.open(a, b), Soft, 2*k, 2*k, 5*k)
		}
	}
	for link := 1; link <= 6; link++ {
		how := s.stands(link)
		s.badge(part, Point{x(link), y}, r, link, how)
		words := s.linkWord(link)
		s.first(part, small, x(link), y+1.22*r+0.35*small.size+capShare*small.size, Centred, pitch-0.3*small.size, words)
		if link <= lastOutside { // the others are where the cutaway has them
			s.spotOf(link, Rect{x(link) - pitch/2, y - 1.3*r, x(link) + pitch/2, y + 1.3*r + 1.5*small.size}, words)
		}
	}
}

// linkWord is the state of a link in a word.
func (s *sheet) linkWord(link int) string {
	if !s.v.tells(link) {
		return "?"
	}
	c := &s.st.Control
	either := func(is bool, yes, no string) string {
		switch {
		case !c.Fitted:
			return "none"
		case is:
			return yes
		}
		return no
	}
	switch explain.Link(link) {
	case explain.Switch:
		return either(c.Made, "made", "open")
	case explain.Relay:
		return either(c.RelayOn, "on", "off")
	case explain.Coil:
		return s.say(s.current(s.st.Coil.Current), " A")
	case explain.Pilot:
		return s.liftWord(s.st.Pilot.Hold, s.st.Pilot.Lift)
	case explain.Chamber:
		return s.pressure(s.v.Units, s.st.Below)
	}
	return s.liftWord(s.st.Disc.Hold, s.st.Disc.Lift)
}

func (s *sheet) liftWord(h plant.Hold, lift float64) string {
	switch h {
	case plant.HeldShut:
		return "shut"
	case plant.HeldOpen:
		return "open"
	}
	return s.mm(lift)
}

// barHeight is the room of the chamber's bar and its words.
func (s *sheet) barHeight() float64 {
	return 3.9*s.label().size + 1.5*s.label().size + 1.9*s.heading().size
}

// chamberBar is the chamber's pressure on the range of the colours, the pressure
// that decides, and how far it is from there.
func (s *sheet) chamberBar(at Rect) {
	part, u, k := s.part("chamber bar"), s.v.Units, s.p.scale
	label, strong, small, h := s.label(), s.strong(), s.small(), s.heading()
	small.ink = Dark
	heading, dp, known, lines := s.marginWords()
	s.line(part, s.open(Point{at.Left, at.Top}, Point{at.Right, at.Top}), Hatch, 1.2*k)
	y := at.Top + 0.5*label.size + capShare*label.size
	end := s.text(part, label, at.Left, y, FromLeft, "Chamber")
	s.text(part, strong, end+0.4*label.size, y, FromLeft, s.pressureUnit(u, s.st.Below))

	r := s.v.Range
	bar := Rect{at.Left, y + 0.55*label.size, at.Right, y + 1.75*label.size}
	along := func(p float64) float64 { return bar.Left + r.Share(p)*bar.Width() }
	s.fill(part, s.box(bar, 0), White)
	s.fluid(part, s.box(Rect{bar.Left, bar.Top, along(s.st.Below), bar.Bottom}, 0), s.st.Below)
	s.line(part, s.box(bar, 0), Dark, 2*k)
	y = bar.Bottom + 0.5*small.size + capShare*small.size
	if limit := s.v.Facts.Margin.Threshold; limit > r.Low {
		x := along(limit)
		s.line(part, s.open(Point{x, bar.Top - 4*k}, Point{x, bar.Bottom + 5*k}), White, 7*k)
		s.line(part, s.open(Point{x, bar.Top - 4*k}, Point{x, bar.Bottom + 5*k}), Dark, 3*k)
		half := s.width(small, lines[1]) / 2
		s.text(part, small, math.Max(at.Left+half, math.Min(x, at.Right-half)), y, Centred, lines[1])
	} else {
		s.text(part, small, at.Left, y, FromLeft, lines[1])
	}
	y += 0.75*h.size + capShare*h.size
	word := strings.ToLower(heading[:1]) + heading[1:]
	if !known {
		s.text(part, h, at.Left, y, FromLeft, heading)
	} else {
		end = s.text(part, h, at.Left, y, FromLeft, s.say(s.difference(u, dp), " ", u.DifferenceName()))
		s.first(part, label, end+0.5*label.size, y, FromLeft, at.Right-end-0.5*label.size, word)
	}
	s.spot("margin", at, s.say(heading, " ", s.difference(u, dp), " ", u.DifferenceName(), ": ", lines[0], ", ", lines[1]))
}
