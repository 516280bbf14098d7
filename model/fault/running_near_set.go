package fault

var runningNearSet = Fault{
	Name:    "running-near-set",
	About:   "The boiler is run too near the pressure at which the valve opens.",
	Part:    "heat-input",
	Param:   "control.hold",
	Typical: 41e5, // Pa
	Source: "Common practice, no source. Typical value: 41 bar abs, the set pressure of the boiler plant " +
		"itself, where 3 bar less is right.",
	Sign: "Every part is sound and the valve lifts again and again at small disturbances; with the " +
		"pressure lowered it stops.",
}
