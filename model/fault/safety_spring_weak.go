package fault

var safetySpringWeak = Fault{
	Name: "safety-spring-weak",
	About: "The spring of the safety valve is softer than it should be, the wrong one or one that heat has weakened, and has been " +
		"tightened until its force on the seat was right.",
	Part:    "spring-valve",
	Param:   "spring.rate",
	Typical: 100e3, // N/m
	Source: "Common practice, no source. Typical value: 100 N/mm, 30 per cent below the 144 N/mm of the boiler plant's " +
		"valves, which at full lift leaves out some 500 N of the force that shuts them.",
	Sign: "The valve pops a little early, opens more readily, and blows down much too far.",
}
