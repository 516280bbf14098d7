package fault

var supplyLow = Fault{
	Name:    "supply-low",
	About:   "The voltage at the coil is too low, from a poor supply or a long cable.",
	Part:    "relay",
	Param:   "supply",
	Typical: 75, // V
	Source: "Common practice, no source. Typical value: 60 % of the 125 V of the gas bench, where the " +
		"pilot needs 1.64 A, hence 82 V across 50 ohm, to lift against its spring and 12 bar.",
	Sign: "The coil's current settles at a low value, the pilot does not move and the valve does " +
		"not lift.",
}
