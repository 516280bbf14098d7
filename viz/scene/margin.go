package scene

import (
	"math"

	"underdisc/model/explain"
)

// marginWords are the heading of the margin, the pressure that it is (Pa), and
// what is compared.
func (s *sheet) marginWords() (heading string, dp float64, known bool, lines [2]string) {
	m, u := &s.v.Facts.Margin, s.v.Units
	chamber := s.say("chamber ", s.pressureUnit(u, s.v.Facts.Chamber.Pressure))
	limit := s.pressure(u, m.Threshold)
	dp, known = m.Pressure, true
	say := func(h, compared string) { heading, lines = h, [2]string{chamber, s.say(compared, " ", limit)} }
	past := dp < 0
	switch m.Toward {
	case explain.ToLift:
		if m.Threshold <= 0 {
			return "Cannot lift", 0, false, [2]string{chamber, "even empty it would hold"}
		}
		say("To lift", "lifts below")
		if past {
			say("Past the lift point", "lifts below")
		}
	case explain.ToOpen:
		say("To open further", "opens below")
		if past {
			say("Past opening further", "opens below")
		}
	case explain.InOpening:
		say("Past balance", "balance here at")
		past = true
		dp = -dp
		if dp < 0 {
			say("Short of balance", "balance here at")
		}
	case explain.InClosing:
		say("Past balance", "balance here at")
		past = true
		dp = -dp
		if dp < 0 {
			say("Short of balance", "balance here at")
		}
	default:
		say("To reseat", "reseats above")
		if past {
			say("Past the reseat point", "reseats above")
		}
	}
	return heading, math.Abs(dp), true, lines
}

// margin is the distance from the pressure that decides.
func (s *sheet) margin() {
	heading, dp, known, lines := s.marginWords()
	s.marginOf(heading, dp, known, lines, s.saysForces())
}

// marginOf draws a distance of pressures, Pa, its heading, and what is compared.
func (s *sheet) marginOf(heading string, dp float64, known bool, lines [2]string, forces string) {
	const part = "margin"
	at, u := s.p.margin, s.v.Units
	h, big, unit, small := s.heading(), face{s.p.text(sizeMargin), true, Dark}, face{s.p.text(26), true, Dark}, s.small()
	small.ink = Dark
	number, name := s.difference(u, dp), u.DifferenceName()
	if !known {
		number, name = "none", ""
	}
	s.spot("forces", unite(s.p.margin, s.p.forces), s.say(heading, " ", s.named(number, name), ": ", lines[0], ", ", lines[1], "; ", forces))
	if s.p.wide { // the lines beside a larger number, if they go there
		big.size = 0.44 * at.Height()
		x := at.Left + 0.04*at.Width()
		beside := x + s.width(big, number) + 0.3*unit.size + s.width(unit, name) + 1.2*small.size
		most := math.Max(s.width(small, lines[0]), s.width(small, lines[1]))
		if beside+most <= at.Right-4 {
			y := at.Top + 0.7*h.size + capShare*h.size
			s.text(part, h, x, y, FromLeft, heading)
			y += 0.65*h.size + capShare*big.size
			end := s.text(part, big, x, y, FromLeft, number)
			s.text(part, unit, end+0.3*unit.size, y, FromLeft, name)
			s.text(part, small, beside, y-1.45*small.size, FromLeft, lines[0])
			s.text(part, small, beside, y, FromLeft, lines[1])
			return
		}
		big.size = math.Min(s.p.text(sizeMargin), 0.36*at.Height())
	}
	x := at.Left + 0.067*at.Width()
	high := capShare*(h.size+big.size+2*small.size) + 0.62*h.size + 0.72*small.size + 0.62*small.size
	y := at.Top + math.Max(0.5*h.size, (at.Height()-high)/2)
	if !s.p.wide {
		y = at.Top + 0.75*h.size
	}
	y += capShare * h.size
	s.text(part, h, x, y, FromLeft, heading)
	y += 0.62*h.size + capShare*big.size
	end := s.text(part, big, x, y, FromLeft, number)
	s.text(part, unit, end+0.3*unit.size, y, FromLeft, name)
	y += 0.72*small.size + capShare*small.size
	for _, l := range lines {
		s.first(part, small, x, y, FromLeft, at.Right-x-4, l)
		y += 1.34 * small.size
	}
}
