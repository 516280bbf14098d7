package procedure

// putFuse puts a new fuse in. Common practice, no source.
var putFuse = Procedure{
	Name:    "put-fuse",
	Kind:    piloted,
	About:   "Put a good fuse of the coil circuit in.",
	Caution: "First find why the old one blew. With the block valve open, the valve may lift the moment it is in.",
	steps: []step{
		{part: theRelay, param: "circuit.fuse.state", word: "out"}, // a blown one comes out first
		{wait: 1, part: theRelay, param: "circuit.fuse.state", word: "in"},
	},
}
