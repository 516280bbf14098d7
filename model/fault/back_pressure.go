package fault

var backPressure = Fault{
	Name: "back-pressure",
	About: "The pressure where the tailpipe ends has risen, because the header is blocked or others " +
		"discharge into it.",
	Part:    "surroundings",
	Param:   "pressure",
	Typical: 10e5, // Pa
	Source: "Common practice, no source. Typical value: 10 bar abs on the gas bench, whose disc " +
		"leaves full lift once body and tailpipe differ by less than about 1.5 bar; up to about " +
		"9 bar abs its disc only moves more slowly.",
	Sign: "The pressure in the tailpipe is high even at rest; at a lift the disc drops from its " +
		"stop early and carries less; a spring-loaded valve without bellows pops later by all of it.",
}
