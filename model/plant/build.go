package plant

import (
	"fmt"
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/sim"
)

// Model is a plant made ready to run: its network and where each part of the
// plant lies in it. Models of plants that differ in parameters only share
// their layout, so a State passes from one to the next.
type Model struct {
	Plant   *Plant
	Net     *network.Network
	Gas     fluid.Gas
	Gravity float64
	Valves  []ValveMap
}

// ValveMap says where a piloted valve lies in the network.
type ValveMap struct {
	Name                   string
	Spec                   *PilotedValve
	Disc, Pilot            network.Part
	Body, Chamber, Outlet  network.Node
	Dump                   network.Node // the dump line; Outlet where there is none
	HasDump                bool
	Vessel                 network.Node // what the line comes from
	Seat, Bleed, PilotFlow int          // flows
	Guide, Line            int          // flows; Guide -1 where there is none
	Coil                   int
	Relay, Switch, Sensor  int // -1 where the valve has none
}

// Build compiles a plant. The plant must have passed Check.
func Build(p *Plant) (*Model, error) { return compile(p, p.Check()) }

// BuildRunning compiles a plant that takes over a run from another of the same
// parts. What concerns the start alone need not hold.
func BuildRunning(p *Plant) (*Model, error) { return compile(p, p.CheckRunning()) }

func compile(p *Plant, issues []Issue) (*Model, error) {
	if len(issues) > 0 {
		return nil, fmt.Errorf("%s", issues[0])
	}
	b := &builder{m: &Model{Plant: p, Net: &network.Network{}}, nodes: map[string]network.Node{}, sensors: map[string]int{}, switches: map[string]int{}}
	return b.build(p)
}

type builder struct {
	m        *Model
	nodes    map[string]network.Node
	sensors  map[string]int
	switches map[string]int
	nozzle   flow.Law
}

func (b *builder) build(p *Plant) (*Model, error) {
	n := b.m.Net
	gas := p.OfKind("ideal-gas")[0].Spec.(*Gas)
	b.m.Gas = fluid.Gas{Gamma: gas.HeatCapacityRatio, R: gas.GasConstant, Viscosity: gas.Viscosity}
	b.m.Gravity = p.OfKind("site")[0].Spec.(*Site).Gravity
	b.nozzle = flow.NewNozzle(&b.m.Gas)

	// Volumes first: nodes are numbered volumes, then reservoirs.
	for _, q := range p.OfKind("vessel") {
		v := q.Spec.(*Vessel)
		b.volume(q.Name, v.Volume, v.Pressure, v.Temperature)
	}
	type ends struct {
		line          Part
		body, chamber network.Node
		dump          network.Node
		spec          *PilotedValve
		vessel        *Vessel
	}
	valves := map[string]*ends{}
	for _, q := range p.OfKind("piloted-valve") {
		v := q.Spec.(*PilotedValve)
		e := &ends{spec: v, line: b.lineTo(p, q.Name), dump: -1}
		line := e.line.Spec.(*Line)
		e.vessel, _ = Spec[Vessel](p, line.From)
		pipe, _ := Spec[Tailpipe](p, v.Outlet)
		air, _ := Spec[Surroundings](p, pipe.To)
		e.body = b.volume(q.Name+".body", line.Volume, e.vessel.Pressure, e.vessel.Temperature)
		e.chamber = b.volume(q.Name+".chamber", v.Chamber.Volume, e.vessel.Pressure, e.vessel.Temperature)
		if v.Dump != nil {
			e.dump = b.volume(q.Name+".dump-line", v.Dump.Volume, air.Pressure, air.Temperature)
			if w := v.Dump.Wall; w != nil {
				n.Walls = append(n.Walls, network.Wall{Name: q.Name + ".dump-line-wall", Node: e.dump,
					HeatCapacity: w.HeatCapacity, Inside: w.Inside, Outside: w.Outside, Ambient: air.Temperature, Start: air.Temperature})
			}
		}
		valves[q.Name] = e
	}
	for _, q := range p.OfKind("tailpipe") {
		t := q.Spec.(*Tailpipe)
		air, _ := Spec[Surroundings](p, t.To)
		b.volume(q.Name, t.Volume, air.Pressure, air.Temperature)
	}
	for _, q := range p.OfKind("surroundings") {
		s := q.Spec.(*Surroundings)
		n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: q.Name, Fluid: &b.m.Gas,
			V: b.m.Gas.Volume(s.Pressure, s.Temperature), U: b.m.Gas.Energy(s.Temperature)})
		b.nodes[q.Name] = n.ReservoirNode(len(n.Reservoirs) - 1)
	}

	for _, q := range p.OfKind("inflow") {
		f := q.Spec.(*Inflow)
		n.Feeds = append(n.Feeds, network.Feed{Name: q.Name, To: b.nodes[f.Into], MassFlow: f.MassFlow, Enthalpy: b.m.Gas.Cp() * f.Temperature})
	}
	for _, q := range p.OfKind("sensor") {
		s := q.Spec.(*Sensor)
		b.sensors[q.Name] = len(n.Sensors)
		n.Sensors = append(n.Sensors, network.Sensor{Name: q.Name, Node: b.nodes[s.On], Lag: s.Lag})
	}
	for _, q := range p.OfKind("pressure-switch") {
		s := q.Spec.(*Switch)
		b.switches[q.Name] = len(n.Switches)
		n.Switches = append(n.Switches, network.Switch{Name: q.Name, Sensor: b.sensors[s.Sensor], Set: s.Set + s.Drift, Reset: s.Reset + s.Drift})
	}
	for _, q := range p.OfKind("piloted-valve") {
		e := valves[q.Name]
		line := e.line.Spec.(*Line)
		m := b.valve(q.Name, e.spec, e.body, e.chamber, e.dump, b.nodes[e.spec.Outlet])
		m.Vessel, m.Body, m.Chamber = b.nodes[line.From], e.body, e.chamber
		m.Line = len(n.Flows)
		n.Flows = append(n.Flows, network.Flow{Name: e.line.Name, From: m.Vessel, To: e.body, Law: b.nozzle, Opening: fixed(lineArea(line))})
		m.Relay, m.Switch, m.Sensor = -1, -1, -1
		b.coil(p, q.Name, e.spec, &m)
		b.m.Valves = append(b.m.Valves, m)
	}
	for _, q := range p.OfKind("tailpipe") {
		t := q.Spec.(*Tailpipe)
		n.Flows = append(n.Flows, network.Flow{Name: q.Name + ".exit", From: b.nodes[q.Name], To: b.nodes[t.To], Law: b.nozzle, Opening: fixed(t.Coefficient * t.Area)})
	}
	if err := n.Compile(); err != nil {
		return nil, err
	}
	return b.m, nil
}

