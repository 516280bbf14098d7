package scene

import (
	"fmt"
	"math"
)

// ribbon is one lift as a string of pins, evenly spaced in the order of cause
// and effect, with the real gaps between them.
func (s *sheet) ribbon() {
	at, pins := s.p.ribbon, s.v.Pins
	if at.Width() <= 0 {
		return
	}
	const part = "time ribbon"
	s.panel(part, at)
	if len(pins) == 0 {
		return
	}
	h := at.Height()
	label, head := s.small(), face{s.p.text(sizeLabel), true, Dark}
	label.ink = Dark
	row := at.Top + 0.47*h
	gaps := at.Top + 0.26*h
	names := row + s.radius() + 0.45*label.size + capShare*label.size
	r := s.radius()
	k := s.p.scale

	// Where the pins stand: each sequence behind its heading.
	opening := len(pins)
	for i, p := range pins {
		if p.Shut {
			opening = i
			break
		}
	}
	pad := 0.012 * at.Width()
	title := math.Max(s.width(head, "Opening"), s.width(head, "Closing")) + 1.2*r
	pitch := (at.Width() - 2*pad - 2*title) / float64(len(pins))
	x := make([]float64, len(pins))
	left := at.Left + pad
	for i := range pins {
		if i == 0 || i == opening {
			name := "Opening"
			if pins[i].Shut {
				name = "Closing"
			}
			s.text(part, head, left, row+capShare*head.size/2, FromLeft, name)
			left += title
		}
		x[i] = left + r + 0.18*pitch
		left += pitch
	}

	last := -1
	for i, p := range pins {
		if p.Done {
			last = i
		}
	}
	for i := 1; i < len(pins); i++ {
		from, to := x[i-1]+1.3*r, x[i]-1.3*r
		if i == opening {
			to = x[i] - r - 0.18*pitch - title - 0.6*r
		}
		if pins[i].Done && pins[i-1].Done {
			s.line(part, Line(Point{from, row}, Point{to, row}), Dark, 4.5*k)
		} else {
			s.line(part, Line(Point{from, row}, Point{to, row}), Soft, 2*k, 2*k, 5*k)
		}
		if pins[i].Done && pins[i-1].Done {
			text := Span(pins[i].T - pins[i-1].T)
			if i == opening {
				text = "open " + text
			}
			s.text(part, label, (from+to)/2, gaps, Centred, text)
		}
	}
	// Where we are. After the last pin that has happened; before the first one.
	where, says := x[0]-1.25*r, ""
	if last >= 0 {
		says = "+" + Span(s.v.Snapshot.T-pins[last].T)
		switch {
		case last+1 == len(pins):
			where = x[last] + 0.42*pitch
		case last+1 == opening:
			where = (x[last] + x[last+1] - 1.2*title) / 2
		default:
			where = (x[last] + x[last+1]) / 2
		}
		if last+1 < len(pins) && pins[last+1].Done {
			says = ""
		}
	}
	tri := 0.55 * r
	s.fill("now", Polygon(Point{where - tri, row - 2.1*tri}, Point{where + tri, row - 2.1*tri}, Point{where, row - 0.35*tri}), Now)
	s.line("now", Line(Point{where, row - tri}, Point{where, row + 1.2*r}), Now, 3*k)
	if says != "" {
		s.text("now", face{label.size, true, Now}, where, gaps, Centred, says)
	}

	for i, p := range pins {
		how := ToCome
		if p.Done {
			how = Done
		}
		s.badge(part, Point{x[i], row}, r, p.Link, how)
		f := label
		lines := s.v.balance(p.Name, f.size, false, pitch-0.5*label.size, 2)
		for j, l := range lines {
			s.text(part, f, x[i], names+1.15*f.size*float64(j), Centred, l)
		}
		says := p.Name + ", to come"
		if p.Done {
			says = fmt.Sprintf("%s at %s s", p.Name, places(p.T, 6))
		}
		s.spot(fmt.Sprintf("pin %d", i+1), Rect{x[i] - pitch/2, row - 1.3*r, x[i] + pitch/2, at.Bottom}, says)
	}
}
