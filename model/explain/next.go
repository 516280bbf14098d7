package explain

import "slices"

// Check is a step that is safe for whoever stands at the plant, before anyone
// opens anything.
type Check int

const (
	TellStandsOpen Check = iota // tell the operators: it stands open
	TellWontLift                // tell the operators: it does not lift
	TellLeaks                   // tell the operators: it passes
	TellCycles                  // tell the operators: it lifts again and again
	OthersRelieve               // the other valves relieve meanwhile
	LowerPressure               // and the fire comes down
	LookSelector                // where the hand switch stands
	GaugeOnGauge                // the switch's gauge against the vessel's own
	LineGauges                  // the vessel's gauge against the place that is sensed, while it blows
	CoilVolts                   // voltage and current at the coil
	PullFuse                    // does the current end with the fuse
	DumpLine                    // warm or cold, current on or off
	HeaderGauge                 // pressure at the outlet
	BlockPosition               // where the block valve stands
	TailpipeWall                // warm or cold on both sides
	TestGauge                   // set and reset against a test gauge
	ThenBlock                   // last: the block valve, by procedure
)

var checkWords = [...]string{"tell-stands-open", "tell-wont-lift", "tell-leaks", "tell-cycles", "others-relieve", "lower-pressure",
	"look-selector", "gauge-on-gauge", "line-gauges", "coil-volts", "pull-fuse", "dump-line", "header-gauge", "block-position", "tailpipe-wall", "test-gauge", "then-block"}

func (c Check) String() string { return word(checkWords[:], int(c)) }

// Checks is how many there are.
const Checks = len(checkWords)

// separates is the check that tells the likely causes apart, by the reason for
// which the valve is held. The others get DumpLine: whether the pilot passes is
// what parts the links ahead of it from those behind.
var separates = map[Reason]Check{
	BelowSet: GaugeOnGauge, AboveReset: GaugeOnGauge, SensorLags: GaugeOnGauge, ReadingStays: GaugeOnGauge, ReadsOff: GaugeOnGauge,
	SensedElsewhere: GaugeOnGauge, StuckMade: GaugeOnGauge, StuckOpen: GaugeOnGauge, InletDrops: LineGauges, DeadbandShort: TestGauge, RunsNearSet: TestGauge,
	SelectorOff: LookSelector, SelectorOpen: LookSelector, NotFitted: CoilVolts,
	ContactOpen: CoilVolts, FuseGone: CoilVolts, CurrentTooLow: CoilVolts, CoilHot: CoilVolts, CurrentRising: CoilVolts, CurrentLost: CoilVolts,
	ContactWelded: PullFuse, EarthsFeed: PullFuse, CurrentDecaying: PullFuse,
	OutletHolds: HeaderGauge, TooLittleDifference: HeaderGauge, Chatters: HeaderGauge, BodyIsolated: BlockPosition, SeatLeaks: TailpipeWall,
}

// onTheWay are the delays that belong to every lift.
var onTheWay = []Reason{SensorLags, PickUpDelay, DropOutDelay, CurrentRising, CurrentDecaying, PilotMoving, ChamberEmptying, WaterFlashes, ChamberFilling, DiscMoving}

// nextOf is the safe next step: whom to tell, what relieves meanwhile, the check
// that tells the likely causes apart, and for a valve that stands open the block
// valve, last. Empty for a valve that does as it should, or is about to.
func nextOf(pg *Page) []Check {
	f := &pg.Facts
	check, ok := separates[f.Why.Reason]
	if !ok {
		check = DumpLine
	}
	if !f.Why.Stays && slices.Contains(onTheWay, f.Why.Reason) {
		return nil
	}
	switch pg.Question {
	case WontReseat:
		return []Check{TellStandsOpen, OthersRelieve, check, ThenBlock}
	case WontLift:
		return []Check{TellWontLift, OthersRelieve, LowerPressure, check}
	case Cycles:
		return []Check{TellCycles, OthersRelieve, LowerPressure, check}
	}
	if f.State == Leaking {
		return []Check{TellLeaks, check}
	}
	return nil
}
