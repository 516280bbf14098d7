package fault

var outletThrottled = Fault{
	Name: "outlet-throttled",
	About: "The tailpipe, or the header that it leads to, is blocked further on, and what is discharged " +
		"into it gets away slowly.",
	Part:    "tailpipe",
	Param:   "area",
	Typical: 2800e-6, // m2
	Source: "Common practice, no source. Typical value: 2800 mm2, at which the header of the boiler plant " +
		"stands at some 30 bar abs while its neighbour discharges 10 kg/s.",
	Sign: "The pressure behind the valve is high as soon as anything is discharged there, at rest too if a " +
		"neighbour does; a lift carries less.",
}
