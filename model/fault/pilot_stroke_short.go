package fault

var pilotStrokeShort = Fault{
	Name:    "pilot-stroke-short",
	About:   "The stroke of the plunger is set too short, so the pilot opens only in part.",
	Part:    "piloted-valve",
	Param:   "plunger.adjustment.lost-stroke",
	Typical: 1.8e-3, // m
	Source:  "Common practice, no source. Typical value: 1.8 mm of the 2.5 mm of the boiler plant.",
	Sign: "The current is right and the pilot moves, but the chamber empties slowly and not as far as " +
		"it should, and the valve lifts late.",
}
