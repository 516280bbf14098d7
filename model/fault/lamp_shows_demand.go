package fault

var lampShowsDemand = Fault{
	Name:  "lamp-shows-demand",
	About: "The lamp that is taken for the position of the valve is wired to the demand.",
	Part:  "lamp",
	Param: "shows",
	Word:  "coil-voltage",
	Source: "NRC NUREG-0578, section 2.1.3.a (number from memory), which asks for a direct indication of " +
		"position. Typical value: coil-voltage; relay is the same further up the chain.",
	Sign: "The lamp goes out when the coil is switched off although the disc is still open, and lights " +
		"although the disc may not have moved.",
}
