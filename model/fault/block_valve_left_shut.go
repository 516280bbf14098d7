package fault

var blockValveLeftShut = Fault{
	Name:    "block-valve-left-shut",
	About:   "The block valve was left shut after work on the valve.",
	Part:    "line",
	Param:   "block-valve.opening",
	Typical: 0,
	Source:  "Common practice, no source. Typical value: shut.",
	Sign: "A stroke is answered by coil and pilot, but nothing flows, the tailpipe stays cold and the " +
		"pressure of the system does not move.",
}
