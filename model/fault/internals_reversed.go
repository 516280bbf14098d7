package fault

var internalsReversed = Fault{
	Name: "internals-reversed",
	About: "The internals have been put together the wrong way round in an overhaul, so the disc meets a " +
		"stop almost at once.",
	Part:    "piloted-valve",
	Param:   "disc.travel",
	Typical: 1e-4, // m
	Source: "NRC Information Notice 96-02, which also tells that noise and a hot tailpipe were taken for " +
		"an open valve. Typical value: a tenth of a millimetre, whose ring round the seat passes less " +
		"than a per cent of what the open valve passes; with it the pilot discharges into the " +
		"tailpipe as it should, so there is noise.",
	Sign: "On demand all links act and the tailpipe grows hot and noisy, but the disc hardly lifts and " +
		"the pressure of the system does not fall.",
}
