package fault

var inletThrottled = Fault{
	Name:    "inlet-throttled",
	About:   "The inlet line is partly closed or blocked ahead of the valve.",
	Part:    "line",
	Param:   "area",
	Typical: 800e-6, // m2
	Source: "Common practice, no source. Typical value: 800 mm2, about a sixth of the line of the gas " +
		"bench and less than half of what its seat passes; below about 540 mm2 the valve no " +
		"longer brings the vessel down to its reset pressure against the bench's inflow, below " +
		"about 400 mm2 the disc does not stay fully open.",
	Sign: "At a lift the pressure in the valve's body falls far below the vessel's, and the valve " +
		"stays open several times as long to bring the vessel down.",
}
