package fault

// The severity is the gap over the ring with the disc shut: less than it was
// is a ring turned up, more is one turned down.
var lowerRingMoved = Fault{
	Name: "lower-ring-moved",
	About: "The ring on the nozzle has been turned from its setting or has crept, its lock pin loose, and the huddling " +
		"chamber empties through another gap.",
	Part:    "spring-valve",
	Param:   "lower-ring.gap",
	Typical: 0.5e-3, // m
	Source: "NRC Information Notice 86-05 tells what wrong settings of the rings do; that a ring turned up lengthens " +
		"the blowdown and lowers the pop, and one turned down lengthens the simmer: Valve Selection Handbook, pp. 169 " +
		"and 175. Typical value: half a millimetre, turned up by 34 of the notches of the boiler plant's valves.",
	Sign: "Turned up, the valve pops a little early, hardly simmers and blows down too far; turned down, it simmers long, " +
		"pops late and blows down a little less.",
}
