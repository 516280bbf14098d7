package explain

import (
	"underdisc/model/network"
	"underdisc/model/plant"
)

// Opt is a number that may be absent.
type Opt struct {
	Value float64
	Known bool
}

func some(v float64) Opt { return Opt{v, true} }

// farthest is the longest time that is foretold, s. In a plant as good as at
// rest a rate of nearly nothing would have things happen in a thousand years.
const farthest = 3600

// after is a time from now, s; absent if it is negative, not a number or
// beyond what can be foretold.
func after(t float64) Opt {
	if !(t >= 0 && t <= farthest) {
		return Opt{}
	}
	return some(t)
}

// Facts are what can be said of one valve at one moment. SI units throughout,
// pressures absolute. Every number is computed from the snapshot and the past
// given to Valve.
type Facts struct {
	Valve string
	T     float64 // s

	Asked     bool // the relay is asked to be on: by the switch, or by the selector
	Following bool // the disc is off its seat if asked, on it if not

	State State // what it does
	Phase State // the same, were it not cycling
	Why   Verdict
	Acts  Verdict // the link that acts at this moment; differs from Why only while cycling

	Thresholds Thresholds
	Margin     Margin
	Reseat     Reseat
	Cycle      CycleFacts

	Switch  SwitchFacts
	Relay   RelayFacts
	Coil    CoilFacts
	Pilot   PilotFacts
	Chamber ChamberFacts
	Disc    DiscFacts
}

// Link is the link that holds the valve as it is, or that acts now.
func (f *Facts) Link() Link { return f.Why.Link }

// Verdict is the first link of the chain that does not stand as asked, or, if
// all of them do, the one that the demand comes from.
type Verdict struct {
	Link   Link
	Reason Reason
	In     Opt  // s until the link changes over, as things go now
	Stays  bool // as things stand now, it will not change over by itself
}

// Thresholds are chamber pressures, Pa absolute, at the present body and outlet
// pressures. A value of zero or less cannot be reached. threshold.go has the
// equations.
type Thresholds struct {
	LiftBelow  float64 // the disc on its seat lifts below this
	DropAbove  float64 // the disc at its stop leaves it above this
	Balance    float64 // the disc at its present lift is in balance, friction left out
	OpensBelow float64 // the disc resting at its present lift moves away from the seat below this
	ShutsAbove float64 // and towards the seat above this
}

// Margin is the distance from the threshold that matters at present: positive
// while the disc stays as it is, zero when it goes, negative by how much more
// there is than was needed.
type Margin struct {
	Toward    Toward
	Threshold float64 // Pa absolute
	Pressure  float64 // Pa
	Force     float64 // N, Pressure times Ag
}

// Reseat says at what pressures a disc would leave its place off the seat if
// the ratios of chamber and outlet to body pressure stayed as they settle now:
// how far the system must fall for a valve that hangs open. Absent in other
// states, and when no fall would do. reseat.go has the equation
// and its error.
type Reseat struct {
	Above  Opt // body pressure, Pa absolute
	Vessel Opt // pressure of the vessel that the line comes from, Pa absolute
}

// SwitchFacts are sensor and pressure switch.
type SwitchFacts struct {
	Fitted     bool
	InChain    bool // the selector, if there is one, lets it decide
	Made       bool
	Sensed     float64 // pressure where the sensor sits, Pa absolute
	SensedRate float64 // Pa/s
	Offset     float64 // what the reading settles at less that pressure, Pa
	Stays      bool    // the reading does not follow, or hardly
	Contact    network.Contact
	Reading    float64 // what the sensor says, Pa absolute
	Set, Reset float64 // as they act, Pa absolute
	Distance   float64 // reading to the next trip point, Pa; positive while it has not been reached
	In         Opt     // s until it trips, if the sensed pressure goes on at its present rate
}

// RelayFacts are relay and selector.
type RelayFacts struct {
	Fitted   bool
	On       bool
	Selector network.Demand
	Contact  network.Contact
	In       Opt // s until it changes over
}

// CoilFacts are the coil circuit. Pull-in and drop-out are the currents at
// which the plunger leaves its shut and its open end, with the bond there and
// without; pull-in is at the present chamber pressure. A drop-out of zero is
// never reached: the plunger stays without current.
type CoilFacts struct {
	Current, Voltage          float64 // A, V
	Steady                    float64 // A, voltage over impedance
	PullIn, PullInUnbonded    float64 // A; +Inf if no current will do
	DropOut, DropOutUnbonded  float64 // A
	TimeConstant              float64 // s, inductance over resistance
	UntilPullIn, UntilDropOut Opt     // s, at the present voltage
	Supply, Resistance        float64 // V, ohm
	Impedance                 float64 // ohm; the resistance with a direct current
	Needs                     float64 // V, the least supply that reaches pull-in
	Temperature               float64 // of the winding, K; 0 where it is not followed
	ColdSteady                float64 // A, what the supply would drive with the winding at 20 degC
	Fuse                      network.FuseState
	Earths                    int // faults to earth
}

