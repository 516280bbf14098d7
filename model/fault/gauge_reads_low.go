package fault

var gaugeReadsLow = Fault{
	Name: "gauge-reads-low",
	About: "The gauge that the fire is held by reads low, so the true pressure is higher than anybody " +
		"thinks.",
	Part:    "sensor",
	Param:   "sensing-line.error",
	Typical: -3.2e5, // Pa
	Source: "Common practice, no source. Typical value: 3.2 bar too low, with which the boiler plant runs " +
		"at 41.2 bar abs where it shows 38.",
	Sign: "The valve opens at a pressure that the gauge shows as normal, and every part of the valve " +
		"tests good.",
}
