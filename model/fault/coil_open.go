package fault

var coilOpen = Fault{
	Name:    "coil-open",
	About:   "The coil's circuit is broken inside, so no current flows though the voltage is there.",
	Part:    "piloted-valve",
	Param:   "coil.resistance",
	Typical: 1e6, // ohm
	Source: "Common practice, no source. Typical value: 1 Mohm, which a meter on the bench shows as " +
		"open; the coil draws a tenth of a milliampere.",
	Sign: "Switch and relay act, the coil has its voltage and no current, and the valve does not " +
		"lift.",
}
