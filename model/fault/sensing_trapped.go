package fault

var sensingTrapped = Fault{
	Name:    "sensing-trapped",
	About:   "Pressure stays trapped at the switch, because the snubber lets it in and not out again.",
	Part:    "sensor",
	Param:   "sensing-line.fall-lag",
	Typical: 1e6, // s
	Source: "Common practice, no source. Typical value: a million seconds, twelve days, in which nothing " +
		"leaves during a lift.",
	Sign: "After a lift switch, relay and coil stay on while the pressure of the system falls far below " +
		"the reset pressure.",
}
