package plant

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
)

// Snapshot holds every number of a plant at one moment that a picture, a
// sentence or a report may show. SI units; pressures absolute.
type Snapshot struct {
	T      float64
	Look   *network.Look // the generic parts
	Valves []ValveState
}

// Hold says how a moving part stands.
type Hold int

const (
	HeldShut Hold = iota // at rest on its seat
	Moving
	HeldOpen // at rest at its stop
	Sticking // held by friction in between
)

func holdOf(mode int8) Hold {
	switch mode {
	case network.HeldLow:
		return HeldShut
	case network.HeldHigh:
		return HeldOpen
	case network.Stuck:
		return Sticking
	}
	return Moving
}

// ValveState is a piloted valve with its chain from switch to disc.
type ValveState struct {
	Name string

	// Pressures: above the disc (body), below it (chamber), outlet, dump line
	// (the outlet where there is none), and the vessel the line comes from;
	// their rates of change in Pa/s.
	Above, Below, Outlet, Dump, Vessel                     float64
	AboveRate, BelowRate, OutletRate, VesselRate, DumpRate float64
	AboveTemperature, BelowTemperature                     float64

	// What is in body, chamber, outlet and dump line beside its pressure.
	AboveFluid, BelowFluid, OutletFluid, DumpFluid Contents
	// The metal: body, chamber, dump line, tailpipe.
	BodyWall, ChamberWall, DumpWall, OutletWall WallState

	Disc    DiscState
	Pilot   PilotState
	Coil    CoilState
	Control ControlState

	// Mass flows, kg/s: through the line into the body, past the seat, through
	// the bore and the guide clearance into the chamber, and through the pilot.
	Line, Seat, Bleed, Guide, PilotFlow float64
	// Effective areas, discharge coefficient included, m2.
	SeatArea, BleedArea, PilotArea, LineArea float64
	// What the seat and the pilot leak when shut, effective, m2.
	SeatLeak, PilotLeak float64
}

// Contents is what a volume holds.
type Contents struct {
	Temperature float64
	Quality     float64 // share of steam in the mass; 1 in a gas
	Water       float64 // volume of water in it, m3
	Volume      float64 // m3
	Air         float64 // share of air in a pipe open to the surroundings
}

// WallState is a wall of metal. Without one, Fitted is false.
type WallState struct {
	Fitted  bool
	T       float64 // K
	In, Out float64 // heat taken from the fluid, given off outwards, W
}

// DiscState is the main disc; forces in N, down (opening) positive unless said.
type DiscState struct {
	Hold                Hold
	Lift, Speed         float64
	Travel              float64
	SeatArea, GuideArea float64 // As, Ag
	Phi                 float64 // share of the body pressure on the face
	Rim                 float64 // body pressure on the ring outside the seat, down
	Face                float64 // pressure on the seat area, down
	Chamber             float64 // chamber pressure, up, as a positive number
	Spring              float64 // up, as a positive number
	Weight              float64 // down
	Damping, Friction   float64 // signed, down positive
	Contact             float64 // of seat or stop, signed, down positive
	Net                 float64 // Rim + Face + Weight - Chamber - Spring
	Slide, Stick        float64 // friction limits
	Preload, Rate       float64
	FullPhi             float64 // phi at full lift
	Mass, Acceleration  float64
}

// PilotState is the pilot with its plunger; forces opening positive unless
// said.
type PilotState struct {
	Hold        Hold
	Lift, Speed float64
	Stroke      float64
	Pull        float64 // of the coil, opening
	Spring      float64 // shutting, as a positive number
	Load        float64 // of the chamber pressure on the seat, shutting
	Net         float64
	BondShut    float64
	BondOpen    float64
	Damping     float64 // N s/m
}

// CoilState is the coil circuit.
type CoilState struct {
	Current, Voltage, Supply, Resistance, Inductance float64
	// PullIn is the current that lifts the pilot off its seat at the present
	// chamber pressure; DropOut the current below which it leaves its open
	// stop.
	PullIn, DropOut float64
}

// ControlState is sensor, switch and relay. Without a relay, Fitted is false.
type ControlState struct {
	Fitted     bool
	Reading    float64
	Lag        float64
	Set, Reset float64 // as they act, drift included
	Made       bool
	RelayOn    bool
	RelayDue   float64 // when it changes over; +Inf if it is not about to
	Selector   network.Demand
}

// Snapshot reads everything off the model at the state y in the given modes;
// timers are the pending due times.
func (m *Model) Snapshot(t float64, y []float64, modes []int8, timers []float64) *Snapshot {
	s := &Snapshot{}
	m.SnapshotInto(s, t, y, modes, timers)
	return s
}

// SnapshotInto does as Snapshot, in the room that s has from one before, of
// this model or another one.
func (m *Model) SnapshotInto(s *Snapshot, t float64, y []float64, modes []int8, timers []float64) {
	if s.Look == nil {
		s.Look = &network.Look{}
	}
	s.T = t
	m.Net.LookInto(s.Look, t, y, modes)
	s.Valves = s.Valves[:0]
	for i := range m.Valves {
		s.Valves = append(s.Valves, m.valveState(&m.Valves[i], s.Look, timers))
	}
}

