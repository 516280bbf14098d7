package fault

var pilotLeaks = Fault{
	Name:    "pilot-leaks",
	About:   "The pilot's seat leaks, so the chamber is never quite full.",
	Part:    "piloted-valve",
	Param:   "pilot.leak-area",
	Typical: 6e-6, // m2
	Source: "NRC Bulletin 80-25. Typical value: 6 mm2, in the middle of the range from about 5 to 8 " +
		"mm2 in which the valve of the gas bench holds at rest and lifts on demand but reseats " +
		"late or never; less only lowers the chamber's pressure, more lifts the disc with no " +
		"demand.",
	Sign: "At rest the chamber stands well below the body with no current in the coil; after a lift " +
		"on demand the valve reseats far too late or not at all.",
}
