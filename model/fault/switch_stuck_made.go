package fault

var switchStuckMade = Fault{
	Name:  "switch-stuck-made",
	About: "The contact of the pressure switch stays closed, whatever the pressure.",
	Part:  "pressure-switch",
	Param: "contact.state",
	Word:  "stuck-made",
	Source: "Common practice, no source. Typical value: stuck-made; stuck-open is the same fault the " +
		"other way.",
	Sign: "Relay and coil are on although the switch sees less than its reset pressure, and the valve " +
		"stays open.",
}
