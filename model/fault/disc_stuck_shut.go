package fault

var discStuckShut = Fault{
	Name:    "disc-stuck-shut",
	About:   "Deposits or galling hold the disc on its seat.",
	Part:    "piloted-valve",
	Param:   "disc.bond.shut",
	Typical: 8e3, // N
	Source: "Common practice, no source. Typical value: 8 kN, more than the 5.7 kN with which an emptied " +
		"chamber lets the disc of the boiler plant open at its set pressure.",
	Sign: "On demand the current is right, the chamber empties and the dump line grows hot, but the " +
		"disc does not leave its seat and the tailpipe gets no more than what the pilot passes.",
}
