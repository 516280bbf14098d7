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
	T         float64
	Look      *network.Look // the generic parts
	Valves    []ValveState
	Springs   []SpringState
	Drums     []DrumState
	Operators []OperatorState
	Lamps     []LampState
}

// DrumState is a drum with what goes in and out.
type DrumState struct {
	Name                   string
	Pressure, PressureRate float64 // Pa absolute, Pa/s
	Temperature            float64 // K
	WaterShare             float64 // share of the volume that is water
	Wall                   WallState
	Fire, Asked            float64 // heat to the water, and what the controller asks for, W
	Feed                   float64 // kg/s
	Load                   float64 // steam to what the boiler works for, kg/s
	Opening                float64 // of the load's valve, as it stands
	HandFire               bool    // the fire's controller is not in automatic
}

// OperatorState is what the operators see and do.
type OperatorState struct {
	Name  string
	Told  bool
	Gauge float64 // what their gauge says, Pa
	Acts  float64 // the reading that they act upon now, Pa: that of some time ago
	Hold  float64 // the pressure they want, Pa
	Adds  float64 // what they add to the fire, W
}

// LampState is a lamp on the panel.
type LampState struct {
	Name, Valve, Shows string
	Lit                bool
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
	LowPoint                                    WallState // of the tailpipe

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
	// Past the cover's gasket to the surroundings: flow and effective area. Out
	// of the body's drain.
	Cover, CoverArea, Drain float64
	Block                   BlockState
	// What stands in the tailpipe's way: the pressure where it ends.
	Behind float64
	Wear   float64 // of the seat, relative, see network.Wear; counted beside spring-loaded valves
}

