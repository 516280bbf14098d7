package fault

var seatLeaks = Fault{
	Name:    "seat-leaks",
	About:   "The main seat is cut or fouled and leaks while the disc is shut.",
	Part:    "piloted-valve",
	Param:   "seat.leak-area",
	Typical: 10e-6, // m2
	Source: "Common practice, no source. Typical value: 10 mm2, half a per cent of the bench's bore, " +
		"which passes 24 g/s at 12 bar abs.",
	Sign: "With the disc shut, the chamber full and no current, gas or steam flows through the tailpipe; of steam, it grows hot.",
}
