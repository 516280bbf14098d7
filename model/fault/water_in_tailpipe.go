package fault

var waterInTailpipe = Fault{
	Name:    "water-in-tailpipe",
	About:   "Water stands at the lowest point of the tailpipe, whose drain is plugged.",
	Part:    "tailpipe",
	Param:   "low-point.water",
	Typical: 3e-3, // m3
	Also:    []Setting{{Param: "drain.area", Number: 0}},
	Source: "Common practice, no source. Typical value: 3 L, a pool 7 cm deep in the boiler plant's pipe: " +
		"rain, and what a small leak has left in weeks.",
	Sign: "The lowest point of the tailpipe stays oddly cold through a lift, and beside a seat that leaks; " +
		"the next lift throws the water out as a slug.",
}
