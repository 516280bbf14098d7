package fault

var sensingRootShut = Fault{
	Name:    "sensing-root-shut",
	About:   "The root valve of the sensing line is shut, or the line is plugged.",
	Part:    "sensor",
	Param:   "sensing-line.root-opening",
	Typical: 0,
	Source:  "NRC Information Notice 81-15. Typical value: shut, 0.",
	Sign: "The switch sees the same pressure whatever the system does: nothing opens the valve but a " +
		"stroke by hand.",
}
