package fault

var safetyInletNarrow = Fault{
	Name:    "safety-inlet-narrow",
	About:   "The inlet pipe of the safety valve is too narrow: the wrong pipe, or one that has grown tight with scale.",
	Part:    "spring-valve",
	Param:   "inlet.bore",
	Typical: 32e-3, // m
	Source: "Common practice, no source. Typical value: 32 mm, below the 36 mm of the bore of the boiler plant's valves, so that " +
		"the pipe loses several times the 3 per cent of the set pressure that are allowed.",
	Sign: "Once open, the pressure below the disc falls far below the drum's: the valve does not lift fully and stands part of " +
		"the way, and on a long pipe it chatters.",
}
