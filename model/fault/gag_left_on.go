package fault

// The severity is the lift that the gag leaves.
var gagLeftOn = Fault{
	Name:    "gag-left-on",
	About:   "The gag that held the safety valve shut for the pressure test of the boiler has not been taken off.",
	Part:    "spring-valve",
	Param:   "gag.leaves-lift",
	Typical: 1e-5, // m
	Source: "Common practice, no source. Typical value: a hundredth of a millimetre, a gag that has been screwed down by hand " +
		"and no further.",
	Sign: "Whatever the pressure, the valve weeps at most and does not lift, and neither does its lever move it.",
}
