package network

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// Volume is a control volume: dm/dt = sum W, dU/dt = sum W h - p dV/dt - heat.
// Its size is Size plus what its moving faces add.
type Volume struct {
	Name  string
	Fluid fluid.Fluid
	Size  float64 // m3 with every moving part at zero
	Mass  float64 // kg at the start
	U     float64 // J at the start
	// Open: a pipe open to the air. The air in it is counted, as a share of the
	// mass: it starts full of air. The equation of state does not know the
	// difference; walls do, see Wall.
	Open bool
}

// Reservoir is a place of constant state.
type Reservoir struct {
	Name  string
	V, U  float64 // specific volume and energy
	Fluid fluid.Fluid
	Pure  bool // what comes out of it is the fluid; otherwise air, into an open pipe
}

// Node is a volume or a reservoir, by its index in the order of adding.
type Node int

// Opening is the effective area of a flow, discharge coefficient included:
// Leak, and what a moving part at x opens on top.
type Opening struct {
	Leak float64 // Cd x area, m2
	Part Part    // -1: none
	Cd   float64
	// Bore > 0: seat of that area with curtain a = pi Diameter x in series:
	// Bore a/sqrt(Bore^2 + a^2), which is right for small differences of
	// pressure. Otherwise PerTravel x.
	Bore, Diameter float64
	// Continuity: what passes the curtain passes the bore at any ratio of
	// pressures, and the pressure between them, on the face of the part, is the
	// one at which it does. See flow.Seat.
	Continuity bool
	PerTravel  float64 // m2 per m
	// Drive is one more than the index of an actuator that opens Full on top, 0:
	// none.
	Drive int
	Full  float64 // m2
}

// at is the effective area with the part at x.
func (o *Opening) at(x float64) float64 {
	if o.Bore > 0 {
		a := math.Pi * o.Diameter * x
		return o.Leak + o.Cd*a*o.Bore/math.Sqrt(o.Bore*o.Bore+a*a)
	}
	return o.Leak + o.Cd*o.PerTravel*x
}

// slope is its derivative by x.
func (o *Opening) slope(x float64) float64 {
	if o.Bore > 0 {
		c := math.Pi * o.Diameter
		b2 := o.Bore * o.Bore
		q := b2 + c*x*c*x
		return o.Cd * c * o.Bore * b2 / (q * math.Sqrt(q))
	}
	return o.Cd * o.PerTravel
}

// Flow joins two nodes; positive from From to To.
type Flow struct {
	Name     string
	From, To Node
	Law      flow.Law
	Opening  Opening
	// Past: what passes and the force on the part that opens it are found together.
	// Law and Opening are then those of a flow that turns back; the pressures push
	// with Seat, less Balanced, there.
	Past           flow.PastDisc
	Seat, Balanced float64 // m2
	// Void tells the share of steam in the volume to a seat with continuity; nil
	// for a gas.
	Void fluid.Voider
	// What is drawn from a node that is wet when the flow leaves it.
	FromDraw, ToDraw Draw
	// Fall > 0: water that runs out of From by its own weight, down a drain that
	// falls by as much, m, times the acceleration of gravity, J/kg. See fall.go.
	Fall float64
}

// Feed is a flow and a heat into a volume from outside.
type Feed struct {
	Name     string
	To       Node
	MassFlow float64 // kg/s
	Enthalpy float64 // J/kg
	Heat     float64 // W
	// By is one more than the index of a regulator, 0: none. Its output then is
	// the heat, or, with ByMass, the mass flow.
	By     int
	ByMass bool
}

// Part is a moving part, by its index.
type Part int

// Face is a side of a moving part that borders a volume. Moving the part to x
// adds Alpha x + Beta Phi(x) to the volume, so its pressure pushes the part
// towards positive x with the area Alpha + Beta phi(x); phi and Phi are the
// part's Shape.
type Face struct {
	Node        Node
	Alpha, Beta float64 // m2
}

// FrictionLaw of a moving part.
type FrictionLaw int

const (
	// Smoothed friction is Slide tanh(v/Speed): it creeps under load and
	// serves only where programs are compared.
	Smoothed FrictionLaw = iota
	// Sticking friction holds the part at rest up to Stick and resists with
	// Slide when it moves; rest and both directions are modes.
	Sticking
)

