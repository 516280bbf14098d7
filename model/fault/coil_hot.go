package fault

var coilHot = Fault{
	Name: "coil-hot",
	About: "The coil is in surroundings far hotter than it is made for, so its copper has a high " +
		"resistance.",
	Part:    "piloted-valve",
	Param:   "coil.winding.around",
	Typical: 448.15, // K
	Source: "Common practice, no source. Typical value: 175 degC, the air of a space without ventilation " +
		"beside hot pipes; from 137 degC the current of the boiler plant does not lift its pilot at " +
		"41 bar abs.",
	Sign: "The voltage is right and the current low, the pilot does not move and the valve does not " +
		"lift; with the coil cold it works.",
}
