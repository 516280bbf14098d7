package fault

var coverLeaks = Fault{
	Name:    "cover-leaks",
	About:   "The gasket of the chamber cover leaks to the outside.",
	Part:    "piloted-valve",
	Param:   "chamber.cover.leak-area",
	Typical: 4e-6, // m2
	Source: "Common practice, no source. Typical value: 4 mm2 against a bleed of 2 mm2 and the guide of " +
		"the boiler plant.",
	Sign: "The chamber stands well below the body with no current in the coil and a cold dump line, " +
		"steam wisps at the joint, and the valve reseats late or not at all.",
}
