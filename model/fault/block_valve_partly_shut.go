package fault

var blockValvePartlyShut = Fault{
	Name:    "block-valve-partly-shut",
	About:   "The block valve ahead of the valve is partly shut.",
	Part:    "line",
	Param:   "block-valve.opening",
	Typical: 0.2,
	Source: "Common practice, no source. Typical value: a fifth of its area, which on the boiler plant is " +
		"half of what the seat passes.",
	Sign: "At a lift the pressure in the valve falls far below that of the drum, less is relieved, and " +
		"the valve stays open longer.",
}
