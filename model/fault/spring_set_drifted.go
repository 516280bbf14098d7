package fault

// That a spring relaxes and that its adjusting screw has moved are the same
// here: what it pushes with on the seat is not what it was set for.
var springSetDrifted = Fault{
	Name:    "spring-set-drifted",
	About:   "The spring of the safety valve pushes with another force than it was set for: it has relaxed, or its screw has moved.",
	Part:    "spring-valve",
	Param:   "spring.preload",
	Typical: 4450, // N
	Source: "Common practice, no source. Typical value: 4450 N, some 230 N less than the first safety valve of the boiler " +
		"plant needs, which lets it pop 2 bar early, at the pressure at which the piloted valve opens.",
	Sign: "The valve pops off its stamp, by the lost force over the area of the seat, and reseats as much lower.",
}
