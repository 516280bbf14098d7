package fault

var headerHeated = Fault{
	Name:    "header-heated",
	About:   "Another valve leaks or discharges a little into the shared header and heats it.",
	Part:    "neighbour",
	Param:   "opening",
	Typical: 0.02,
	Source: "Common practice, no source. Typical value: two per cent of its opening, a leak that is seen " +
		"at the exhaust.",
	Sign: "Header and tailpipe are hot although this valve is shut, and its block valve changes " +
		"nothing; its own outlet is cooler than the header.",
}
