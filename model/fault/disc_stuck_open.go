package fault

var discStuckOpen = Fault{
	Name:    "disc-stuck-open",
	About:   "The disc is galled in its guide where it stands open, and more than friction holds it there.",
	Part:    "piloted-valve",
	Param:   "disc.bond.open",
	Typical: 5e3, // N
	Source: "Common practice, no source. Typical value: 5 kN, more than three times the 1.6 kN with which " +
		"the refilled chamber of the boiler plant pushes its disc shut at reset pressure; the lower " +
		"the pressure, the less pushes.",
	Sign: "After a lift the chamber is full again and the coil dead, and the disc stays at its stop; " +
		"raising the pressure does not help until the push exceeds the bond.",
}
