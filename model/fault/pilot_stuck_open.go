package fault

var pilotStuckOpen = Fault{
	Name: "pilot-stuck-open",
	About: "The pilot or its plunger is stuck in the open end, held by dirt or by magnetism that " +
		"remains.",
	Part:    "piloted-valve",
	Param:   "plunger.bond-open",
	Typical: 100, // N
	Source: "Common practice, no source. Typical value: 100 N, four times the 26 N of the return " +
		"spring at full stroke on the gas bench.",
	Sign: "The coil's current is gone and the pilot stays open: the chamber stays empty and the " +
		"valve does not reseat.",
}
