package fault

var dumpRestricted = Fault{
	Name:    "dump-restricted",
	About:   "The line from the pilot to the outlet is partly blocked, so the chamber empties slowly.",
	Part:    "piloted-valve",
	Param:   "dump-line.area",
	Typical: 12e-6, // m2
	Source: "Common practice, no source. Typical value: 12 mm2 against a bleed of 4 mm2, with which " +
		"gas-bench-plus lifts about an eighth of a second late; at about 8 mm2 the chamber can no " +
		"longer be emptied far enough to lift.",
	Sign: "The pilot opens in time, but the chamber's pressure falls slowly and not as far as it " +
		"should, and the valve lifts late.",
}
