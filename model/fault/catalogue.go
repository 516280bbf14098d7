package fault

// catalogue names every fault; each stands in the file of its name.
var catalogue = []Fault{
	bleedPlugged,
}
