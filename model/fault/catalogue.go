package fault

// catalogue names every fault; each stands in the file of its name.
var catalogue = []Fault{
	backPressure,
	bleedEnlarged,
	bleedPlugged,
	coilOpen,
	deadbandNarrow,
	discSticks,
	dumpRestricted,
	inletThrottled,
	pilotLeaks,
	pilotSlow,
	pilotStuckOpen,
	pilotStuckShut,
	seatLeaks,
	sensingSlow,
	springBroken,
	springWeak,
	supplyLow,
	switchDrifted,
}
