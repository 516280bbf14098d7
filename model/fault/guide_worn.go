package fault

var guideWorn = Fault{
	Name: "guide-worn",
	About: "The guide or the ring of the disc is worn, so steam passes beside it into the chamber almost " +
		"as fast as the pilot takes it away.",
	Part:    "piloted-valve",
	Param:   "guide.clearance",
	Typical: 70e-6, // m
	Source: "Common practice, no source. Typical value: 0.07 mm, three and a half times the clearance of the boiler " +
		"plant.",
	Sign: "At a lift the chamber empties only part of the way while the dump line carries much, the " +
		"lift is late, and once the pilot is shut the valve reseats with almost no delay.",
}
