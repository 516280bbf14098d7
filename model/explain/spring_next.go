package explain

// SpringCheck is a step that is safe for whoever stands at the plant, before anyone
// touches anything.
type SpringCheck int

const (
	TellBlows        SpringCheck = iota // tell the operators: it blows
	TellSimmers                         // tell the operators: it simmers
	TellPasses                          // tell the operators: it passes while shut
	TellCannotLift                      // tell the operators: it cannot lift
	TellChatters                        // tell the operators: it chatters
	TellLifted                          // tell the operators: a hand lifts it
	ClearOfExhaust                      // keep clear of the exhaust path
	OthersInService                     // the other relief valves carry the relief meanwhile
	BringDown                           // the operators bring the pressure down
	CompareGauges                       // two gauges at the drum or vessel
	FreePlay                            // has the lever free play
	LookForGag                          // is the gag off
	ReadBackPressure                    // the pressure in the discharge pipe
	LetGo                               // let the lever go in one movement
	LiftToFlush                         // one lift by hand, by procedure
	RingsByLicensed                     // rings and spring are set by those who may
)

var springCheckWords = [...]string{"tell-blows", "tell-simmers", "tell-passes", "tell-cannot-lift", "tell-chatters", "tell-lifted", "clear-of-exhaust",
	"others-in-service", "bring-down", "compare-gauges", "free-play", "look-for-gag", "read-back-pressure", "let-go", "lift-to-flush", "rings-by-licensed"}

func (c SpringCheck) String() string { return word(springCheckWords[:], int(c)) }

// SpringChecks is how many there are.
const SpringChecks = len(springCheckWords)

// flushShare is the share of the parting pressure, gauge, from which on a safety
// valve should be lifted by hand, so that what flows flushes its seat (12 NYCRR
// 14-9.13: able to be lifted at 75 % of the set pressure).
const flushShare = 0.75

// springNext is what to do, in order.
func springNext(pg *SpringPage) []SpringCheck {
	f := &pg.Facts
	var out []SpringCheck
	add := func(c ...SpringCheck) { out = append(out, c...) }
	switch f.State {
	case SpringTight:
		if f.LeakW > 0 {
			add(TellPasses, ClearOfExhaust, FreePlay, BringDown)
		}
		if f.Back.Raises > backShare*f.Parting.Pressure {
			add(ReadBackPressure)
		}
	case SpringSimmering:
		add(TellSimmers, ClearOfExhaust, BringDown, CompareGauges)
	case SpringAtFullLift, SpringPartly, SpringLifting, SpringFalling:
		add(TellBlows, ClearOfExhaust)
		if pg.Question == WhyWontReseat {
			add(BringDown, CompareGauges, RingsByLicensed)
		}
	case SpringHeldOff:
		add(TellPasses, ClearOfExhaust, FreePlay)
		if !f.Nut {
			add(LiftToFlush)
		}
		add(OthersInService)
	case SpringGagged:
		add(TellCannotLift, OthersInService, LookForGag, BringDown)
	case SpringByLever:
		add(TellLifted, ClearOfExhaust, LetGo)
	case SpringChattering:
		add(TellChatters, ClearOfExhaust, BringDown, OthersInService, RingsByLicensed)
	}
	return out
}

// Flushes tells whether the pressure at the inlet is high enough for a lift by hand
// to flush the seat.
func (f *SpringFacts) Flushes() bool {
	air := f.Back.air
	return f.Inlet-air >= flushShare*(f.Parting.Pressure-air)
}
