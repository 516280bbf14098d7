package fault

var blockValveLeaks = Fault{
	Name:    "block-valve-leaks",
	About:   "The block valve does not shut tight.",
	Part:    "line",
	Param:   "block-valve.motion.leak-area",
	Typical: 20e-6, // m2
	Source:  "Common practice, no source. Typical value: 20 mm2, less than half a per cent of its bore.",
	Sign: "After isolation body and chamber do not stay empty: the pressure builds up again once they " +
		"are shut in.",
}
