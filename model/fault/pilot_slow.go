package fault

var pilotSlow = Fault{
	Name:    "pilot-slow",
	About:   "The plunger is sticky, so the pilot moves slowly both ways.",
	Part:    "piloted-valve",
	Param:   "plunger.damping",
	Typical: 2000, // N s/m
	Source: "Common practice, no source. Typical value: 2000 N s/m, with which the pilot of the gas " +
		"bench takes a quarter of a second to shut and the valve reseats 0.1 bar lower; opening " +
		"is driven by the stronger coil and is delayed less.",
	Sign: "The valve lifts a little late and reseats very late: the time from switch reset to pilot " +
		"shut is several times that on record.",
}
