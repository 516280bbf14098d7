package fault

var bleedPlugged = Fault{
	Name: "bleed-plugged",
	About: "The drilled bleed is plugged with scale, so gas or steam from the body no longer fills the " +
		"chamber through it.",
	Part:    "piloted-valve",
	Param:   "bleed.area",
	Typical: 0,
	Source: "Common practice, no source. Typical value: the bore shut completely; where the plant has " +
		"a guide clearance, that still leaks.",
	Sign: "The valve lifts on demand, but with the pilot shut again the chamber's pressure rises " +
		"very slowly, if at all, and the disc stays open below the pressure at which it should " +
		"reseat.",
}
