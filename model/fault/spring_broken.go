package fault

var springBroken = Fault{
	Name:    "spring-broken",
	About:   "The main spring is broken and pushes no longer.",
	Part:    "piloted-valve",
	Param:   "spring.preload",
	Typical: 0,
	Also:    []Setting{{Param: "spring.rate", Number: 0}},
	Source: "Common practice, no source. Typical value: no force at any lift, so the rate is zero " +
		"too; the severity is a preload that remains.",
	Sign: "Under pressure the valve still lifts and reseats, reseating later; without pressure " +
		"nothing but friction keeps the disc from falling open.",
}
