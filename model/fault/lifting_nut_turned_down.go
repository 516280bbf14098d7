package fault

var liftingNutTurnedDown = Fault{
	Name: "lifting-nut-turned-down",
	About: "The nut of the lifting gear has turned down its spindle, its pin missing, and rests on the lever: " +
		"the disc cannot go all the way back to its seat.",
	Part:    "spring-valve",
	Param:   "lever.nut-holds",
	Typical: 0.5e-3, // m
	Source: "NRC Information Notice 84-33, which tells of safety valves that stayed partly open far below their " +
		"reseat pressure. Typical value: half a millimetre, half a turn of a thread with a pitch of one, whose ring " +
		"round a seat of 38 mm passes some 5 per cent of what the open valve does.",
	Sign: "Steam passes at any pressure, far below the reseat pressure too, the exhaust stays hot, and the lever has no free play.",
}