// BlockState is the block valve of a line. Without one, Fitted is false.
type BlockState struct {
	Fitted           bool
	Opening, Asked   float64 // as it stands, and where it is asked to go
	Moves            bool    // it travels; otherwise it changes at once
	LeakArea, Travel float64 // m2 when shut, s from end to end
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
	BondShut, BondOpen  float64 // force beside friction that breaks it free from its ends
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
//
// With an alternating supply current and voltage are effective values, and
// Impedance is more than Resistance; with a direct one they are equal.
type CoilState struct {
	Current, Voltage, Supply, Resistance, Inductance float64
	Impedance                                        float64 // ohm, with the plunger where it stands
	Alternating                                      bool
	Temperature                                      float64 // of the winding, K; 0 where it is not followed
	PullFactor                                       float64 // N/A2, with the turns that are left
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

	// The pressure where the sensor taps, and what its reading goes to as things
	// are: with water leg and error. Follows is the share of the lag's rate that
	// the root valve leaves; FallLag is the lag while the pressure falls.
	Tapped, Towards  float64
	Follows, FallLag float64

	SwitchContact network.Contact
	RelayContact  network.Contact
	Fuse          network.FuseState
	FuseHeat      float64 // 1: it blows
	Earths        int     // faults to earth
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
	s.Springs = s.Springs[:0]
	for i := range m.Springs {
		s.Springs = append(s.Springs, m.springState(&m.Springs[i], s.Look))
	}
	m.boilerInto(s)
}

func (m *Model) valveState(v *ValveMap, l *network.Look, timers []float64) ValveState {
	a, b, o, d, w := &l.Nodes[v.Body], &l.Nodes[v.Chamber], &l.Nodes[v.Outlet], &l.Nodes[v.Dump], &l.Nodes[v.Vessel]
	s := ValveState{Name: v.Name,
		Above: a.P, Below: b.P, Outlet: o.P, Dump: d.P, Vessel: w.P,
		AboveRate: a.PRate, BelowRate: b.PRate, OutletRate: o.PRate, DumpRate: d.PRate, VesselRate: w.PRate,
		AboveTemperature: a.T, BelowTemperature: b.T,
		AboveFluid: contents(a), BelowFluid: contents(b), OutletFluid: contents(o), DumpFluid: contents(d),
		BodyWall: wallState(l, v.BodyWall), ChamberWall: wallState(l, v.ChamberWall), DumpWall: wallState(l, v.DumpWall), OutletWall: wallState(l, v.OutletWall), LowPoint: wallState(l, v.LowPoint),
		Line: l.Flows[v.Line].W, Seat: l.Flows[v.Seat].W, Bleed: l.Flows[v.Bleed].W, PilotFlow: l.Flows[v.PilotFlow].W,
		LineArea: l.Flows[v.Line].Area, SeatArea: l.Flows[v.Seat].Area, BleedArea: l.Flows[v.Bleed].Area, PilotArea: l.Flows[v.PilotFlow].Area,
		SeatLeak:  v.Spec.Seat.Coefficient * v.Spec.Seat.LeakArea,
		PilotLeak: v.Spec.Pilot.Coefficient * v.Spec.Pilot.LeakArea,
	}
	if v.Guide >= 0 {
		s.Guide = l.Flows[v.Guide].W
	}
	if v.Cover >= 0 {
		s.Cover, s.CoverArea = l.Flows[v.Cover].W, l.Flows[v.Cover].Area
	}
	if v.Drain >= 0 {
		s.Drain = l.Flows[v.Drain].W
		if k := v.Drain + 1; k < len(l.Flows) && l.Flows[k].Name == l.Flows[v.Drain].Name+"-fall" {
			s.Drain += l.Flows[k].W
		}
	}
	s.Block, s.Behind = blockState(v, l), l.Nodes[v.Behind].P
	if v.Wear >= 0 {
		s.Wear = l.Wears[v.Wear]
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
		Preload: sp.Spring.Preload, Rate: sp.Spring.Rate, FullPhi: m.fullPhi(v, l), BondShut: sp.Disc.bond().Shut, BondOpen: sp.Disc.bond().Open, Mass: sp.Disc.Mass, Acceleration: k.A}
	q := &l.Movers[v.Pilot]
	s.Pilot = PilotState{Hold: holdOf(q.Mode), Lift: q.X, Speed: q.V, Stroke: sp.Plunger.stroke(), Pull: q.Pull, Spring: q.Spring, Load: q.SeatLoad,
		Net: q.Rest, BondShut: sp.Plunger.BondShut, BondOpen: sp.Plunger.BondOpen, Damping: sp.Plunger.Damping}
	c := &l.Coils[v.Coil]
	net := &m.Net.Coils[v.Coil]
	s.Coil = CoilState{Current: c.Current, Voltage: c.Voltage, Supply: net.Supply, Resistance: c.Resistance, Impedance: c.Impedance,
		Inductance: net.Inductance, Alternating: net.Omega > 0, Temperature: c.T, PullFactor: net.PullFactor}
	if kf := net.PullFactor; kf > 0 {
		gap := 1 + sp.Plunger.stroke()/sp.Coil.Gap
		shut := sp.Plunger.Preload + sp.Pilot.Area*(b.P-d.P) + sp.Plunger.BondShut
		open := sp.Plunger.Preload + sp.Plunger.SpringRate*sp.Plunger.stroke() - sp.Plunger.BondOpen
		s.Coil.PullIn = gap * math.Sqrt(math.Max(shut, 0)/kf)
		s.Coil.DropOut = math.Sqrt(math.Max(open, 0) / kf)
	}
	if v.Relay >= 0 {
		sw, sn := &m.Net.Switches[v.Switch], &m.Net.Sensors[v.Sensor]
		at := l.Nodes[sn.Node].P
		s.Control = ControlState{Fitted: true, Reading: l.Sensors[v.Sensor], Lag: sn.Lag, Set: sw.Set, Reset: sw.Reset,
			Made: l.Made[v.Switch], RelayOn: l.Relays[v.Relay] == network.RelayOn,
			RelayDue: math.Inf(1), Selector: m.Net.Relays[v.Relay].Demand,
			Tapped: at, Towards: at + sn.Offset, Follows: 1 - sn.Blocked, FallLag: sn.Lag,
			SwitchContact: sw.Contact, RelayContact: net.Contact, Fuse: network.NoFuse, Earths: net.Earths}
		if sn.FallLag > 0 {
			s.Control.FallLag = sn.FallLag
		}
		if net.Fuse > 0 {
			f := &l.Fuses[net.Fuse-1]
			s.Control.Fuse, s.Control.FuseHeat = f.State, f.Heat
		}
		if v.Relay < len(timers) {
			s.Control.RelayDue = timers[v.Relay]
		}
	}
	return s
}

// blockState is the block valve of a valve's line.
func blockState(v *ValveMap, l *network.Look) BlockState {
	b := v.LineSpec.BlockValve
	if b == nil {
		return BlockState{}
	}
	s := BlockState{Fitted: true, Opening: b.Opening, Asked: b.Opening}
	if v.Block >= 0 {
		s.Opening, s.Moves = l.Actuators[v.Block], true
		s.LeakArea, s.Travel = b.Motion.LeakArea, b.Motion.TravelTime
	}
	return s
}

// boilerInto reads drums, operators and lamps.
func (m *Model) boilerInto(s *Snapshot) {
	s.Drums, s.Operators, s.Lamps = s.Drums[:0], s.Operators[:0], s.Lamps[:0]
	l := s.Look
	for i := range m.Drums {
		d := &m.Drums[i]
		n := &l.Nodes[d.Node]
		k := DrumState{Name: d.Name, Pressure: n.P, PressureRate: n.PRate, Temperature: n.T, WaterShare: n.Liquid / n.V, Wall: wallState(l, d.Wall), HandFire: d.Hand}
		for _, f := range d.Fires {
			k.Fire += l.Feeds[f].Heat
		}
		k.Asked = k.Fire
		if d.fireControl >= 0 {
			k.Asked = l.Regulators[d.fireControl].Asked
		}
		for _, f := range d.Waters {
			k.Feed += l.Feeds[f].W
		}
		for j, f := range d.Loads {
			k.Load += l.Flows[f].W
			k.Opening = l.Actuators[d.Valves[j]]
		}
		s.Drums = append(s.Drums, k)
	}
	for i, name := range m.operators {
		w, k := &m.Net.Watchers[i], &l.Watchers[i]
		s.Operators = append(s.Operators, OperatorState{Name: name, Told: w.Idle, Gauge: l.Sensors[w.Sensor], Acts: k.Acts, Hold: w.Hold, Adds: k.Adds})
	}
	for _, a := range m.lamps {
		v := &s.Valves[a.valve]
		lit := false
		switch a.shows {
		case "relay":
			lit = v.Control.RelayOn
		case "coil-voltage":
			lit = v.Coil.Voltage > 0
		case "plunger":
			lit = v.Pilot.Lift > 0.5*v.Pilot.Stroke
		case "disc":
			lit = v.Disc.Lift > 0.05*v.Disc.Travel
		}
		s.Lamps = append(s.Lamps, LampState{Name: a.name, Valve: v.Name, Shows: a.shows, Lit: lit})
	}
}

func contents(n *network.NodeLook) Contents {
	c := Contents{Temperature: n.T, Quality: n.Quality, Water: n.Liquid, Volume: n.V, Air: n.Air}
	if c.Air > c.Quality && c.Quality < 1 {
		// To the balances what fills a pipe is steam and water alone, so air that has
		// been drawn into a pipe that cools counts as water there. It is none.
		c.Water *= math.Max(1-c.Air, 0) / (1 - c.Quality)
	}
	return c
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
