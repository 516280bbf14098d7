package procedure

// stroke lifts the valve by hand from the panel. Common practice, no source:
// full open for two to three seconds.
var stroke = Procedure{
	Name:  "stroke",
	Kind:  piloted,
	About: "Tell the operators, hold the selector open for two seconds and a half, and let it go to automatic.",
	Caution: "The system's pressure dips, and operators who were not told may raise the fire; nobody stands in the " +
		"path of the exhaust.",
	steps: []step{
		{part: theRelay, param: "selector.position", word: "open"},
		{wait: 2.5, part: theRelay, param: "selector.position", word: "auto"},
	},
}
