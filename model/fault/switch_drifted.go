package fault

var switchDrifted = Fault{
	Name:    "switch-drifted",
	About:   "The pressure switch has drifted, so it makes and resets away from its stamped pressures.",
	Part:    "pressure-switch",
	Param:   "drift",
	Typical: 0.5e5, // Pa
	Source: "Common practice, no source. Typical value: 0.5 bar upwards, four per cent of the set " +
		"pressure of the gas bench; a negative severity drifts downwards.",
	Sign: "The valve opens and reseats at pressures that are off by the same amount, while every " +
		"other part acts in its usual time.",
}
