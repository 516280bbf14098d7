package explain

import (
	"math"

	"underdisc/model/plant"
)

// SpringStand is what a spring-loaded valve does.
type SpringStand int

const (
	SpringTight      SpringStand = iota // on its seat, nothing passes between the faces
	SpringSimmering                     // the faces just part
	SpringLifting                       // on its way up
	SpringPartly                        // off its seat, short of its stop, and as good as at rest
	SpringAtFullLift                    // at its stop
	SpringFalling                       // on its way down
	SpringHeldOff                       // nut or debris keep it from its seat
	SpringGagged                        // a gag keeps it from lifting
	SpringByLever                       // the lever holds it up
	SpringChattering                    // up and down again and again in quick succession
)

var springStandWords = [...]string{"tight", "simmering", "lifting", "partly-lifted", "at-full-lift", "falling", "held-off-seat", "gagged", "held-by-lever", "chattering"}

func (s SpringStand) String() string { return word(springStandWords[:], int(s)) }

// SpringStands is how many there are.
const SpringStands = len(springStandWords)

// SpringReason says what it is that keeps a spring-loaded valve as it is.
type SpringReason int

const (
	BelowParting  SpringReason = iota // the pressure is below that at which the faces part
	RingLetsOut                       // what leaks between the faces leaves the huddling chamber as fast as it comes
	HuddleLifts                       // what passes gathers in the huddling chamber and pushes more than the spring gives way
	FlowHolds                         // what the flow adds holds it up, the pressure alone would not
	PressureHolds                     // the pressure on its seat alone holds it up
	InBalance                         // at this lift the spring and the flow are in balance
	SpringShuts                       // the spring is stronger than what the flow still adds
	NutHolds                          // the lifting nut holds it off its seat
	DebrisHolds                       // something on its seat holds it off
	LeverHolds                        // the lever holds it up
	GagHolds                          // the gag
	InletStarves                      // the pressure at its inlet breaks down as it opens
	TooMuchValve                      // it passes so much more than comes that it shuts each time
	FrictionHolds                     // friction of its guide
)

var springReasonWords = [...]string{"below-parting", "ring-lets-out", "huddle-lifts", "flow-holds", "pressure-holds", "in-balance", "spring-shuts",
	"nut-holds", "debris-holds", "lever-holds", "gag-holds", "inlet-starves", "too-much-valve", "friction-holds"}

func (r SpringReason) String() string { return word(springReasonWords[:], int(r)) }

// SpringReasons is how many there are.
const SpringReasons = len(springReasonWords)

const (
	// restSpeed is the speed, in travels per second, below which a disc off its seat
	// counts as at rest: one that opens in proportion follows the pressure.
	restSpeed = 0.5
	// onHolder is how near to what holds it off, in contact lengths, a disc rests
	// on it.
	onHolder = 3.0
	// dragShare is the share of spring and weight from which on what friction holds
	// against is what keeps a disc where it is.
	dragShare = 0.01
	// starved is the share of the pressure across it up to which the vessel has not
	// lost what would reseat a valve, so that it is the inlet pipe that makes it
	// chatter: no valve has less blowdown than a good one is set for (2 to 3 %;
	// common practice, no source seen).
	starved = 0.02
)

// standOf names what the valve does. First what a hand or an object does to it, then
// what it does by itself.
func standOf(f *SpringFacts, st *plant.SpringState) SpringStand {
	atStop := st.Hold == plant.HeldOpen || st.Lift >= 0.995*st.Travel
	switch {
	case f.Every.Known:
		return SpringChattering
	case st.Gagged:
		return SpringGagged
	case st.LeverForce > 0 && st.Pop == plant.Lifted && st.Net-math.Min(0, st.Stop) <= st.LeverForce+f.Forces.Friction:
		return SpringByLever
	case st.HeldOff > 0 && st.Lift-st.HeldOff <= onHolder*st.Spec.Seat.Length:
		return SpringHeldOff
	case st.Pop == plant.Tight:
		return SpringTight
	case atStop:
		return SpringAtFullLift
	case math.Abs(st.Speed) > restSpeed*st.Spec.Disc.Travel && st.Speed > 0:
		return SpringLifting
	case math.Abs(st.Speed) > restSpeed*st.Spec.Disc.Travel:
		return SpringFalling
	case st.Pop == plant.Simmering:
		return SpringSimmering
	}
	return SpringPartly
}

// springWhy names what keeps it so.
func springWhy(f *SpringFacts, st *plant.SpringState) SpringReason {
	switch f.State {
	case SpringChattering:
		if st.Spec.Inlet != nil && f.fell.Known && f.fell.Value < starved*(st.Vessel-st.Outlet) {
			return InletStarves
		}
		return TooMuchValve
	case SpringGagged:
		return GagHolds
	case SpringByLever:
		return LeverHolds
	case SpringHeldOff:
		if f.Nut {
			return NutHolds
		}
		return DebrisHolds
	case SpringTight:
		return BelowParting
	case SpringSimmering:
		if f.drags(st) {
			return FrictionHolds
		}
		return RingLetsOut
	case SpringLifting:
		return HuddleLifts
	case SpringFalling:
		return SpringShuts
	}
	o := &f.Forces
	if f.drags(st) {
		return FrictionHolds
	}
	if f.State == SpringPartly {
		return InBalance
	}
	if o.Seat+o.Bellows > o.Spring+o.Weight {
		return PressureHolds
	}
	return FlowHolds
}

// drags tells whether friction is what keeps a disc at rest where it is.
func (f *SpringFacts) drags(st *plant.SpringState) bool {
	return st.Hold == plant.Sticking && math.Abs(st.Net) > dragShare*(f.Forces.Spring+f.Forces.Weight)
}