// PilotFacts are pilot and plunger.
type PilotFacts struct {
	Hold         plant.Hold
	Lift, Stroke float64 // m
	Whole        float64 // m, the stroke at which the pilot passes its full area
	Speed        float64 // m/s, opening positive
	Net          float64 // N, opening positive, bond and damping left out
	Bond         float64 // N, at the end it rests on; 0 while it moves
	Lacking      float64 // N that must be added before it leaves that end; 0 while it moves
	LeakArea     float64 // m2, effective, of the shut pilot
	Flow         float64 // kg/s out of the chamber
	In           Opt     // s until it reaches the end that it moves to, at its present speed; absent until it has got away
}

// ChamberFacts are the chamber's pressure, where it is heading and when it
// gets there. chamber.go has the equations.
type ChamberFacts struct {
	Pressure, Rate float64 // Pa absolute, Pa/s
	In, Out        float64 // kg/s: through bore and guide; through the pilot and past the cover
	Cover          float64 // kg/s past the cover alone
	WaterShare     float64 // of its volume

	// Steady pressures, Pa absolute, at the present body and outlet pressures:
	// with the pilot as it stands (as it will stand, while it moves), shut with
	// what it and the cover leak, shut without a leak, fully open. Absent where nothing
	// flows in or out, so that any pressure would last.
	Steady, SteadyShut, SteadyTight, SteadyOpen Opt

	CanEmpty bool // a fully open pilot brings it below LiftBelow
	CanFill  bool // a shut pilot, its leak included, lets it rise above ShutsAbove; of use with the disc off its seat

	// The threshold that it is on its way to: OpensBelow with the disc on its
	// seat, or stuck in between and asked open; otherwise ShutsAbove; absent
	// while the disc moves.
	Threshold Opt
	Crosses   bool // Steady lies beyond it
	ByRate    Opt  // s to reach it at the present rates of chamber and threshold
	ByFlow    Opt  // s to reach it by the flows on the way, body and outlet as now

	// With the disc held off its seat: s to refill from a fully dumped chamber
	// to the threshold, as the pilot's leak and the bleed stand now; and the
	// limit above which that counts as hung open.
	Refill, RefillLimit Opt
}

// DiscFacts are the disc. Forces in N, opening positive.
type DiscFacts struct {
	Hold         plant.Hold
	Floats       bool    // moving, but as good as at rest
	Lift, Travel float64 // m
	Speed        float64 // m/s, opening positive
	Net          float64 // all but friction, damping and contact
	Friction     float64 // what friction gives now
	Stick        float64 // what it can give at rest, positive
	Bond         float64 // what holds it beside friction at the end it rests at, positive
	Contact      float64 // of seat or stop
	LeakFlow     float64 // kg/s past the seat with the disc on it
}

// CycleFacts are what the run so far says of repeated lifts, and of how short a
// blowdown can be. cycle.go has the rules.
type CycleFacts struct {
	Lifts        int  // so far
	Cycling      bool // by the rule
	Chatter      bool // within one demand, or with none
	Period       Opt  // s, mean of the last three, where there were as many
	AskedOpen    Opt  // s from lift to the end of demand, last complete lift
	ClosingDelay Opt  // s from the end of demand to the seat, last complete lift
	FallRate     Opt  // Pa/s by which the vessel fell while the disc was at its stop, positive
	// ShortestBlowdown is the fall rate times closing delay and sensor lag, Pa:
	// what the vessel loses between passing the reset pressure and the disc
	// reaching its seat, however narrow the deadband.
	ShortestBlowdown Opt
	// InletDrop is how far above the reset pressure the vessel stood when the
	// switch last reset, Pa: what the line loses while the valve blows, where the
	// sensor sits behind it.
	InletDrop Opt
	// Body and outlet when the disc last left its seat, and the lowest the body
	// had when it did so in the lifts that are kept, Pa absolute.
	BodyAt, OutletAt, LowestBody Opt
}

// FromOutlet tells whether the outlet pushed the disc off when it last lifted.
func (c *CycleFacts) FromOutlet() bool {
	return c.BodyAt.Known && c.OutletAt.Known && c.OutletAt.Value > c.BodyAt.Value
}
