package fault

var headerPressure = Fault{
	Name:    "header-pressure",
	About:   "Another valve discharges fully into the shared header and raises the pressure there.",
	Part:    "neighbour",
	Param:   "opening",
	Typical: 1,
	Source: "Common practice, no source. Typical value: fully open, which on the boiler plant puts the " +
		"header more than 2 bar above an isolated and emptied valve, whose disc its preload holds " +
		"against no more.",
	Sign: "The pressure at the outlet is high with this valve at rest, and where its body is empty the " +
		"disc is lifted from the outlet side with no demand.",
}