func fixed(area float64) network.Opening { return network.Opening{Leak: area, Part: -1} }

// lineArea is the effective area of the line's orifice and its block valve in
// series, with no volume between: 1/A^2 = 1/A1^2 + 1/A2^2. That is exact for
// small pressure drops and low beyond: on the bench's line by 0.4 % at its own
// pressure ratio of 0.96 and 2.3 % at 0.8; with two equal areas by 3.4 % at 0.8
// and 11.5 % at 0.5. A nearly shut block valve alone meters the flow, and is
// right again.
func lineArea(l *Line) float64 {
	a := l.Coefficient * l.Area
	if l.BlockValve == nil {
		return a
	}
	v := l.BlockValve.Coefficient * l.BlockValve.Area * l.BlockValve.Opening
	if v == 0 {
		return 0
	}
	return a * v / math.Hypot(a, v)
}

func (b *builder) lineTo(p *Plant, valve string) Part {
	for _, q := range p.OfKind("line") {
		if q.Spec.(*Line).To == valve {
			return q
		}
	}
	return Part{}
}

func (b *builder) volume(name string, size, p, t float64) network.Node {
	mass := size / b.m.Gas.Volume(p, t)
	b.m.Net.Volumes = append(b.m.Net.Volumes, network.Volume{Name: name, Fluid: &b.m.Gas, Size: size, Mass: mass, U: mass * b.m.Gas.Energy(t)})
	node := network.Node(len(b.m.Net.Volumes) - 1)
	b.nodes[name] = node
	return node
}

