package procedure

// returnSlowly brings the valve back: the block valve is cracked open and the
// chamber fills with the body. Common practice, no source.
var returnSlowly = Procedure{
	Name: "return-slowly",
	About: "Shut the drain, crack the block valve open to a fiftieth and wait a minute until the chamber has filled, " +
		"open it fully, put the fuse in, set the selector to automatic, and stroke once.",
	Caution: "Tags come off by those who hung them. Operators are told of the stroke; nobody stands in the path of the " +
		"exhaust. Check seat and dump line again afterwards.",
	steps: []step{
		{part: theValve, param: "body-drain.opening", number: 0},
		{wait: 2, part: theLine, param: "block-valve.opening", number: 0.02},
		{wait: 60, part: theLine, param: "block-valve.opening", number: 1},
		{travel: true, wait: 5, part: theRelay, param: "circuit.fuse.state", word: "in"},
		{wait: 2, part: theRelay, param: "selector.position", word: "auto"},
		{wait: 5, part: theRelay, param: "selector.position", word: "open"},
		{wait: 2.5, part: theRelay, param: "selector.position", word: "auto"},
	},
}
