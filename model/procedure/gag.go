package procedure

// gag holds a spring-loaded valve shut for a pressure test. Common practice, no
// source; screwed down by hand, so that the spindle is not bent.
var gag = Procedure{
	Name: "gag",
	Kind: sprung,
	About: "Screw the gag down on the spindle by hand, which leaves it no more than a hundredth of a millimetre: as for a " +
		"pressure test of the boiler.",
	Caution: "A gag belongs to a pressure test of a boiler that is out of service. A boiler with a gagged safety valve must not " +
		"be fired: nothing then keeps its pressure from bursting it. Never gag a valve to stop a leak. Tag it, count the " +
		"gags out and back in, and take it off before the fire is lit.",
	steps: []step{{part: theValve, param: "gag.leaves-lift", number: 1e-5}},
}

// ungag takes the gag off again. Common practice, no source.
var ungag = Procedure{
	Name:  "ungag",
	Kind:  sprung,
	About: "Take the gag off the spindle.",
	Caution: "If the pressure stands above the set pressure the valve lifts the moment the gag gives: nobody in the path of the " +
		"exhaust, and the pressure brought down by other ways first. The gags are counted back in, and the lever is tried " +
		"for its free play.",
	steps: []step{{part: theValve, param: "gag.leaves-lift", number: 1}},
}
