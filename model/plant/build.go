package plant

import (
	"fmt"
	"math"

	"underdisc/model/network"
	"underdisc/sim"
)

// Model is a plant made ready to run: its network and where each part of the
// plant lies in it. Models of plants that differ in parameters only share
// their layout, so a State passes from one to the next.
type Model struct {
	Medium
	Plant   *Plant
	Net     *network.Network
	Gravity float64
	Valves  []ValveMap
	Springs []SpringMap
	Drums   []DrumMap

	operators []string // by watcher
	lamps     []lampMap
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
	BodyWall, ChamberWall  int          // walls, -1 where there is none
	DumpWall, OutletWall   int
	LowPoint               int
	Seat, Bleed, PilotFlow int // flows
	Guide, Line            int // flows; Guide -1 where there is none
	Cover, Drain           int // flows, -1 where there is none
	Block                  int // the actuator of a block valve that travels, -1
	LineSpec               *Line
	Behind                 network.Node // where the tailpipe ends
	Coil                   int
	Wear                   int // -1 where it is not counted
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
	b := &builder{m: &Model{Plant: p, Net: &network.Network{}}, nodes: map[string]network.Node{}, sensors: map[string]int{}, switches: map[string]int{}, valves: map[string]*ends{},
		actuators: map[string]int{}, regulators: map[string]int{}}
	return b.build(p)
}

type builder struct {
	m        *Model
	nodes    map[string]network.Node
	sensors  map[string]int
	switches map[string]int
	valves   map[string]*ends
	// One more than the index of each.
	actuators, regulators map[string]int
}

// ends are the nodes that belong to a valve.
type ends struct {
	spec    *PilotedValve
	line    Part
	body    network.Node
	chamber network.Node
	dump    network.Node
	maps    ValveMap // walls, so far
}

func (b *builder) build(p *Plant) (*Model, error) {
	b.m.Medium = mediumOf(p)
	b.m.Gravity = p.OfKind("site")[0].Spec.(*Site).Gravity
	if err := b.contents(p); err != nil {
		return nil, err
	}
	b.sensing(p)
	if err := b.inflows(p); err != nil {
		return nil, err
	}
	n := b.m.Net
	for _, q := range p.OfKind("pressure-switch") {
		s := q.Spec.(*Switch)
		b.switches[q.Name] = len(n.Switches)
		n.Switches = append(n.Switches, network.Switch{Name: q.Name, Sensor: b.sensors[s.Sensor], Set: s.Set + s.Drift, Reset: s.Reset + s.Drift, Contact: s.contact()})
	}
	for _, q := range p.OfKind("piloted-valve") {
		e := b.valves[q.Name]
		line := e.line.Spec.(*Line)
		m := b.valve(q.Name, e.spec, e.body, e.chamber, e.dump, b.nodes[e.spec.Outlet])
		m.Vessel, m.Body, m.Chamber = b.nodes[line.From], e.body, e.chamber
		if e.maps.DumpWall >= 0 {
			b.drive(e.maps.DumpWall, len(n.Flows)-1) // the dump line's is the last of the valve's
		}
		m.BodyWall, m.ChamberWall, m.DumpWall, m.OutletWall = e.maps.BodyWall, e.maps.ChamberWall, e.maps.DumpWall, b.wallOf(e.spec.Outlet+"-wall")
		m.LowPoint = b.wallOf(e.spec.Outlet + "-low-point")
		from, draw := b.run(e.line, m.Vessel)
		m.Block = b.actuators[e.line.Name+".block-valve"] - 1
		b.runBack(e.line, &m)
		m.LineSpec = line
		m.Line = len(n.Flows)
		b.drive(m.BodyWall, m.Line)
		n.Flows = append(n.Flows, network.Flow{Name: e.line.Name, From: from, FromDraw: draw, To: e.body, Law: b.m.law(), Opening: fixed(lineArea(line))})
		b.openings(p, q.Name, &m)
		m.Relay, m.Switch, m.Sensor = -1, -1, -1
		b.coil(p, q.Name, e.spec, &m)
		b.m.Valves = append(b.m.Valves, m)
	}
	for _, q := range p.OfKind("spring-valve") {
		if err := b.springValve(p, q); err != nil {
			return nil, err
		}
	}
	if b.m.Springs != nil {
		// Beside them, what the piloted valve's seat takes is counted, too.
		for i := range b.m.Valves {
			v := &b.m.Valves[i]
			v.Wear = b.wear(v.Name, v.Disc, v.Seat)
		}
	}
	for _, q := range p.OfKind("tailpipe") {
		t := q.Spec.(*Tailpipe)
		b.drive(b.wallOf(q.Name+"-wall"), len(n.Flows))
		n.Flows = append(n.Flows, network.Flow{Name: q.Name + ".exit", From: b.nodes[q.Name], To: b.nodes[t.To], Law: b.m.law(), Opening: fixed(t.Coefficient * t.Area)})
		if d := t.Drain; d != nil {
			place, _, _ := p.Around(q.Name)
			b.drain(q.Name+".drain", b.nodes[q.Name], b.nodes[place], d.Coefficient*d.Area, d.Fall)
		}
	}
	for _, q := range p.OfKind("neighbour") {
		s := q.Spec.(*Neighbour)
		n.Flows = append(n.Flows, network.Flow{Name: q.Name + ".discharge", From: b.nodes[q.Name], To: b.nodes[s.Into], Law: b.m.law(), Opening: fixed(s.Coefficient * s.Area * s.Opening)})
	}
	b.loads(p)
	b.lamps(p)
	if err := n.Compile(); err != nil {
		return nil, err
	}
	return b.m, nil
}

