package fault

var contactWelded = Fault{
	Name:   "contact-welded",
	About:  "The contact of the relay has welded, so the coil stays on whatever the relay does.",
	Part:   "relay",
	Param:  "circuit.contact",
	Word:   "welded",
	Source: "Common practice, no source. Typical value: welded.",
	Sign: "The relay is off and the coil has its current, so the valve opens and stays open until the " +
		"fuse is out.",
}
