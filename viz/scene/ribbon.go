package scene

import (
	"math"
	"strconv"
	"strings"
)

// strand is a string of pins on the ribbon, evenly spaced in the order of cause
// and effect.
type strand struct {
	pins    []Mark
	x       []float64
	pitch   float64
	opening int     // how many of the pins belong to an opening
	title   float64 // room of a heading before each sequence
	row     float64
	gaps    float64 // base line of the times between pins
	right   float64 // end of its room
}

// strand places pins, each sequence behind its heading.
func (s *sheet) strand(at Rect, pins []Mark, lead float64) strand {
	n := strand{pins: pins, opening: len(pins), x: make([]float64, len(pins)), right: at.Right}
	for i, p := range pins {
		if p.Shut {
			n.opening = i
			break
		}
	}
	r := s.radius()
	pad := 0.012 * at.Width()
	head := s.ribbonHead()
	n.title = math.Max(s.width(head, "Opening"), s.width(head, "Closing")) + 1.2*r
	n.pitch = (at.Width() - lead - 2*pad - 2*n.title) / (float64(len(pins)) + 0.35) // room behind the last for now
	left := at.Left + lead + pad
	for i := range pins {
		if i == 0 || i == n.opening {
			left += n.title
		}
		n.x[i] = left + r + 0.18*n.pitch
		left += n.pitch
	}
	return n
}

func (s *sheet) ribbonHead() face { return face{s.p.text(sizeLabel), true, Dark} }

// begins is where the heading of the sequence that begins with a pin stands.
func (n *strand) begins(i int, r float64) float64 { return n.x[i] - r - 0.18*n.pitch - n.title }

// ribbon is one lift as a string of pins, with the real gaps between them.
func (s *sheet) ribbon() {
	at, pins := s.p.ribbon, s.v.Pins
	if at.Width() <= 0 {
		return
	}
	const part = "time ribbon"
	s.panel(part, at)
	if s.p.time.Width() > 0 {
		at.Left = s.p.time.Right
	}
	pins = s.outside(pins)
	if len(pins) == 0 {
		if s.sp != nil { // nothing of its lift is seen
			f, pad := s.heading(), 0.02*at.Width()
			box := Rect{at.Left + pad, at.Top + 0.25*at.Height(), at.Right - pad, at.Bottom - 0.25*at.Height()}
			s.sealedBox(part, box, true)
			s.plate(part, f, box.Left+f.size, (box.Top+box.Bottom)/2+capShare*f.size/2, box.Width()-2*f.size, "When it lifts and shuts is not seen from outside")
		}
		return
	}
	h, r := at.Height(), s.radius()
	label := s.small()
	label.ink = Dark
	n := s.strand(at, pins, 0)
	n.row, n.gaps = at.Top+0.47*h, at.Top+0.26*h
	s.headings(&n)
	s.thread(&n, 0)
	s.nowOn(&n)
	names := n.row + r + 0.45*label.size + capShare*label.size
	for i, p := range pins {
		for j, l := range s.pinName(p.Name, label, n.pitch-0.5*label.size) {
			s.text(part, label, n.x[i], names+1.15*label.size*float64(j), Centred, l)
		}
		s.pin(&n, i, at.Bottom)
	}
}

// outside are the pins that may be said: of a sealed valve those of the links
// that can be read from outside.
func (s *sheet) outside(pins []Mark) []Mark {
	if !s.v.Sealed {
		return pins
	}
	out := make([]Mark, 0, len(pins))
	for _, p := range pins {
		if s.v.tellsEvent(p.Link) {
			out = append(out, p)
		}
	}
	return out
}

// headings name the sequences.
func (s *sheet) headings(n *strand) {
	head := s.ribbonHead()
	for _, i := range [...]int{0, n.opening} {
		if i >= len(n.pins) {
			continue
		}
		name := "Opening"
		if n.pins[i].Shut {
			name = "Closing"
		}
		s.text("time ribbon", head, n.begins(i, s.radius()), n.row+capShare*head.size/2, FromLeft, name)
	}
}

