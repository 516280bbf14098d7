package fault

var chamberCondensate = Fault{
	Name:    "chamber-condensate",
	About:   "Water has gathered in the chamber before the first stroke.",
	Part:    "piloted-valve",
	Param:   "chamber.condensate.share",
	Typical: 0.8,
	Source: "Common practice, no source. Typical value: four fifths of the volume, as after a long stand " +
		"with the insulation off.",
	Sign: "The first lift is slow or late, because the water flashes as the pressure falls; the second " +
		"is as usual.",
}
