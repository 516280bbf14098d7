package fault

var fuseOut = Fault{
	Name: "fuse-out",
	About: "The fuse of the coil circuit is out or blown, so relay and lamps may act but no current " +
		"flows.",
	Part:   "relay",
	Param:  "circuit.fuse.state",
	Word:   "out",
	Source: "Common practice, no source. Typical value: out.",
	Sign: "Switch and relay act, there is no voltage at the coil and no current, and the valve does not " +
		"lift.",
}
