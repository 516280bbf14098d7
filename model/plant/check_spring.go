package plant

import (
	"math"
	"strconv"

	"underdisc/model/unit"
)

// checkSpring looks at the parts of a spring-loaded valve together.
func (p *Plant) checkSpring(name string, v *SpringValve) []Issue {
	var out []Issue
	length := func(m float64) string { return unit.Format(m, unit.Length) }
	trims := 0
	for _, fitted := range []bool{v.UpperRing != nil, v.Hood != nil, v.Plug != nil} {
		if fitted {
			trims++
		}
	}
	if trims != 1 {
		return []Issue{{name, strconv.Itoa(trims) + " of upper-ring, hood and plug", "just one of them"}}
	}
	if (v.LowerRing == nil) != (v.Plug != nil) {
		if v.Plug != nil {
			return []Issue{{name + ".lower-ring", "a ring on a valve with a plug", "no lower-ring, or an upper-ring or hood in place of the plug"}}
		}
		return []Issue{{name + ".lower-ring", "not there", "the lower ring, which closes the huddling chamber"}}
	}
	less := func(a, b float64, pa, pb string) {
		if !(a <= b) {
			out = append(out, Issue{name + "." + pa, length(a) + ", more than " + pb, "at most " + length(b)})
		}
	}
	less(v.Nozzle.Bore, v.Seat.Diameter, "nozzle.bore", "the seat's diameter")
	if l := v.LowerRing; l != nil {
		less(v.Seat.Diameter, l.Diameter, "seat.diameter", "the lower ring's diameter")
		if u := v.UpperRing; u != nil {
			less(l.Diameter, u.Diameter, "lower-ring.diameter", "the upper ring's diameter")
		}
		if h := v.Hood; h != nil {
			less(l.Diameter, h.Diameter, "lower-ring.diameter", "the hood's diameter")
		}
		if l.Gap == 0 && l.Notches == 0 {
			out = append(out, Issue{name + ".lower-ring.gap", "0 mm, without notches", "a way out of the huddling chamber: a gap or a notch-area"})
		}
	}
	less(v.Disc.Travel, v.Seat.Diameter, "disc.travel", "the seat is wide")
	less(40*v.Seat.Length, v.Disc.Travel, "seat.contact-length", "a fortieth of the travel")
	if !(v.Disc.StickFriction >= v.Disc.Friction) {
		out = append(out, Issue{name + ".disc.stick-friction", unit.Format(v.Disc.StickFriction, unit.Force) + ", less than when it slides",
			"at least " + unit.Format(v.Disc.Friction, unit.Force)})
	}
	if b := v.Bellows; b != nil {
		_, _, upper := v.Areas()
		less(b.Diameter, math.Sqrt(4/math.Pi*upper), "bellows.diameter", "the disc is wide")
	}
	if l := v.Lever; l != nil {
		less(l.Nut, 0.9*v.Disc.Travel, "lever.nut-holds", "nine tenths of the travel")
	}
	if r := v.Inlet; r != nil && r.Cells != math.Trunc(r.Cells) {
		out = append(out, Issue{name + ".inlet.cells", strconv.FormatFloat(r.Cells, 'g', -1, 64), "a whole number"})
	}
	if _, gas := Spec[Vessel](p, v.On); gas && v.Draws != "all" {
		out = append(out, Issue{name + ".draws", strconv.Quote(v.Draws) + " from a vessel of gas", "all"})
	}
	return out
}

// checkSpringStart: nothing flows backwards at the start.
func (p *Plant) checkSpringStart() []Issue {
	var out []Issue
	for _, q := range p.OfKind("spring-valve") {
		v := q.Spec.(*SpringValve)
		inside, ok := p.pressure(v.On)
		place, around, there := p.Around(v.Outlet)
		if !ok || !there || inside >= around.Pressure {
			continue
		}
		out = append(out, Issue{v.On + ".pressure", unit.Format(inside, unit.Pressure) + ", below the pressure at the outlet of " + q.Name,
			"at least " + unit.Format(around.Pressure, unit.Pressure) + ", as in " + place})
	}
	return out
}
