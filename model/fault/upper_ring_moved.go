package fault

// The severity is the height of the way out below the ring: less than it was is
// a ring turned down.
var upperRingMoved = Fault{
	Name:    "upper-ring-moved",
	About:   "The ring round the guide has been turned from its setting or has crept, its lock pin loose.",
	Part:    "spring-valve",
	Param:   "upper-ring.exit-height",
	Typical: 14e-3, // m
	Source: "NRC Information Notice 86-05 tells what wrong settings of the rings do; that a ring turned down lengthens " +
		"the blowdown: Valve Selection Handbook, pp. 169 and 175. Typical value: 14 mm, well below the 20 mm and more " +
		"at which the boiler plant's valves meet the blowdown that they are allowed.",
	Sign: "Turned down, the valve pops as it should but blows down two or three times as far; turned up, it blows down less " +
		"and may not reach full lift.",
}