// valve adds disc, pilot and the flows through seat, bleed, guide, pilot and
// dump line.
func (b *builder) valve(name string, v *PilotedValve, body, chamber, dump, outlet network.Node) ValveMap {
	n := b.m.Net
	as := math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter
	ag := math.Pi / 4 * v.Disc.GuideDiameter * v.Disc.GuideDiameter
	m := ValveMap{Name: name, Spec: v, Outlet: outlet, Dump: outlet, HasDump: v.Dump != nil, Guide: -1}
	if m.HasDump {
		m.Dump = dump
	}
	law := network.Smoothed
	if v.Disc.FrictionLaw == "sticking" {
		law = network.Sticking
	}
	m.Disc = network.Part(len(n.Movers))
	n.Movers = append(n.Movers, network.Mover{
		Name: name + ".disc", Mass: v.Disc.Mass, Travel: v.Disc.Travel, Rate: v.Spring.Rate, Preload: v.Spring.Preload,
		Weight: v.Disc.Mass * b.m.Gravity, Damping: v.Disc.Damping, Law: law, Slide: v.Disc.Friction, Stick: v.Disc.StickFriction,
		Speed: v.Disc.FrictionSpeed, Restitution: v.Disc.Restitution, HoldSpeed: v.Disc.HoldSpeed, Shape: v.Seat.Diameter,
		Faces: []network.Face{
			{Node: body, Alpha: ag - as, Beta: as},
			{Node: outlet, Alpha: as, Beta: -as},
			{Node: chamber, Alpha: -ag},
		},
		Events: network.MoverEvents{Leave: "disc-lift", Bounce: "disc-bounce", High: "disc-full-open", Drop: "disc-leaves-stop", Low: "disc-seated"},
	})
	m.Pilot = network.Part(len(n.Movers))
	pl := &v.Plunger
	n.Movers = append(n.Movers, network.Mover{
		Name: name + ".pilot", Mass: pl.Mass, Travel: pl.Stroke, Rate: pl.SpringRate, Preload: pl.Preload, Damping: pl.Damping,
		Restitution: pl.Restitution, HoldSpeed: pl.HoldSpeed, BondLow: pl.BondShut, BondHigh: pl.BondOpen,
		SeatLoad: v.Pilot.Area, LoadFrom: chamber, LoadTo: m.Dump,
		Events: network.MoverEvents{Leave: "pilot-lift", Bounce: "pilot-bounce", High: "pilot-open", Drop: "pilot-drop", Low: "pilot-shut"},
	})
	m.Seat = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".seat", From: body, To: outlet, Law: b.nozzle, Opening: network.Opening{
		Leak: v.Seat.Coefficient * v.Seat.LeakArea, Part: m.Disc, Cd: v.Seat.Coefficient, Bore: as, Diameter: v.Seat.Diameter}})
	m.Bleed = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".bleed", From: body, To: chamber, Law: b.nozzle, Opening: fixed(v.Bleed.Coefficient * v.Bleed.Area)})
	if g := v.Guide; g != nil {
		m.Guide = len(n.Flows)
		n.Flows = append(n.Flows, network.Flow{Name: name + ".guide", From: body, To: chamber,
			Law: flow.NewClearance(&b.m.Gas, v.Disc.GuideDiameter, g.Clearance, g.Length), Opening: fixed(1)})
	}
	m.PilotFlow = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".pilot", From: chamber, To: m.Dump, Law: b.nozzle, Opening: network.Opening{
		Leak: v.Pilot.Coefficient * v.Pilot.LeakArea, Part: m.Pilot, Cd: v.Pilot.Coefficient, PerTravel: v.Pilot.Area / pl.Stroke}})
	if d := v.Dump; d != nil {
		n.Flows = append(n.Flows, network.Flow{Name: name + ".dump-line", From: m.Dump, To: outlet, Law: b.nozzle, Opening: fixed(d.Coefficient * d.Area)})
	}
	return m
}

// coil adds the valve's coil and the relay that feeds it. A valve without a
// relay has a coil that nothing feeds.
func (b *builder) coil(p *Plant, name string, v *PilotedValve, m *ValveMap) {
	n := b.m.Net
	m.Coil = len(n.Coils)
	c := network.Coil{Name: name + ".coil", Inductance: v.Coil.Inductance, Resistance: v.Coil.Resistance, PullFactor: v.Coil.PullFactor, Gap: v.Coil.Gap, Mover: m.Pilot, Relay: -1}
	for _, q := range p.OfKind("relay") {
		r := q.Spec.(*Relay)
		if r.Valve != name {
			continue
		}
		m.Relay = len(n.Relays)
		m.Switch = b.switches[r.Switch]
		m.Sensor = n.Switches[m.Switch].Sensor
		demand := network.FollowSwitch
		if r.Selector != nil {
			switch r.Selector.Position {
			case "open":
				demand = network.HoldOn
			case "off":
				demand = network.HoldOff
			}
		}
		n.Relays = append(n.Relays, network.Relay{Name: q.Name, Switch: m.Switch, PickUp: r.PickUp, DropOut: r.DropOut, Demand: demand})
		c.Relay, c.Supply = m.Relay, r.Supply
	}
	n.Coils = append(n.Coils, c)
}

// Change is a command that puts another plant of the same layout in place of
// the present one at a time, and books on the ledger the energy that moving
// parts and walls gain or lose by the change of their parameters.
func Change(at float64, name string, to *Model) sim.Command {
	return sim.Command{T: at, Name: name, Do: func(s *sim.State, from sim.System) (sim.System, error) {
		old, ok := from.(*network.Network)
		if !ok || len(old.Layout().Vars) != len(to.Net.Layout().Vars) {
			return nil, fmt.Errorf("the changed plant does not have the layout of the running one")
		}
		to.Net.BookChange(old, s)
		return to.Net, nil
	}}
}
