package fault

var springWeak = Fault{
	Name:    "spring-weak",
	About:   "The main spring has lost part of its preload.",
	Part:    "piloted-valve",
	Param:   "spring.preload",
	Typical: 100, // N
	Source: "Common practice, no source. Typical value: half the 200 N of the gas bench, whose " +
		"pressure thresholds of the chamber it moves by a quarter of a bar.",
	Sign: "Under pressure the valve works much as before, lifting at a somewhat higher chamber " +
		"pressure and reseating a little later; at low pressure little holds it shut, and half " +
		"the pressure from the outlet side lifts it.",
}
