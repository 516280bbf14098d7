package fault

var safetyDebrisStays = Fault{
	Name:    "safety-debris-stays",
	About:   "Scale has been pressed into the seat of the safety valve, holds its disc off, and no lift carries it away.",
	Part:    "spring-valve",
	Param:   "seat.debris.size",
	Typical: 0.05e-3, // m
	Also:    []Setting{{Param: "seat.debris.washes-out", Word: "no"}},
	Source: "Common practice, no source. Typical value: a twentieth of a millimetre, as of scale that lies loose, so that a lift " +
		"alone tells one from the other.",
	Sign: "Its pipe is hot with the valve shut and a wisp stands at the exhaust, and after a full lift it is as before.",
}
