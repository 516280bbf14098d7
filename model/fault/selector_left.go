package fault

var selectorLeft = Fault{
	Name:   "selector-left",
	About:  "The selector of the coil circuit was left in a position other than automatic.",
	Part:   "relay",
	Param:  "selector.position",
	Word:   "off",
	Source: "Common practice, no source. Typical value: off; open holds the valve open.",
	Sign: "The pressure switch makes and the relay does not follow it, so the valve does not lift on " +
		"pressure.",
}
