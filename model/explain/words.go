package explain

// State is what the valve does. state.go has the rules.
type State int

const (
	Shut      State = iota // on its seat, and no flow worth a word past it
	Emptying               // on its seat, the chamber losing pressure through the open pilot
	Opening                // moving away from the seat
	Open                   // off its seat and staying, for as long as the links ahead ask for it
	Refilling              // off its seat while the chamber gains the pressure that will shut it
	Closing                // moving towards the seat
	HungOpen               // off its seat unasked, and the chamber will not shut it, or not for long
	Leaking                // on its seat unasked, and losing fluid past seat or pilot
	Cycling                // lifting again and again at short regular intervals
)

var stateWords = [...]string{"shut", "emptying", "opening", "open", "refilling", "closing", "hung-open", "leaking", "cycling"}

func (s State) String() string { return word(stateWords[:], int(s)) }

// Link is one of the six links between pressure and disc, in the order in
// which one moves the next.
type Link int

const (
	None Link = iota
	Switch
	Relay
	Coil
	Pilot
	Chamber
	Disc
)

var linkWords = [...]string{"none", "switch", "relay", "coil", "pilot", "chamber", "disc"}

func (l Link) String() string { return word(linkWords[:], int(l)) }

// Reason says what it is about a link.
type Reason int

const (
	NoReason Reason = iota

	// Switch.
	BelowSet        // it has not made: the reading is below set
	AboveReset      // it has not reset: the reading is above reset
	SensorLags      // the sensed pressure is past the trip point already, the reading is not
	ReadingStays    // the same, and the reading follows the pressure not at all, or hardly
	ReadsOff        // the same, and the reading will not get there: it is off the pressure by a constant
	SensedElsewhere // the vessel is past the trip point, the place that is sensed is not
	StuckMade       // its contact is closed, whatever the reading
	StuckOpen       // its contact is open, whatever the reading
	InletDrops      // what is sensed falls to reset by what the line loses, not by what the vessel does
	DeadbandShort   // the valve takes longer to shut than the deadband keeps it open
	RunsNearSet     // it does as it should, and the vessel is brought back to set each time

	// Relay.
	NotFitted     // nothing feeds the coil
	SelectorOff   // the hand switch keeps it off
	SelectorOpen  // the hand switch keeps it on
	PickUpDelay   // it has been told to go on
	DropOutDelay  // it has been told to go off
	ContactOpen   // it is on, and its contact passes nothing
	ContactWelded // it is off, and its contact passes all the same

	// Coil.
	CurrentRising   // on its way to pull-in
	CurrentTooLow   // supply over resistance does not reach pull-in
	CoilHot         // the same, and it would reach it with a winding at 20 degC
	FuseGone        // the fuse has blown or is not in its holder
	EarthsFeed      // two faults to earth feed it, past relay and fuse
	CurrentDecaying // on its way down to drop-out
	CurrentLost     // falls below drop-out though the valve is asked open

	// Pilot.
	PilotMoving // on its way
	PilotBonded // the forces on the plunger would move it, a bond holds it
	PilotLeaks  // shut, and what passes it keeps the chamber down
	StrokeShort // open as far as it goes, which is less than its whole stroke and not enough

	// Chamber.
	ChamberEmptying // on its way down to the threshold
	BleedOutruns    // what flows in keeps it above the threshold with the pilot fully open
	GuideOutruns    // the same, and most of it comes past the guide
	WaterFlashes    // on its way down, held up by water that boils off
	DumpBacksUp     // the dump line keeps it above the threshold, the pilot would not
	ChamberFilling  // on its way up to the threshold
	NoInflow        // nothing fills it
	FillsTooSlowly  // it fills, but far more slowly than it is emptied
	CoverLeaks      // what passes the cover's gasket keeps it down

	// Disc.
	DiscMoving          // on its way
	DiscStuck           // the pressures would move it, friction holds it
	DiscFloats          // in balance between seat and stop
	TooLittleDifference // the chamber is as low as the outlet allows, and body over outlet pressure does not overcome the spring
	BodyIsolated        // the same, because the block valve is shut and the body empty
	OutletHolds         // the outlet's pressure pushes it off its seat, whatever the chamber's
	SpringTooWeak       // its weight is more than the spring's force: no chamber pressure shuts it
	SeatLeaks           // on its seat, and fluid passes
	Chatters            // it lifts again and again within one demand, or with none
)

var reasonWords = [...]string{
	"none",
	"below-set", "above-reset", "sensor-lags", "reading-stays", "reads-off", "sensed-elsewhere", "stuck-made", "stuck-open", "inlet-drops", "deadband-short", "runs-near-set",
	"not-fitted", "selector-off", "selector-open", "pick-up-delay", "drop-out-delay", "contact-open", "contact-welded",
	"current-rising", "current-too-low", "coil-hot", "fuse-gone", "earths-feed", "current-decaying", "current-lost",
	"pilot-moving", "pilot-bonded", "pilot-leaks", "stroke-short",
	"chamber-emptying", "bleed-outruns", "guide-outruns", "water-flashes", "dump-backs-up", "chamber-filling", "no-inflow", "fills-too-slowly", "cover-leaks",
	"disc-moving", "disc-stuck", "disc-floats", "too-little-difference", "body-isolated", "outlet-holds", "spring-too-weak", "seat-leaks", "chatters",
}

func (r Reason) String() string { return word(reasonWords[:], int(r)) }

// Toward says which way a margin counts.
type Toward int

const (
	ToLift    Toward = iota // disc on its seat: pB - LiftBelow
	ToShut                  // disc held off its seat: ShutsAbove - pB
	ToOpen                  // disc stuck in between and asked open: pB - OpensBelow
	InOpening               // disc opening: pB - OpensBelow
	InClosing               // disc closing: ShutsAbove - pB
)

var towardWords = [...]string{"to-lift", "to-shut", "to-open", "in-opening", "in-closing"}

func (t Toward) String() string { return word(towardWords[:], int(t)) }

func word(words []string, i int) string {
	if i < 0 || i >= len(words) {
		return "unknown"
	}
	return words[i]
}
