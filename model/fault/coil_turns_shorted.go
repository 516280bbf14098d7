package fault

var coilTurnsShorted = Fault{
	Name:    "coil-turns-shorted",
	About:   "Turns of the coil are bridged, so it takes more current for the same pull.",
	Part:    "piloted-valve",
	Param:   "coil.winding.shorted-turns",
	Typical: 0.6,
	Source: "NRC Bulletin 80-23. Typical value: three fifths of the turns, with which the current is two " +
		"and a half times as large; the fuse of the boiler plant carries that for seconds only.",
	Sign: "The current is high and the pull as ever, the coil grows hot, and the fuse blows during a " +
		"long demand, which shuts the valve before the switch resets.",
}
