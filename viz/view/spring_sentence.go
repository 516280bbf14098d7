package view

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/viz/scene"
)

// SpringSentence says in at most two lines why a spring-loaded valve does what it
// does: the cause, the threshold, how far and how fast. It is at most 130 characters
// long in any unit.
func SpringSentence(f *explain.SpringFacts, st *plant.SpringState, u scene.Units) string {
	p := func(p float64) string { return u.PressureOf(p) + " " + u.PressureName() }
	o := &f.Forces
	down, up := scene.Force(o.Spring+o.Weight), scene.Force(o.Seat+o.Bellows)
	flow := scene.Force(o.Flow())
	goes := scene.Going(f.InletRate, u)
	lift := scene.Lift(st.Lift)
	reseats := ""
	if r := f.Folds.Reseat; r.Known {
		reseats = fmt.Sprintf("; it reseats below %s", p(r.Value))
	}
	switch f.State {
	case explain.SpringTight:
		if f.LeakW > 0 {
			return fmt.Sprintf("Its shut seat lets %s pass; its faces part at %s, and there are %s.", u.Flow(f.LeakW), p(f.Parting.Pressure), u.PressureOf(f.Inlet))
		}
		return fmt.Sprintf("Spring and weight hold it with %s against %s; its faces part at %s: now %s, %s.", down, up, p(f.Parting.Pressure), u.PressureOf(f.Inlet), goes)
	case explain.SpringSimmering:
		way := "the lower ring lets out what leaks"
		if st.Spec.LowerRing == nil {
			way = "what leaks is too little to lift it"
		}
		if pop := f.Folds.Pop; pop.Known {
			return fmt.Sprintf("Its faces are %s apart; %s. It pops at %s: now %s, %s.", lift, way, p(pop.Value), u.PressureOf(f.Inlet), goes)
		}
		return fmt.Sprintf("Its faces are %s apart; %s. There are %s at its inlet, %s.", lift, way, p(f.Inlet), goes)
	case explain.SpringLifting:
		if o.Lever > 0 {
			return fmt.Sprintf("It rises: with %s of the lever and %s by flow, the %s on its seat are more than %s of spring and weight.", scene.Force(o.Lever), flow, up, down)
		}
		return fmt.Sprintf("It rises: what passes adds %s to the %s on its seat, more than the %s of spring and weight.", flow, up, down)
	case explain.SpringAtFullLift:
		return fmt.Sprintf("Its flow adds %s to the %s on its seat, against %s of spring and weight%s.", flow, up, down, reseats)
	case explain.SpringPartly:
		return fmt.Sprintf("It floats at %s: %s on its seat and %s of flow balance %s of the spring%s.", lift, up, flow, down, reseats)
	case explain.SpringFalling:
		if o.Seat+o.Bellows+o.Flow() > o.Spring+o.Weight {
			return fmt.Sprintf("It comes down, thrown back: what lifts it, %s, is more than spring and weight, %s, and will turn it round.", scene.Force(o.Seat+o.Bellows+o.Flow()), down)
		}
		return fmt.Sprintf("It falls: spring and weight, %s, are stronger than what still lifts it, %s.", down, scene.Force(o.Seat+o.Bellows+o.Flow()))
	case explain.SpringHeldOff:
		what := "Something on its seat"
		if f.Nut {
			what = "The lifting nut, turned down,"
		}
		return fmt.Sprintf("%s holds the disc %s off its seat: %s pass.", what, scene.Lift(f.HeldOff), u.Flow(f.Flow))
	case explain.SpringGagged:
		if o.Stop > 0 {
			return fmt.Sprintf("A gag holds its spindle down with %s: without it, it would be open. It protects nothing now.", scene.Force(o.Stop))
		}
		return fmt.Sprintf("A gag holds its spindle: it protects nothing. Its faces would part at %s: now %s, %s.", p(f.Parting.Pressure), u.PressureOf(f.Inlet), goes)
	case explain.SpringByLever:
		return fmt.Sprintf("The lever holds it %s off its seat: a pull of %s by hand gives %s at the spindle.", lift, scene.Force(f.Hand.Now), scene.Force(o.Lever))
	}
	if f.Why == explain.InletStarves {
		return fmt.Sprintf("It chatters, up and down every %s: as it opens, the pressure at its inlet breaks down; then it comes back.", scene.Span(f.Every.Value))
	}
	return fmt.Sprintf("It chatters, up and down every %s: it passes so much more than comes that each lift draws the pressure too low.", scene.Span(math.Abs(f.Every.Value)))
}
