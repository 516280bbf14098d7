package words

import (
	"strings"

	"underdisc/model/explain"
)

// SpringQuantity names what could be changed at a spring-loaded valve.
func SpringQuantity(q explain.SpringQuantity) string { return springQuantities[q] }

var springQuantities = map[explain.SpringQuantity]string{
	explain.InletPressure:   "pressure at its inlet",
	explain.BehindPressure:  "pressure at its outlet",
	explain.HandPull:        "pull of the hand at the lever",
	explain.NutTurned:       "lifting nut, how far it holds the disc off",
	explain.DebrisSize:      "what lies on its seat",
	explain.GagLeaves:       "lift that the gag leaves",
	explain.UpperRingHeight: "upper ring, height of the way out",
	explain.LowerRingGap:    "lower ring, gap over it",
	explain.SpringSetting:   "preload of the spring",
}

// SpringDoes says what a change brings about.
func SpringDoes(d explain.SpringDoes) string { return springDoings[d] }

var springDoings = map[explain.SpringDoes]string{
	explain.PartsFaces:  "its faces part",
	explain.PopsIt:      "it pops",
	explain.ReseatsIt:   "it goes back to its seat",
	explain.SeatsIt:     "it can seat",
	explain.LetsItLift:  "it can lift",
	explain.StopsSimmer: "it is tight again",
}

// SpringBy says who can bring a change about.
func SpringBy(f *explain.SpringFree) string {
	switch {
	case f.Quantity == explain.SpringSetting:
		return NotDone
	case f.Quantity == explain.UpperRingHeight || f.Quantity == explain.LowerRingGap:
		return "those licensed to set safety valves, out of service; it moves the pop as well"
	case f.Quantity == explain.HandPull && f.Does == explain.ReseatsIt:
		return "whoever pulls: let go"
	case f.Quantity == explain.HandPull && !f.Remedy:
		return "nobody: a person does not give as much"
	case f.Quantity == explain.HandPull:
		return "the operators, by the plant's procedure for a lift by hand"
	case f.Quantity == explain.InletPressure && !f.Below:
		if f.In.Known {
			return "comes by itself"
		}
		return "nobody raises a pressure to lift a valve"
	}
	return Reach(f.By)
}

// SpringNext is the safe next step in one paragraph; empty where there is none.
func SpringNext(checks []explain.SpringCheck) string {
	var out []string
	for _, c := range checks {
		out = append(out, springSteps[c])
	}
	return strings.Join(out, " ")
}

var springSteps = map[explain.SpringCheck]string{
	explain.TellBlows:       "Tell the operators: this safety valve blows; they hold the pressure by their procedure.",
	explain.TellSimmers:     "Tell the operators: this safety valve simmers, and may pop; each second of it wears its seat.",
	explain.TellPasses:      "Tell the operators: this safety valve passes while it should be tight.",
	explain.TellCannotLift:  "Tell the operators now: this safety valve cannot lift, and relieves nothing.",
	explain.TellChatters:    "Tell the operators now: this safety valve chatters, and beats its seat and its piping to pieces.",
	explain.TellLifted:      "Tell the operators, if they have not been told: this safety valve is lifted by hand, and draws the pressure down.",
	explain.ClearOfExhaust:  "Keep clear of the exhaust path and of the drain.",
	explain.OthersInService: "See that the other relief valves are in service; those of a boiler that cannot relieve take it out of service, by local code.",
	explain.BringDown:       "The operators bring the pressure down, well below where its faces part, and keep it there.",
	explain.CompareGauges:   "Compare two gauges at the drum or vessel, so that a gauge is not taken for the valve.",
	explain.FreePlay:        "Look, without pulling, whether its lever has free play: none, and the lifting nut or the lever holds it; some, and something lies on its seat, or the seat is cut.",
	explain.LookForGag:      "Look whether a gag is on its spindle, and under whose tag: those who put it on take it off, with no pressure that could lift the valve.",
	explain.ReadBackPressure: "Read the pressure in its discharge pipe or header: what stands there keeps it shut longer." +
		" Look whether its drain is open.",
	explain.LetGo:           "Let the lever go in one movement once it has blown clear, two to three seconds; holding it longer wears the seat.",
	explain.LiftToFlush:     "Only by the plant's procedure, with the pressure at three quarters of its set pressure or more, one lift by hand may flush it; if it still passes, do not lift it again.",
	explain.RingsByLicensed: "Leave spring and rings alone: those licensed to set safety valves do that, and seal them.",
}
