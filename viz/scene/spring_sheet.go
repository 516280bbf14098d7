package scene

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// spring draws links, cutaway, margin and forces of a spring-loaded valve.
func (s *sheet) spring() {
	s.panel("cutaway", s.p.cutaway)
	s.springInside(s.p.cutaway)
	s.springChain()
	s.panel("forces", s.p.margin)
	if s.p.forces.Width() > 0 {
		s.panel("forces", s.p.forces)
	}
	bars := s.springBars()
	heading, dp, known, lines := s.springMargin()
	s.marginOf(heading, dp, known, lines, s.saysPushes(bars))
	if s.p.forces.Width() > 0 {
		s.forcesOf(bars, s.springWhole())
	}
}

// springInside draws the cutaway, and gives the keyboard its places.
func (s *sheet) springInside(at Rect) {
	d := newSpringDrawing(s.stock, s.v, at, s.lane != "")
	d.second = s.lane == laneB
	s.out = append(s.out, d.draw()...)
	st := s.sp
	if lv := st.Spec.Lever; lv != nil {
		x, z := d.leverTo()
		a, b := d.p(x-4*d.g.u, z+6*d.g.u), d.p(leverArm*d.g.u, z-6*d.g.u)
		says := s.say("at rest; to lift by hand ", s.force(st.HandToLift), ", a hand gives ", s.force(lv.Force))
		if st.Hand > 0 {
			says = s.say("a hand pulls ", s.force(st.Hand), "; to lift by hand ", s.force(st.HandToLift))
		}
		s.spot("lever", Rect{a.X, a.Y, b.X, b.Y}, says)
	}
	if st.Gagged {
		g, u := &d.g, d.g.u
		a, b := d.p(-15*u, g.top()), d.p(15*u, g.capTop()+6*u)
		s.spot("gag", Rect{a.X, a.Y, b.X, b.Y}, s.say("on, leaves ", Lift(st.Travel), " of ", s.mm(st.Spec.Disc.Travel)))
	}
}

// springBars are the forces on the disc, counted from the pressure at the outlet;
// what it makes up to rest, or what is left over, comes last.
func (s *sheet) springBars() []push {
	st, o := s.sp, &s.v.Spring.Forces
	out := make([]push, 0, mostPushes+4)
	add := func(p push) {
		if p.force < 0 {
			p.force, p.up = -p.force, !p.up
		}
		if p.force >= least {
			out = append(out, p)
		}
	}
	add(push{name: "Weight", force: o.Weight, look: "weight"})
	add(push{name: "Spring", force: o.Spring, look: "spring"})
	add(push{name: "Pressure on the seat", force: o.Seat, up: true, pressure: st.Inlet})
	add(push{name: "Momentum of the stream", force: o.Momentum, up: true, pressure: st.Inlet})
	add(push{name: "Huddling chamber", force: o.Huddle, up: true, pressure: st.Huddle})
	add(push{name: "Below the upper ring", force: o.Upper, up: true, pressure: st.Under})
	add(push{name: "Turned down by the hood", force: o.Jet, up: true, pressure: st.Outlet})
	add(push{name: "Outlet on bellows", force: o.Bellows, up: true, pressure: st.Outlet})
	add(push{name: "Lever", force: o.Lever, up: true, look: "friction"})
	add(push{name: "Faces hold", force: o.Faces, up: true, holds: true})
	add(push{name: "Friction, damping", force: st.Friction + st.Damping, up: true, look: "friction"})
	name := "Stop holds"
	if st.Gagged {
		name = "Gag holds"
	}
	add(push{name: name, force: -o.Stop, up: true, holds: true})
	if left := sum(out, false) - sum(out, true); math.Abs(left) >= math.Max(least, 1e-4*sum(out, false)) {
		out = append(out, push{name: "Unbalanced", force: math.Abs(left), up: left > 0, unheld: true})
	}
	return out
}

// springWhole is what the force bars have room for, N: the spring at full lift.
func (s *sheet) springWhole() float64 {
	sp := s.sp.Spec
	return 1.15 * (sp.Spring.Preload + sp.Spring.Rate*sp.Disc.Travel)
}

