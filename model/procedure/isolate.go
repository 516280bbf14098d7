package procedure

// isolate takes the valve out of service. Common practice, no source; proving
// zero energy: 29 CFR 1910.147.
var isolate = Procedure{
	Name: "isolate",
	Kind: piloted,
	About: "Shut the block valve, stroke once to empty body and chamber, set the selector off, take the fuse out, " +
		"and open the body's drain.",
	Caution: "One shut block valve is no proof: tag it, prove that nothing holds pressure or voltage, and keep proving " +
		"it, since a leak builds the pressure up again. The drain may spit hot water that flashes. A valve that is shut " +
		"off relieves nothing: the spring-loaded valves must be in service.",
	steps: []step{
		{part: theLine, param: "block-valve.opening", number: 0},
		{travel: true, wait: 2, part: theRelay, param: "selector.position", word: "open"},
		{wait: 10, part: theRelay, param: "selector.position", word: "off"},
		{wait: 2, part: theRelay, param: "circuit.fuse.state", word: "out"},
		{wait: 5, part: theValve, param: "body-drain.opening", number: 1},
	},
}
