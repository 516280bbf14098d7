package scene

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/network"
)

// A sealed picture shows what a person at the plant can read. Nothing in these
// files reads chamber, pilot, disc, forces, thresholds of the chamber or flows.

// sealed draws what stands in place of cutaway and forces.
func (s *sheet) sealed() {
	s.chain(nil)
	s.panel("instruments", s.p.cutaway)
	s.read(s.p.cutaway)
	if s.p.wide {
		s.panel("links", s.p.margin)
		s.sealedRow()
		return
	}
	s.panel("links", s.p.forces)
	s.linkList(s.p.forces)
}

// tells whether what a link does may be said: of a sealed valve only what can be
// read from outside.
func (v *View) tells(link int) bool { return !v.Sealed || link <= lastOutside }

// lastOutside is the last link that can be read from outside: the coil, by its
// current. Of the events on the ribbon, that of the coil is the pilot's first
// movement, which nobody sees: there it is the relay.
const (
	lastOutside      = int(explain.Coil)
	lastOutsideEvent = int(explain.Relay)
)

// stands is how a link stands, as far as it may be said: of a sealed valve
// whether it is on, not whether it holds.
func (s *sheet) stands(link int) Standing {
	if !s.v.Sealed {
		return s.v.LinkStanding(link)
	}
	on := false
	switch explain.Link(link) {
	case explain.Switch:
		on = s.st.Control.Made
	case explain.Relay:
		on = s.st.Control.RelayOn
	case explain.Coil:
		on = math.Abs(s.st.Coil.Current) >= 0.005
	default:
		return Unknown
	}
	return map[bool]Standing{true: Done}[on]
}

// standWord is stands in words.
func (s *sheet) standWord(link int) string {
	if s.v.Sealed && s.v.tells(link) {
		return map[bool]string{false: "off", true: "on"}[s.stands(link) == Done]
	}
	return s.stands(link).String()
}

// linkList is the six links below each other: what each shows outside.
func (s *sheet) linkList(at Rect) {
	const part = "links"
	h, label, strong, r := s.heading(), s.label(), s.strong(), s.radius()
	pad := 0.067 * at.Width()
	y := at.Top + 0.75*h.size + capShare*h.size
	s.text(part, h, at.Left+pad, y, FromLeft, "The six links")
	top := y + 0.9*h.size
	pitch := (at.Bottom - 0.6*h.size - top) / 6
	for link := 1; link <= 6; link++ {
		box := Rect{at.Left + pad, top + pitch*float64(link-1), at.Right - pad, top + pitch*(float64(link)-0.14)}
		s.sealedBox(part, box, !s.v.tells(link))
		mid := (box.Top + box.Bottom) / 2
		s.badge(part, Point{box.Left + 1.9*r, mid}, r, link, s.stands(link))
		x := box.Left + 3.6*r
		name, word := explain.Link(link).String(), s.linkWord(link)
		if !s.v.tells(link) {
			word = "not known"
		}
		high := capShare*(label.size+strong.size) + 0.5*label.size
		s.plate(part, label, x, mid-high/2+capShare*label.size, box.Right-x-4, capital(name))
		s.plate(part, strong, x, mid+high/2, box.Right-x-4, word)
		if !s.v.tells(link) { // the others have their place in the chain
			s.spotOf(link, box, "sealed")
		}
	}
}

// sealedBox is a box, hatched if nothing is known of what belongs in it.
func (s *sheet) sealedBox(part string, at Rect, unknown bool) {
	path := s.box(at, s.p.px(5))
	if unknown {
		s.hatched(part, path)
		s.line(part, path, Soft, 1.6*s.p.scale)
		return
	}
	s.line(part, path, Dark, 2*s.p.scale)
}

// plate writes a text that has to stand out from a hatched ground, if it is no
// wider than a width.
func (s *sheet) plate(part string, f face, x, y, width float64, words string) {
	w := s.width(f, words)
	if w > width {
		return
	}
	s.fill(part, s.box(Rect{x - 0.25*f.size, y - (capShare+0.16)*f.size, x + w + 0.25*f.size, y + (dropShare+0.06)*f.size}, 3), White)
	s.text(part, f, x, y, FromLeft, words)
}

// sealedRow says on a projector that the inside is sealed, with the links that
// are.
func (s *sheet) sealedRow() {
	const part = "links"
	at := s.p.margin
	h, r := s.heading(), s.radius()
	pad := 0.04 * at.Width()
	box := Rect{at.Left + pad, at.Top + 0.16*at.Height(), at.Right - pad, at.Bottom - 0.16*at.Height()}
	s.inSeal(part, box, h, r)
}

// inSeal is a hatched box for the links inside.
func (s *sheet) inSeal(part string, box Rect, f face, r float64) {
	s.sealedBox(part, box, true)
	mid := (box.Top + box.Bottom) / 2
	x := box.Right - 1.6*r
	for link := 6; link > lastOutside; link-- {
		s.badge(part, Point{x, mid}, r, link, Unknown)
		s.spotOf(link, Rect{x - 1.3*r, mid - 1.3*r, x + 1.3*r, mid + 1.3*r}, "sealed")
		x -= 2.8 * r
	}
	left := box.Left + 0.8*f.size
	for _, words := range [...]string{"The inside is sealed", "Sealed"} {
		if s.width(f, words) <= x+r-left {
			s.plate(part, f, left, mid+capShare*f.size/2, x+r-left, words)
			return
		}
	}
}

// sealedColumn is a run of a pair whose inside is sealed.
func (s *sheet) sealedColumn(at Rect) {
	foot := 3.2 * s.heading().size
	s.read(Rect{at.Left, at.Top, at.Right, at.Bottom - foot})
	pad := 0.03 * at.Width()
	s.inSeal(s.part("links"), Rect{at.Left + pad, at.Bottom - foot + 0.4*s.heading().size, at.Right - pad, at.Bottom - 0.6*s.heading().size}, s.heading(), s.radius())
}

// selectorWord is how the selector stands.
func selectorWord(d network.Demand) string {
	switch d {
	case network.HoldOn:
		return "open"
	case network.HoldOff:
		return "off"
	}
	return "auto"
}

func capital(s string) string { return string(s[0]-'a'+'A') + s[1:] }