// springLimit is the pressure that decides next, Pa absolute, in the words of it; not
// known where nothing decides, or where it has not been found.
func (s *sheet) springLimit() (limit float64, known bool, heading, compared string) {
	f, st := s.v.Spring, s.sp
	switch {
	case st.Pop == plant.Tight:
		return f.Parting.Pressure, true, "To simmer", "faces part at"
	case st.Pop == plant.Simmering && f.Folds.Pop.Known:
		return f.Folds.Pop.Value, true, "To pop", "pops above"
	case st.Pop == plant.Simmering:
		return f.Parting.Pressure, true, "Above parting", "faces part at"
	case f.Folds.Reseat.Known:
		return f.Folds.Reseat.Value, true, "To reseat", "reseats below"
	}
	return f.Parting.Pressure, true, "Above parting", "faces part at"
}

// springMargin is the margin with its words, in gauge pressures, as the plates of
// such valves are.
func (s *sheet) springMargin() (heading string, dp float64, known bool, lines [2]string) {
	u := s.v.Units
	u.Gauge = true
	limit, known, heading, compared := s.springLimit()
	dp = math.Abs(limit - s.sp.Inlet)
	if s.sp.Hand > 0 && limit == s.v.Spring.Parting.Pressure { // the hand helps
		compared = "with the hand at"
	}
	switch {
	case heading == "To simmer" && s.sp.Inlet > limit:
		heading = "Above parting"
	case heading == "To pop" && s.sp.Inlet > limit:
		heading = "Past the pop"
	case heading == "Above parting" && s.sp.Inlet < limit:
		heading = "Below parting"
	case heading == "To reseat" && s.sp.Inlet < limit:
		heading = "Past the reseat"
	}
	return heading, dp, known, [2]string{s.say("inlet ", s.pressureUnit(u, s.sp.Inlet)), s.say(compared, " ", s.pressure(u, limit))}
}

func (s *sheet) springBracket(c *chart, words float64) {
	if limit, known, _, _ := s.springLimit(); known {
		s.between(c, words, s.sp.Inlet, limit)
	}
}

// widestName is the longest that stands beside the pressures.
func (s *sheet) widestName() string {
	if s.sp != nil {
		return "inlet = huddling"
	}
	return s.say(bodyName, " = ", chamberName)
}

// springSign draws which way the disc goes, or how it stands: here the seat is the
// lower bar.
func (s *sheet) springSign(pt func(x, y float64) Point, bar func(y float64), stem func(top, bottom float64), down func(top, bottom, half float64), w float64) {
	const part = "sign"
	switch s.v.Spring.State {
	case explain.SpringLifting:
		stem(0.5, 0.98)
		down(0.55, 0, 0.45)
	case explain.SpringFalling:
		stem(0.02, 0.5)
		down(0.45, 1, 0.45)
	case explain.SpringAtFullLift:
		bar(0.1)
		bar(0.74)
	case explain.SpringPartly, explain.SpringHeldOff:
		bar(0.36)
		bar(0.74)
	case explain.SpringSimmering:
		bar(0.44)
		bar(0.74)
		s.line(part, s.open(pt(0.2, 0.3), pt(0.35, 0.1), pt(0.5, 0.3), pt(0.65, 0.1), pt(0.8, 0.3)), Dark, 0.09*w)
	case explain.SpringByLever:
		bar(0.74)
		bar(0.36)
		s.line(part, s.arrow(pt(0.5, 0.34), pt(0.5, 0.0), 0.25*w), Dark, 0.1*w)
	case explain.SpringGagged: // a bolt across
		bar(0.3)
		bar(0.6)
		s.line(part, s.open(pt(0.2, 0.05), pt(0.8, 0.95)), Dark, 0.13*w)
		s.line(part, s.open(pt(0.8, 0.05), pt(0.2, 0.95)), Dark, 0.13*w)
	case explain.SpringChattering:
		s.line(part, s.arrow(pt(0.26, 0.05), pt(0.26, 0.95), 0.32*w), Dark, 0.12*w)
		s.line(part, s.arrow(pt(0.74, 0.95), pt(0.74, 0.05), 0.32*w), Dark, 0.12*w)
	default:
		bar(0.42)
		bar(0.62)
	}
}
