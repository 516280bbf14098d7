package procedure

// drain empties the body of what has condensed in it. Common practice, no
// source.
var drain = Procedure{
	Name:    "drain",
	Kind:    piloted,
	About:   "Open the body's drain for half a minute, and shut it.",
	Caution: "It may spit hot water that flashes: stand clear, and drain to a safe place.",
	steps: []step{
		{part: theValve, param: "body-drain.opening", number: 1},
		{wait: 30, part: theValve, param: "body-drain.opening", number: 0},
	},
}
