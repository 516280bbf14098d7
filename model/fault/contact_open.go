package fault

var contactOpen = Fault{
	Name:   "contact-open",
	About:  "The contact of the relay is dirty or burnt and does not close the circuit.",
	Part:   "relay",
	Param:  "circuit.contact",
	Word:   "open",
	Source: "Common practice, no source. Typical value: open.",
	Sign: "Switch and relay act, there is no voltage at the coil although the fuse is good, and the " +
		"valve does not lift.",
}
