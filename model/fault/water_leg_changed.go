package fault

var waterLegChanged = Fault{
	Name:    "water-leg-changed",
	About:   "The column of water in the sensing line is not the one that the switch is set for.",
	Part:    "sensor",
	Param:   "sensing-line.water-leg",
	Typical: 0, // m
	Source: "Common practice, no source. Typical value: none left, because the line has been drained; the " +
		"switch then sees too little by the 0.39 bar of the 4 m that it is set for in the boiler " +
		"plant.",
	Sign: "The valve opens and reseats at pressures that are off by the same constant amount, and the " +
		"gauge at the switch is off from that at the root by as much.",
}
