package fault

// The friction while sliding follows the severity, as with the disc of a
// piloted valve.
var guideDragging = Fault{
	Name:    "guide-dragging",
	About:   "The spindle or the disc holder of the safety valve drags in its guide: it is bent, corroded or galled.",
	Part:    "spring-valve",
	Param:   "disc.stick-friction",
	Typical: 150, // N
	Also:    []Setting{{Param: "disc.friction", Follows: true}},
	Source: "Common practice, no source. Typical value: 150 N, which on a seat of 38 mm is worth 1.3 bar: it pops late by " +
		"that, and reseats late.",
	Sign: "The valve pops late by the friction over the area of the seat and reseats late; " +
		"the hand has to pull harder by it over the lever's ratio.",
}
