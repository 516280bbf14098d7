package fault

var plungerNotSeated = Fault{
	Name: "plunger-not-seated",
	About: "Something keeps the plunger of an alternating coil from being drawn in, so the coil keeps " +
		"the large current of an open gap.",
	Part:    "piloted-valve",
	Param:   "plunger.bond-shut",
	Typical: 1e3, // N
	Needs:   []string{"coil.alternating.frequency"},
	Source:  "Common practice, no source. Typical value: 1 kN, more than a coil of this size pulls.",
	Sign: "The coil hums, its current does not fall as it does when the plunger comes in, it grows hot, " +
		"and the pilot does not open.",
}
