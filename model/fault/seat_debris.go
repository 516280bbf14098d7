package fault

var seatDebris = Fault{
	Name:    "seat-debris",
	About:   "Scale has come to lie on the main seat at a lift, and the disc does not shut tight.",
	Part:    "piloted-valve",
	Param:   "seat.leak-area",
	Typical: 15e-6, // m2
	Source: "Common practice, no source. Typical value: 15 mm2, the ring of a tenth of a millimetre under " +
		"the disc of a bore of 50 mm; that a later stroke washes the scale away is not computed.",
	Sign: "From a lift on steam flows through the tailpipe with the disc shut, the chamber full and no " +
		"current, and it stays hot.",
}
