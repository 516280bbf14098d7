package fault

var blockValveOpenedFast = Fault{
	Name:    "block-valve-opened-fast",
	About:   "The block valve is opened in a moment, so the body fills faster than the chamber.",
	Part:    "line",
	Param:   "block-valve.motion.travel-time",
	Typical: 0.1, // s
	Source: "NRC Information Notice 83-78, for the sign. Typical value: a tenth of a second, a quarter " +
		"turn by hand; a gate takes half a minute.",
	Sign: "At return to service the disc lifts with no demand and no current, and shuts when the " +
		"chamber has filled; opened slowly it stays shut.",
}