func (m *Model) valveState(v *ValveMap, l *network.Look, timers []float64) ValveState {
	a, b, o, d, w := &l.Nodes[v.Body], &l.Nodes[v.Chamber], &l.Nodes[v.Outlet], &l.Nodes[v.Dump], &l.Nodes[v.Vessel]
	s := ValveState{Name: v.Name,
		Above: a.P, Below: b.P, Outlet: o.P, Dump: d.P, Vessel: w.P,
		AboveRate: a.PRate, BelowRate: b.PRate, OutletRate: o.PRate, DumpRate: d.PRate, VesselRate: w.PRate,
		AboveTemperature: a.T, BelowTemperature: b.T,
		AboveFluid: contents(a), BelowFluid: contents(b), OutletFluid: contents(o), DumpFluid: contents(d),
		BodyWall: wallState(l, v.BodyWall), ChamberWall: wallState(l, v.ChamberWall), DumpWall: wallState(l, v.DumpWall), OutletWall: wallState(l, v.OutletWall),
		Line: l.Flows[v.Line].W, Seat: l.Flows[v.Seat].W, Bleed: l.Flows[v.Bleed].W, PilotFlow: l.Flows[v.PilotFlow].W,
		LineArea: l.Flows[v.Line].Area, SeatArea: l.Flows[v.Seat].Area, BleedArea: l.Flows[v.Bleed].Area, PilotArea: l.Flows[v.PilotFlow].Area,
		SeatLeak:  v.Spec.Seat.Coefficient * v.Spec.Seat.LeakArea,
		PilotLeak: v.Spec.Pilot.Coefficient * v.Spec.Pilot.LeakArea,
	}
	if v.Guide >= 0 {
		s.Guide = l.Flows[v.Guide].W
	}
	k := &l.Movers[v.Disc]
	sp := v.Spec
	as := math.Pi / 4 * sp.Seat.Diameter * sp.Seat.Diameter
	ag := math.Pi / 4 * sp.Disc.GuideDiameter * sp.Disc.GuideDiameter
	face, phi := as*(k.Phi*a.P+(1-k.Phi)*o.P)+k.Excess, k.Phi
	if k.Excess != 0 {
		phi = (face/as - o.P) / (a.P - o.P)
	}
	s.Disc = DiscState{Hold: holdOf(k.Mode), Lift: k.X, Speed: k.V, Travel: sp.Disc.Travel, SeatArea: as, GuideArea: ag, Phi: phi,
		Rim: a.P * (ag - as), Face: face, Chamber: b.P * ag, Spring: k.Spring, Weight: k.Weight,
		Damping: k.Damping, Friction: k.Friction, Contact: k.Contact, Net: k.Rest, Slide: sp.Disc.Friction, Stick: sp.Disc.StickFriction,
		Preload: sp.Spring.Preload, Rate: sp.Spring.Rate, FullPhi: m.fullPhi(v, l), Mass: sp.Disc.Mass, Acceleration: k.A}
	q := &l.Movers[v.Pilot]
	s.Pilot = PilotState{Hold: holdOf(q.Mode), Lift: q.X, Speed: q.V, Stroke: sp.Plunger.Stroke, Pull: q.Pull, Spring: q.Spring, Load: q.SeatLoad,
		Net: q.Rest, BondShut: sp.Plunger.BondShut, BondOpen: sp.Plunger.BondOpen, Damping: sp.Plunger.Damping}
	c := &l.Coils[v.Coil]
	s.Coil = CoilState{Current: c.Current, Voltage: c.Voltage, Supply: m.Net.Coils[v.Coil].Supply, Resistance: sp.Coil.Resistance, Inductance: sp.Coil.Inductance}
	if kf := sp.Coil.PullFactor; kf > 0 {
		gap := 1 + sp.Plunger.Stroke/sp.Coil.Gap
		shut := sp.Plunger.Preload + sp.Pilot.Area*(b.P-d.P) + sp.Plunger.BondShut
		open := sp.Plunger.Preload + sp.Plunger.SpringRate*sp.Plunger.Stroke - sp.Plunger.BondOpen
		s.Coil.PullIn = gap * math.Sqrt(math.Max(shut, 0)/kf)
		s.Coil.DropOut = math.Sqrt(math.Max(open, 0) / kf)
	}
	if v.Relay >= 0 {
		sw := &m.Net.Switches[v.Switch]
		s.Control = ControlState{Fitted: true, Reading: l.Sensors[v.Sensor], Lag: m.Net.Sensors[v.Sensor].Lag, Set: sw.Set, Reset: sw.Reset,
			Made: l.Switches[v.Switch] == network.SwitchMade, RelayOn: l.Relays[v.Relay] == network.RelayOn,
			RelayDue: math.Inf(1), Selector: m.Net.Relays[v.Relay].Demand}
		if v.Relay < len(timers) {
			s.Control.RelayDue = timers[v.Relay]
		}
	}
	return s
}

func contents(n *network.NodeLook) Contents {
	return Contents{Temperature: n.T, Quality: n.Quality, Water: n.Liquid, Volume: n.V, Air: n.Air}
}

func wallState(l *network.Look, i int) WallState {
	if i < 0 {
		return WallState{}
	}
	w := &l.Walls[i]
	return WallState{Fitted: true, T: w.T, In: w.In, Out: w.Out}
}

// fullPhi is the share (face - pT)/(pA - pT) at full lift under the present
// pressures.
func (m *Model) fullPhi(v *ValveMap, l *network.Look) float64 {
	sp := v.Spec
	r := 4 * sp.Disc.Travel / sp.Seat.Diameter
	a, o := &l.Nodes[v.Body], &l.Nodes[v.Outlet]
	if sp.Seat.Face != "continuity" || a.P <= o.P {
		return r * r / (1 + r*r)
	}
	var up fluid.State
	m.At(a.V/a.Mass, a.U/a.Mass, &up)
	seat := flow.Seat{Law: m.Nozzle, Voider: m.Void}
	_, face := seat.Flux(&up, o.P, r)
	return (face - o.P) / (a.P - o.P)
}