// Mover is a part with one degree of freedom x in 0..Travel:
//
//	M dv/dt = sum p_i A_i(x) - (Preload + Rate x) + Weight - Damping v
//	          - friction + pull - SeatLoad (p_a - p_b)(1 - x/Travel)
type Mover struct {
	Name          string
	Mass          float64
	Travel        float64
	Rate, Preload float64 // spring, towards x = 0
	Weight        float64 // force along x, N
	Damping       float64
	Law           FrictionLaw
	Slide, Stick  float64 // friction in motion; force that ends rest, at a stop or elsewhere
	Speed         float64 // of the smoothed law
	Restitution   float64
	HoldSpeed     float64
	BondLow       float64 // extra force to leave x = 0, and x = Travel
	BondHigh      float64
	Shape         float64 // seat diameter of phi = r^2/(1+r^2), r = 4x/Shape; 0: none
	Faces         []Face
	// FaceFlow is one more than the index of the flow through whose seat the
	// pressure on the part's face is found, 0: none. That pressure acts on the
	// flow's bore in place of what the faces say; the difference is worked by
	// the volume downstream.
	FaceFlow int
	// PastFlow is one more than the index of the flow whose way past the part sets
	// the force on it, 0: none.
	PastFlow int
	Seat     *SeatFaces // of a part without a lower stop
	// Lever is one more than the index of an actuator that pulls with LeverForce,
	// 0: none.
	Lever      int
	LeverForce float64
	Reach      float64 // what positions are measured by, 0: Travel
	SeatLoad   float64 // area, m2
	LoadFrom   Node
	LoadTo     Node
	Events     MoverEvents
}

// MoverEvents are the names under which a mover's events go on record.
type MoverEvents struct{ Leave, Bounce, High, Drop, Low string }

// Modes of a mover.
const (
	HeldLow  int8 = iota // at rest at x = 0
	Free                 // moving, friction smoothed or none
	HeldHigh             // at rest at x = Travel
	Stuck                // held by friction in between
	Rising               // sliding towards positive x
	Falling              // sliding towards x = 0
)

// Coil is a circuit L di/dt = V on - R i whose pull on a mover is
// PullFactor i^2/(1 + (Travel - x)/Gap)^2. With Moves the inductance falls with
// the gap, as the pull demands (pull = i^2/2 dL/dx):
//
//	L(x) = Inductance + 2 PullFactor Gap/(1 + (Travel - x)/Gap)
//	L di/dt = V on - R i - i v dL/dx
type Coil struct {
	Name                   string
	Inductance, Resistance float64
	PullFactor, Gap        float64
	Mover                  Part
	Relay                  int     // index of the relay that feeds it
	Supply                 float64 // V
	Moves                  bool
	Contact                Contact // the relay's
	Fuse                   int     // one more than the index of its fuse, 0: none
	Earths                 int     // faults to earth; two feed it past fuse and contact
	// Omega > 0: the supply alternates at that angular frequency. Current and
	// voltage are effective values, and the current follows its steady value
	// Supply/|Z| behind the circuit's own time constant:
	//	di/dt = (V/|Z| - i) R/L - i v dL/dx/L, |Z|^2 = R^2 + (Omega L(x))^2
	// the last so that the flux L i does not jump when the mover does. Right at
	// rest; what the current does within a cycle is left out, as a
	// shading ring leaves it out of the pull.
	Omega float64
	// Copper > 0: heat capacity of the winding, J/K, which follows its losses;
	// Resistance is then that at 20 degC, and
	//	Copper dT/dt = i^2 R(T) - Loss (T - Around), R(T) = R (1 + 0.00393/K (T - 293.15 K))
	Copper, Loss, Around float64
}

// Sensor follows a node's pressure, and Offset on top, with a first-order lag:
//
//	dr/dt = (1 - Blocked) (p + Offset - r)/Lag
type Sensor struct {
	Name    string
	Node    Node
	Lag     float64
	FallLag float64 // in place of Lag while the reading falls; 0: as Lag
	Blocked float64 // 0 with an open root valve, 1 with a shut one
	Offset  float64 // Pa
}

// Switch makes above Set and opens again below Reset, on a sensor's reading. Its
// contact may be stuck.
type Switch struct {
	Name       string
	Sensor     int
	Set, Reset float64
	Contact    Contact
}

// Modes of a switch.
const (
	SwitchOpen int8 = iota
	SwitchMade
)

// Command of a relay's selector.
type Demand int

const (
	FollowSwitch Demand = iota
	HoldOn
	HoldOff
)

// Relay puts a coil's supply on PickUp after its demand and takes it off
// DropOut after the demand has ended; a demand that ends sooner is forgotten.
type Relay struct {
	Name            string
	Switch          int
	PickUp, DropOut float64
	Demand          Demand
}

// Modes of a relay.
const (
	RelayOff int8 = iota
	RelayOn
)
