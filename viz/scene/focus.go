package scene

import (
	"math"

	"underdisc/model/plant"
)

// boundsOf is the room that the shapes of a part take, as the part lies at
// rest.
func boundsOf(shapes []Shape, part string) (Rect, bool) {
	r := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	found := false
	for i := range shapes {
		if shapes[i].Part != part {
			continue
		}
		for _, g := range shapes[i].Path {
			n := 1
			switch g.Op {
			case Close:
				n = 0
			case CurveTo:
				n = 3
			}
			for _, p := range g.P[:n] {
				found = true
				r.Left, r.Right = math.Min(r.Left, p.X), math.Max(r.Right, p.X)
				r.Top, r.Bottom = math.Min(r.Top, p.Y), math.Max(r.Bottom, p.Y)
			}
		}
	}
	return r, found
}

// insideSpots are the places of links 4 to 6, which the cutaway shows.
func (s *sheet) insideSpots(inside []Shape) {
	st := s.st
	for _, k := range [...]struct {
		link       int
		part, says string
	}{
		{4, "plunger", s.say(holdWord(st.Pilot.Hold, "shut", "open"), ", ", s.mm(st.Pilot.Lift), " of ", s.mm(st.Pilot.Stroke))},
		{5, "chamber", s.pressureUnit(s.v.Units, st.Below)},
		{6, "disc", s.say(holdWord(st.Disc.Hold, "on its seat", "at its stop"), ", ", s.mm(st.Disc.Lift), " of ", s.mm(st.Disc.Travel))},
	} {
		at, ok := boundsOf(inside, k.part)
		if !ok {
			at = s.p.cutaway
		}
		s.spotOf(k.link, at, k.says)
	}
}

// holdWord says how a part is held.
func holdWord(h plant.Hold, shut, open string) string {
	return [...]string{shut, "moving", open, "held by friction"}[h]
}
