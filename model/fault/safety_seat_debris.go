package fault

var safetySeatDebris = Fault{
	Name:    "safety-seat-debris",
	About:   "Scale lies on the seat of the safety valve and holds its disc off.",
	Part:    "spring-valve",
	Param:   "seat.debris.size",
	Typical: 0.05e-3, // m
	Source: "Common practice, no source. Typical value: a twentieth of a millimetre, whose ring round a seat of 38 mm passes " +
		"some 25 g/s; whether a full lift carries it away is a parameter of the plant's.",
	Sign: "Its pipe is hot with the valve shut and a wisp stands at the exhaust, until one full lift clears the seat and it cools.",
}
