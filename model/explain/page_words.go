package explain

import "underdisc/model/unit"

// Question is what a person asks of a valve that stands as this one does.
type Question int

const (
	Rests      Question = iota // it does as it is asked: what keeps it, and what would move it
	WontReseat                 // off its seat, and it should be on it
	WontLift                   // on its seat, and it should be off it
	Cycles                     // lifting again and again
)

var questionWords = [...]string{"rests", "wont-reseat", "wont-lift", "cycles"}

func (q Question) String() string { return word(questionWords[:], int(q)) }

// Quantity is a number, or a position, that a page compares or that frees a
// valve.
type Quantity int

const (
	NoQuantity Quantity = iota

	SensedPressure // where the sensor taps, Pa absolute
	Reading        // what the sensor says, Pa absolute
	SetPressure    // of the switch, Pa absolute
	ResetPressure  // of the switch, Pa absolute
	ReadingOffset  // what the sensor reads too much, Pa
	SensingLag     // s
	RootValve      // share open
	SwitchContact  // a word
	Deadband       // set less reset, Pa
	SwitchDrift    // by which set and reset act above their setting, Pa
	LineArea       // effective, from vessel to body, m2

	SelectorPosition // a word
	RelayContact     // a word
	CoilVoltage      // V

	SupplyVoltage      // V
	CoilCurrent        // A
	CoilResistance     // at 20 degC, ohm
	WindingTemperature // K
	FusePosition       // a word
	EarthFaults        // a number

	PilotLift     // m
	PilotLeakArea // m2
	PilotStroke   // m
	LostStroke    // m
	PlungerBond   // N

	ChamberPressure // Pa absolute
	BleedArea       // m2
	GuideFlow       // kg/s
	DumpArea        // m2
	CoverLeakArea   // m2
	ChamberWater    // share of the volume

	DiscLift       // m
	DiscFriction   // that starts it from rest, N
	DiscBond       // that holds it at its end beside friction, N
	SpringPreload  // N
	SeatLeakArea   // m2
	BodyPressure   // Pa absolute
	VesselPressure // Pa absolute
	OutletPressure // Pa absolute
	BlockOpening   // share open

	Wait // s
)

var quantityWords = [...]string{
	"none",
	"sensed-pressure", "reading", "set-pressure", "reset-pressure", "reading-offset", "sensing-lag", "root-valve", "switch-contact", "deadband", "switch-drift", "line-area",
	"selector", "relay-contact", "coil-voltage",
	"supply-voltage", "coil-current", "coil-resistance", "winding-temperature", "fuse", "earth-faults",
	"pilot-lift", "pilot-leak-area", "pilot-stroke", "lost-stroke", "plunger-bond",
	"chamber-pressure", "bleed-area", "guide-flow", "dump-area", "cover-leak-area", "chamber-water",
	"disc-lift", "disc-friction", "disc-bond", "spring-preload", "seat-leak-area", "body-pressure", "vessel-pressure", "outlet-pressure", "block-valve-opening",
	"wait",
}

func (q Quantity) String() string { return word(quantityWords[:], int(q)) }

// Reach says who can bring a change about.
type Reach int

const (
	Itself       Reach = iota // it comes without anybody's doing
	Operators                 // from the panel or at a hand valve, by the plant's procedure
	IsolatedWork              // with the valve isolated and made safe
	CircuitWork               // by those who may work on live terminals
	NoWait                    // it would do by itself, but nothing takes it there for now
)

var reachWords = [...]string{"itself", "operators", "isolated-work", "circuit-work", "no-wait"}

func (r Reach) String() string { return word(reachWords[:], int(r)) }

// Questions, Quantities and Reaches are how many there are of each.
const (
	Questions  = len(questionWords)
	Quantities = len(quantityWords)
	Reaches    = len(reachWords)
)

// dims are the dimensions of quantities; a position has none.
var dims = map[Quantity]unit.Dimension{
	SensedPressure: unit.Pressure, Reading: unit.Pressure, SetPressure: unit.Pressure, ResetPressure: unit.Pressure,
	ReadingOffset: unit.PressureDifference, SensingLag: unit.Time, RootValve: unit.Ratio, Deadband: unit.PressureDifference, SwitchDrift: unit.PressureDifference, LineArea: unit.Area,
	CoilVoltage: unit.Voltage, SupplyVoltage: unit.Voltage, CoilCurrent: unit.Current, CoilResistance: unit.Resistance,
	WindingTemperature: unit.Temperature, EarthFaults: unit.Ratio,
	PilotLift: unit.Length, PilotLeakArea: unit.Area, PilotStroke: unit.Length, LostStroke: unit.Length, PlungerBond: unit.Force,
	ChamberPressure: unit.Pressure, BleedArea: unit.Area, GuideFlow: unit.MassFlow, DumpArea: unit.Area, CoverLeakArea: unit.Area, ChamberWater: unit.Ratio,
	DiscLift: unit.Length, DiscFriction: unit.Force, DiscBond: unit.Force, SpringPreload: unit.Force, SeatLeakArea: unit.Area,
	BodyPressure: unit.Pressure, VesselPressure: unit.Pressure, OutletPressure: unit.Pressure, BlockOpening: unit.Ratio,
	Wait: unit.Time,
}

// Dim is the dimension of a quantity; empty for a position.
func (q Quantity) Dim() unit.Dimension { return dims[q] }