// thread draws the string from a pin on, and the times between those that have
// happened.
func (s *sheet) thread(n *strand, from int) {
	const part = "time ribbon"
	label := s.small()
	label.ink = Dark
	k, r := s.p.scale, s.radius()
	for i := from + 1; i < len(n.pins); i++ {
		a, b := n.x[i-1]+1.3*r, n.x[i]-1.3*r
		if i == n.opening && s.lane != laneB {
			b = n.begins(i, r) - 0.6*r
		}
		if !n.pins[i].Done || !n.pins[i-1].Done || n.pins[i].T < n.pins[i-1].T { // or not in this order
			s.line(part, s.open(Point{a, n.row}, Point{b, n.row}), Soft, 2*k, 2*k, 5*k)
			continue
		}
		if s.lane == laneB {
			s.line(part, s.open(Point{a, n.row}, Point{b, n.row}), Dark, 4.5*k, 7*k, 4*k)
		} else {
			s.line(part, s.open(Point{a, n.row}, Point{b, n.row}), Dark, 4.5*k)
		}
		text := s.span(n.pins[i].T - n.pins[i-1].T)
		if i == n.opening && !s.v.Sealed {
			text = s.say("open ", text)
		}
		s.text(part, label, (n.x[i-1]+n.x[i])/2, n.gaps, Centred, text)
	}
}

// nowOn marks where we are on a strand: after the last pin that has happened, or
// before the first one.
func (s *sheet) nowOn(n *strand) {
	r, k := s.radius(), s.p.scale
	last := -1
	for i, p := range n.pins {
		if p.Done {
			last = i
		}
	}
	where, says := n.x[0]-1.25*r, ""
	if last >= 0 {
		says = s.say("+", s.span(s.v.Snapshot.T-n.pins[last].T))
		switch {
		case last+1 == len(n.pins):
			where = n.x[last] + 0.65*n.pitch
		case last+1 == n.opening:
			where = (n.x[last] + n.x[last+1] - 1.2*n.title) / 2
		default:
			where = (n.x[last] + n.x[last+1]) / 2
		}
	}
	tri := 0.55 * r
	s.fill("now", s.polygon(Point{where - tri, n.row - 2.1*tri}, Point{where + tri, n.row - 2.1*tri}, Point{where, n.row - 0.35*tri}), Now)
	s.line("now", s.open(Point{where, n.row - tri}, Point{where, n.row + 1.2*r}), Now, 3*k)
	f := face{s.p.text(sizeSmall), true, Now}
	half := s.width(f, says) / 2
	if last > 0 { // beside the time before it
		before := s.width(s.small(), s.span(n.pins[last].T-n.pins[last-1].T)) / 2
		where = math.Max(where, (n.x[last]+n.x[last-1])/2+before+half+0.2*f.size)
	}
	s.text("now", f, math.Min(where, n.right-half-0.2*f.size), n.gaps, Centred, says)
}

// pin draws one pin and gives the keyboard its place, down to a bottom.
func (s *sheet) pin(n *strand, i int, bottom float64) {
	p, r := n.pins[i], s.radius()
	how, says := ToCome, s.say(p.Name, ", to come")
	if p.Done {
		how, says = Done, s.say(p.Name, " at ", s.number(p.T, 6), " s")
	}
	s.badge("time ribbon", Point{n.x[i], n.row}, r, p.Link, how)
	s.spot(s.say("pin ", strconv.Itoa(i+1)), Rect{n.x[i] - n.pitch/2, n.row - 1.3*r, n.x[i] + n.pitch/2, bottom}, says)
}

// pinName is a pin's name in at most two lines; without its first word, which
// its number stands for, where there is no room for it.
func (s *sheet) pinName(name string, f face, width float64) []string {
	lines := s.v.balance(name, f.size, f.bold, width, 2)
	if _, rest, more := strings.Cut(name, " "); lines == nil && more {
		return s.v.balance(rest, f.size, f.bold, width, 2)
	}
	return lines
}
