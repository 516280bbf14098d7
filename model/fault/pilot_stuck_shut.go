package fault

var pilotStuckShut = Fault{
	Name:    "pilot-stuck-shut",
	About:   "The pilot or its plunger is stuck in the shut end, so the coil cannot lift it.",
	Part:    "piloted-valve",
	Param:   "plunger.bond-shut",
	Typical: 500, // N
	Source: "NRC Bulletin 80-25 and Information Notice 83-39. Typical value: 500 N, twice the 250 N " +
		"with which the coil of the gas bench pulls at its full current.",
	Sign: "The coil's current is right, but the pilot does not move, the chamber stays full and the " +
		"valve does not lift.",
}
