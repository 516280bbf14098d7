package procedure

// pullFuse kills the coil's supply: the check that tells a welded contact from
// what is beyond the fuse. Common practice, no source.
var pullFuse = Procedure{
	Name:    "pull-fuse",
	Kind:    piloted,
	About:   "Take the fuse of the coil circuit out.",
	Caution: "Live terminals: only by those who may work on them, and the valve then opens for nobody.",
	steps:   []step{{part: theRelay, param: "circuit.fuse.state", word: "out"}},
}
