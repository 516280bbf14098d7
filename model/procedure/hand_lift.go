package procedure

// handLift lifts a spring-loaded valve by its lever. Common practice, no source;
// that it must be possible at three quarters of the set pressure: 12 NYCRR
// 14-9.13.
var handLift = Procedure{
	Name: "hand-lift",
	Kind: sprung,
	About: "Tell the operators, pull the lever fully from a distance, hold it for two seconds and a half, and let it go " +
		"so that the disc snaps shut.",
	Caution: "Never below three quarters of the set pressure: too little flows to flush the seat, and the spring slams the disc. " +
		"The system's pressure dips, so operators are told first. Nobody stands in the path of the exhaust; protective " +
		"gear, and pull from a distance. It is no test of the set pressure; look again as it cools, and do not keep " +
		"lifting a valve that leaks.",
	steps: []step{
		{part: theOperators, param: "told", word: "yes", ifAny: true},
		{wait: 5, part: theValve, param: "lever.pull", number: 1},
		{travel: true, wait: 2.5, part: theValve, param: "lever.pull", number: 0},
	},
}
