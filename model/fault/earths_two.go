package fault

var earthsTwo = Fault{
	Name:  "earths-two",
	About: "Two faults to earth feed the coil from another circuit, past contact and fuse.",
	Part:  "relay",
	Param: "circuit.earth",
	Word:  "two",
	Source: "Common practice, no source. Typical value: two; one alone does nothing but unbalance the " +
		"bus.",
	Sign: "The relay is off and the coil has its current, so the valve opens and stays open, and " +
		"pulling the fuse changes nothing.",
}