// inflows adds what comes in from outside, and who controls it.
func (b *builder) inflows(p *Plant) error {
	n := b.m.Net
	b.regulate(p)
	for _, q := range p.OfKind("inflow") {
		f := q.Spec.(*Inflow)
		pressure := 0.0
		if d, ok := Spec[Drum](p, f.Into); ok {
			pressure = d.Pressure
		}
		h, err := b.m.enthalpy(pressure, f.Temperature)
		if err != nil {
			return fmt.Errorf("%s.temperature: %w", q.Name, err)
		}
		n.Feeds = append(n.Feeds, network.Feed{Name: q.Name, To: b.nodes[f.Into], MassFlow: f.MassFlow, Enthalpy: h, By: b.regulators[q.Name], ByMass: true})
	}
	for _, q := range p.OfKind("heat-input") {
		f := q.Spec.(*HeatInput)
		n.Feeds = append(n.Feeds, network.Feed{Name: q.Name, To: b.nodes[f.Into], Heat: f.Power, By: b.regulators[q.Name]})
	}
	return nil
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
	if l.BlockValve == nil || l.BlockValve.Motion != nil {
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

// valve adds disc, pilot and the flows through seat, bleed, guide, pilot and
// dump line.
func (b *builder) valve(name string, v *PilotedValve, body, chamber, dump, outlet network.Node) ValveMap {
	n := b.m.Net
	as := math.Pi / 4 * v.Seat.Diameter * v.Seat.Diameter
	ag := math.Pi / 4 * v.Disc.GuideDiameter * v.Disc.GuideDiameter
	m := ValveMap{Name: name, Spec: v, Outlet: outlet, Dump: outlet, HasDump: v.Dump != nil, Guide: -1, Cover: -1, Drain: -1, Wear: -1}
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
		BondLow: v.Disc.bond().Shut, BondHigh: v.Disc.bond().Open,
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
		Name: name + ".pilot", Mass: pl.Mass, Travel: pl.stroke(), Rate: pl.SpringRate, Preload: pl.Preload, Damping: pl.Damping,
		Restitution: pl.Restitution, HoldSpeed: pl.HoldSpeed, BondLow: pl.BondShut, BondHigh: pl.BondOpen,
		SeatLoad: v.Pilot.Area, LoadFrom: chamber, LoadTo: m.Dump,
		Events: network.MoverEvents{Leave: "pilot-lift", Bounce: "pilot-bounce", High: "pilot-open", Drop: "pilot-drop", Low: "pilot-shut"},
	})
	m.Seat = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".seat", From: body, To: outlet, Law: b.m.law(), Void: b.m.Void, Opening: network.Opening{
		Leak: v.Seat.Coefficient * v.Seat.LeakArea, Part: m.Disc, Cd: v.Seat.Coefficient, Bore: as, Diameter: v.Seat.Diameter, Continuity: v.Seat.Face == "continuity"}})
	if v.Seat.Face == "continuity" {
		n.Movers[m.Disc].FaceFlow = len(n.Flows)
	}
	m.Bleed = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".bleed", From: body, To: chamber, Law: b.m.law(), Opening: fixed(v.Bleed.Coefficient * v.Bleed.Area)})
	if g := v.Guide; g != nil {
		m.Guide = len(n.Flows)
		n.Flows = append(n.Flows, network.Flow{Name: name + ".guide", From: body, To: chamber,
			Law: b.m.gap(v.Disc.GuideDiameter, g.Clearance, g.Length), Opening: fixed(1)})
	}
	m.PilotFlow = len(n.Flows)
	n.Flows = append(n.Flows, network.Flow{Name: name + ".pilot", From: chamber, To: m.Dump, Law: b.m.law(), Opening: network.Opening{
		Leak: v.Pilot.Coefficient * v.Pilot.LeakArea, Part: m.Pilot, Cd: v.Pilot.Coefficient, PerTravel: v.Pilot.Area / pl.Stroke}})
	if d := v.Dump; d != nil {
		n.Flows = append(n.Flows, network.Flow{Name: name + ".dump-line", From: m.Dump, To: outlet, Law: b.m.law(), Opening: fixed(d.Coefficient * d.Area)})
	}
	return m
}

// coil adds the valve's coil and the relay that feeds it. A valve without a
// relay has a coil that nothing feeds.
func (b *builder) coil(p *Plant, name string, v *PilotedValve, m *ValveMap) {
	n := b.m.Net
	m.Coil = len(n.Coils)
	c := v.Coil.network()
	c.Name, c.Mover, c.Relay = name+".coil", m.Pilot, -1
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
		b.circuit(q.Name, r.Circuit, m.Coil, &c)
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
		to.Net.TakeOver(old, s)
		return to.Net, nil
	}}
}
