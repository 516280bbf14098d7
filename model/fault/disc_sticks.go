package fault

// The friction while sliding follows the severity: the force that starts a disc
// from rest is never below the force that it slides against. The smoothed law of
// friction creeps, so with it the disc sticks at its ends only.
var discSticks = Fault{
	Name:    "disc-sticks",
	About:   "The disc is galled or fouled in its guide, so it moves only against a large friction.",
	Part:    "piloted-valve",
	Param:   "disc.stick-friction",
	Typical: 1300, // N
	Also:    []Setting{{Param: "disc.friction", Follows: true}},
	Source: "Common practice, no source. Typical value: 1300 N, between the 1200 N with which the " +
		"refilled chamber of the gas bench pushes its disc shut and the 1860 N with which an " +
		"emptied one lets it open at set pressure; from about 1900 N it is stuck shut.",
	Sign: "The valve lifts late on demand and then stays open although its chamber is full again; " +
		"with a larger severity it does not lift although its chamber is empty.",
}
