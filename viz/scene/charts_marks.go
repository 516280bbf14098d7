package scene

import (
	"math"
	"strings"

	wording "underdisc/viz/words"
)

// eventLines draws the lines of the events through the strips.
func (s *sheet) eventLines(strips []*chart, axis timeAxis, y, r float64) {
	k := s.p.scale
	marks, places := s.shownMarks(axis, r)
	for i, m := range marks {
		to := axis.x(m.T)
		for j, c := range strips {
			if j == 0 {
				s.line("event", s.open(Point{places[i], y + r}, Point{to, c.box.Top}), Soft, 1.4*k, 2*k, 4*k)
			}
			s.line("event", s.open(Point{to, c.box.Top}, Point{to, c.box.Bottom}), Soft, 1.4*k, 2*k, 4*k)
		}
	}
}

// eventBadges draws the links' numbers above their lines, and that of the link
// that acts now above the line of now.
func (s *sheet) eventBadges(axis timeAxis, y, r float64) {
	if acts := s.acts(); acts > 0 {
		s.badge("now", Point{math.Max(axis.x(s.v.Snapshot.T), axis.left), y}, r, acts, ActsNow)
	}
	marks, places := s.shownMarks(axis, r)
	for i, m := range marks {
		if m.Link == 0 {
			s.flag(Point{places[i], y}, r, m.Name)
			continue
		}
		s.badge("event", Point{places[i], y}, r, m.Link, Done)
	}
}

// flag marks what happens in the plant around the valve: a square with the first
// letter of its name, which is said below the charts.
func (s *sheet) flag(at Point, r float64, name string) {
	f := face{math.Max(1.1*r, s.p.floor), true, White}
	s.fill("event", s.box(Rect{at.X - r, at.Y - r, at.X + r, at.Y + r}, 0.2*r), Dark)
	s.text("event", f, at.X, at.Y+capShare*f.size/2, Centred, flagLetter(name))
}

func flagLetter(name string) string { return wording.Capital(name)[:1] }

// flagWords say what the flags in the window stand for, the last ones if there is
// no room for all; empty without flags.
func (s *sheet) flagWords(axis timeAxis, f face, width float64) string {
	marks, _ := s.shownMarks(axis, s.radius())
	said := ""
	for i := len(marks) - 1; i >= 0; i-- {
		if m := &marks[i]; m.Link == 0 {
			one := s.say(flagLetter(m.Name), ": ", m.Name)
			if said != "" {
				one = s.say(one, ", ", said)
			}
			if s.width(f, one) > width || said != "" && strings.Contains(said, m.Name) {
				continue
			}
			said = one
		}
	}
	return said
}

// acts is the link that acts now; 0 if it is not to be said, or if there are two.
func (s *sheet) acts() int {
	if s.v.Sealed || s.pair != nil {
		return 0
	}
	if s.sp != nil {
		return springActs(s.v.Spring)
	}
	return int(s.v.Facts.Acts.Link)
}

// shownMarks are the marks in the window that have room, and where their badges
// stand.
func (s *sheet) shownMarks(axis timeAxis, r float64) (shown []Mark, places []float64) {
	t := s.v.Snapshot.T
	for _, m := range s.v.Marks {
		if m.Done && m.T >= axis.from && m.T <= math.Min(axis.to, t) && s.v.tellsEvent(m.Link) {
			shown = append(shown, m)
		}
	}
	const wide, close = 2.55, 2.2 // radii from badge to badge
	end := math.Max(axis.left, math.Min(axis.x(t), axis.right))
	if s.acts() > 0 {
		end -= wide * r // the badge of now keeps its place
	}
	gap := wide * r
	if float64(len(shown)-1)*gap > end-axis.left { // closer, before some are left out
		gap = close * r
	}
	room := max(int((end-axis.left)/gap+1), 0)
	if len(shown) > room { // only where lifts begin and end
		ends := shown[:0:0]
		for _, m := range shown {
			if m.Link == 1 && !m.Shut || m.Link == 6 && m.Shut {
				ends = append(ends, m)
			}
		}
		shown = ends
	}
	if len(shown) > room {
		shown = shown[len(shown)-room:]
	}
	places = make([]float64, 0, len(shown))
	for _, m := range shown {
		places = append(places, axis.x(m.T))
	}
	return shown, spread(places, gap, axis.left, end)
}

// tellsEvent tells whether an event of a link may be said.
func (v *View) tellsEvent(link int) bool { return !v.Sealed || link <= lastOutsideEvent }
