package fault

var drainPlugged = Fault{
	Name:    "drain-plugged",
	About:   "The drain at the lowest point of the tailpipe is plugged, so water stays in it.",
	Part:    "tailpipe",
	Param:   "drain.area",
	Typical: 0, // m2
	Source:  "Common practice, no source. Typical value: shut completely.",
	Sign: "Water stands in the tailpipe after a lift and keeps its wall at the temperature of boiling " +
		"water or below, however much steam comes; the next lift throws it out.",
}
