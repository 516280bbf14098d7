package scene

import (
	"fmt"
	"math"

	"underdisc/model/explain"
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
	u, st := s.v.Units, s.st
	hold := func(h plant.Hold, shut, open string) string {
		return [...]string{shut, "moving", open, "held by friction"}[h]
	}
	for _, k := range []struct {
		link       int
		part, says string
	}{
		{4, "plunger", fmt.Sprintf("%s, %s of %s", hold(st.Pilot.Hold, "shut", "open"), Millimetres(st.Pilot.Lift), Millimetres(st.Pilot.Stroke))},
		{5, "chamber", fmt.Sprintf("%s %s", u.PressureOf(st.Below), u.PressureName())},
		{6, "disc", fmt.Sprintf("%s, %s of %s", hold(st.Disc.Hold, "on its seat", "at its stop"), Millimetres(st.Disc.Lift), Millimetres(st.Disc.Travel))},
	} {
		at, ok := boundsOf(inside, k.part)
		if !ok {
			at = s.p.cutaway
		}
		s.spot(fmt.Sprintf("link %d, %s", k.link, explain.Link(k.link)), at, k.says+"; "+s.v.LinkStanding(k.link).String())
	}
}
