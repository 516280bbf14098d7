package procedure

// returnFast shows what comes of haste: the body fills faster than the bleed
// fills the chamber, and the disc lifts with no demand (for the sign, NRC
// Information Notice 83-78).
var returnFast = Procedure{
	Name:    "return-fast",
	Kind:    piloted,
	About:   "Shut the drain and spin the block valve open in a fifth of a second: the mistake, for the class to see.",
	Caution: "Never at a real valve: the disc lifts by itself, onto whoever stands at the exhaust.",
	steps: []step{
		{part: theValve, param: "body-drain.opening", number: 0},
		{wait: 2, part: theLine, param: "block-valve.motion.travel-time", number: 0.2},
		{wait: 0.1, part: theLine, param: "block-valve.opening", number: 1},
		{wait: 5, part: theRelay, param: "circuit.fuse.state", word: "in"},
		{wait: 2, part: theRelay, param: "selector.position", word: "auto"},
	},
}
