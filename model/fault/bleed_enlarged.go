package fault

var bleedEnlarged = Fault{
	Name: "bleed-enlarged",
	About: "The drilled bleed has been worn wide, so the chamber fills almost as fast as the pilot " +
		"can empty it.",
	Part:    "piloted-valve",
	Param:   "bleed.area",
	Typical: 30e-6, // m2
	Source: "Common practice, no source. Typical value: 30 mm2 on the gas bench, where the pilot of " +
		"80 mm2 can still empty the chamber; from about 39 mm2 it cannot, because the ratio of " +
		"the areas then exceeds that of the pressures at which the disc lifts.",
	Sign: "At a lift the chamber's pressure falls only part of the way, and once the pilot is shut " +
		"the valve reseats with almost no delay.",
}
