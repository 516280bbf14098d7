package procedure

// returnSlowly brings the valve back: the block valve is barely cracked open, so
// that metal and chamber keep up with the body. Common practice, no source; how
// little and how long comes from the model: on cold metal the disc lifts if more
// than some 5 mm2 are open before body and chamber are warm.
var returnSlowly = Procedure{
	Name: "return-slowly",
	Kind: piloted,
	About: "Shut the drain, crack the block valve open by a hair (a two-thousandth of its area) and wait four minutes until " +
		"line, body and chamber are warm and full, open it fully, put the fuse in, set the selector to automatic, and stroke once.",
	Caution: "Tags come off by those who hung them. Operators are told of the stroke; nobody stands in the path of the " +
		"exhaust. Check seat and dump line again afterwards.",
	steps: []step{
		{part: theValve, param: "body-drain.opening", number: 0},
		{wait: 2, part: theLine, param: "block-valve.opening", number: 0.0005},
		{wait: 240, part: theLine, param: "block-valve.opening", number: 1},
		{travel: true, wait: 5, part: theRelay, param: "circuit.fuse.state", word: "in"},
		{wait: 2, part: theRelay, param: "selector.position", word: "auto"},
		{wait: 5, part: theRelay, param: "selector.position", word: "open"},
		{wait: 2.5, part: theRelay, param: "selector.position", word: "auto"},
	},
}
