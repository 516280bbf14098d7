package fault

var deadbandNarrow = Fault{
	Name:    "deadband-narrow",
	About:   "The switch resets too close below its set pressure.",
	Part:    "pressure-switch",
	Param:   "reset",
	Typical: 11.9e5, // Pa
	Source: "Common practice, no source. Typical value: 0.1 bar below the 12.0 bar abs at which the " +
		"switch of the gas bench makes, where 0.7 bar is right.",
	Sign: "The valve opens and shuts in short regular cycles that relay and coil follow; blowdown " +
		"shrinks only to what the pressure falls during the closing delay.",
}
