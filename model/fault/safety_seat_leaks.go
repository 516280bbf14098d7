package fault

var safetySeatLeaks = Fault{
	Name:    "safety-seat-leaks",
	About:   "The seat of the safety valve is cut, and leaks while the disc is shut.",
	Part:    "spring-valve",
	Param:   "seat.leak-area",
	Typical: 5e-6, // m2
	Source: "Common practice, no source. Typical value: 5 mm2, half a per cent of the bore of the boiler plant's valves, " +
		"which passes some 25 g/s.",
	Sign: "Its pipe is hot with the valve shut, a wisp stands at the exhaust, and a lift by hand does not change it.",
}
