package plant

import (
	"math"

	"underdisc/model/network"
)

// DrumMap says where a drum and what feeds and empties it lie in the network.
type DrumMap struct {
	Name        string
	Node        network.Node
	Wall        int   // -1 where there is none
	Fires       []int // feeds of heat
	Waters      []int // feeds of water
	Loads       []int // flows
	Valves      []int // actuators of the loads
	Hand        bool  // its fire is not in automatic
	fireControl int   // regulator, -1
}

// legDensity is the density of the water that stands in a sensing line, kg/m3:
// condensate between 20 and 80 degC has 998 to 972 (IAPWS-IF97).
const legDensity = 988

// sensing adds the sensors.
func (b *builder) sensing(p *Plant) {
	n := b.m.Net
	for _, q := range p.OfKind("sensor") {
		s := q.Spec.(*Sensor)
		b.sensors[q.Name] = len(n.Sensors)
		k := network.Sensor{Name: q.Name, Node: b.tap(p, s.On), Lag: s.Lag}
		if l := s.Line; l != nil {
			k.FallLag, k.Blocked = l.FallLag, 1-l.Root
			k.Offset = legDensity*b.m.Gravity*(l.Leg-l.Expected) + l.Error
		}
		n.Sensors = append(n.Sensors, k)
	}
}

// tap is the node that a sensor senses.
func (b *builder) tap(p *Plant, on string) network.Node {
	if l, ok := Spec[Line](p, on); ok {
		return b.nodes[cell(on, int(l.Run.Cells)-1)]
	}
	if _, ok := Spec[PilotedValve](p, on); ok {
		return b.nodes[on+".body"]
	}
	return b.nodes[on]
}

// regulate adds the controllers of fire and feed, and the operators.
func (b *builder) regulate(p *Plant) {
	n := b.m.Net
	for _, q := range p.OfKind("heat-input") {
		f := q.Spec.(*HeatInput)
		c := f.Control
		if c == nil {
			continue
		}
		n.Regulators = append(n.Regulators, network.Regulator{Name: q.Name, Sensor: b.sensors[c.Sensor], Set: c.Hold,
			Gain: (c.Most - c.Least) / c.Band, Base: f.Power, Least: c.Least, Most: c.Most, Reset: c.Reset, Lag: c.Lag,
			Hand: c.Mode == "hand", Unit: "W"})
		b.regulators[q.Name] = len(n.Regulators)
	}
	for _, q := range p.OfKind("inflow") {
		f := q.Spec.(*Inflow)
		c := f.Control
		if c == nil {
			continue
		}
		n.Regulators = append(n.Regulators, network.Regulator{Name: q.Name, Level: true, Node: b.nodes[f.Into], Set: c.Hold,
			Gain: c.Most / c.Band, Base: f.MassFlow, Most: c.Most, Reset: c.Reset, Lag: c.Lag, Unit: "kg/s"})
		b.regulators[q.Name] = len(n.Regulators)
	}
	for _, q := range p.OfKind("operators") {
		o := q.Spec.(*Operators)
		n.Watchers = append(n.Watchers, network.Watcher{Name: q.Name, Sensor: b.sensors[o.Gauge], To: b.regulators[o.Fire] - 1,
			Hold: o.Hold, Gain: o.Most / o.Band, Most: o.Most, Delay: o.Delay, Idle: o.Told == "yes"})
		b.m.operators = append(b.m.operators, q.Name)
	}
}

// loads adds what takes steam from a drum, and where the drum's own parts lie.
func (b *builder) loads(p *Plant) {
	n := b.m.Net
	at := map[string]int{}
	for _, q := range p.OfKind("drum") {
		at[q.Name] = len(b.m.Drums)
		b.m.Drums = append(b.m.Drums, DrumMap{Name: q.Name, Node: b.nodes[q.Name], Wall: b.wallOf(q.Name + "-wall"), fireControl: -1})
	}
	for i := range n.Feeds {
		q, _ := p.Find(n.Feeds[i].Name)
		switch s := q.Spec.(type) {
		case *HeatInput:
			d := &b.m.Drums[at[s.Into]]
			d.Fires = append(d.Fires, i)
			if s.Control != nil {
				d.fireControl, d.Hand = n.Feeds[i].By-1, s.Control.Mode == "hand"
			}
		case *Inflow:
			if k, ok := at[s.Into]; ok {
				b.m.Drums[k].Waters = append(b.m.Drums[k].Waters, i)
			}
		}
	}
	for _, q := range p.OfKind("load") {
		s := q.Spec.(*Load)
		n.Actuators = append(n.Actuators, network.Actuator{Name: q.Name, Target: s.Opening, Time: s.TravelTime,
			Events: network.ActuatorEvents{Moves: "load-moves", Open: "load-open", Shut: "load-shut", Between: "load-stands"}})
		d := &b.m.Drums[at[s.From]]
		d.Loads, d.Valves = append(d.Loads, len(n.Flows)), append(d.Valves, len(n.Actuators)-1)
		n.Flows = append(n.Flows, network.Flow{Name: q.Name + ".steam", From: b.nodes[s.From], FromDraw: network.Steam, To: b.nodes[s.To], Law: b.m.law(),
			Opening: network.Opening{Part: -1, Drive: len(n.Actuators), Full: s.Coefficient * s.Area}})
	}
}

// openings adds what leads from a valve to the surroundings beside its seat.
func (b *builder) openings(p *Plant, name string, m *ValveMap) {
	n, v := b.m.Net, m.Spec
	place, _, _ := p.Around(v.Outlet)
	pipe, _ := Spec[Tailpipe](p, v.Outlet)
	m.Behind = b.nodes[pipe.To]
	if c := v.Chamber.Cover; c != nil {
		m.Cover = len(n.Flows)
		n.Flows = append(n.Flows, network.Flow{Name: name + ".cover", From: m.Chamber, To: b.nodes[place], Law: b.m.law(), Opening: fixed(c.Coefficient * c.LeakArea)})
	}
	if d := v.Drain; d != nil {
		m.Drain = len(n.Flows)
		b.drain(name+".body-drain", m.Body, b.nodes[place], d.Coefficient*d.Area*d.Opening, d.Fall)
	}
}

// runBack lets the water of a valve's body run back to the vessel, unless the
// block valve is in its way.
func (b *builder) runBack(line Part, m *ValveMap) {
	r, n := line.Spec.(*Line).Return, b.m.Net
	if r == nil || b.m.Water == nil {
		return
	}
	o := fixed(r.Coefficient * r.Area)
	if m.Block >= 0 {
		o = network.Opening{Part: -1, Drive: m.Block + 1, Full: r.Coefficient * r.Area}
	}
	n.Flows = append(n.Flows, network.Flow{Name: line.Name + ".condensate", From: m.Body, To: m.Vessel, Law: b.m.law(), Opening: o, Fall: b.m.Gravity * r.Fall})
}

// drain adds a drain: what the difference of pressure drives through it, and
// what water adds to that by its weight.
func (b *builder) drain(name string, from, to network.Node, area, fall float64) {
	n := b.m.Net
	n.Flows = append(n.Flows, network.Flow{Name: name, From: from, FromDraw: network.Liquid, To: to, Law: b.m.law(), Opening: fixed(area)})
	if b.m.Water != nil && fall > 0 {
		n.Flows = append(n.Flows, network.Flow{Name: name + "-fall", From: from, To: to, Law: b.m.law(), Opening: fixed(area), Fall: b.m.Gravity * fall})
	}
}

// bond is what holds the disc at its ends.
func (d *Disc) bond() Bond {
	if d.Bond == nil {
		return Bond{}
	}
	return *d.Bond
}

// stroke is what is left of the plunger's stroke.
func (p *Plunger) stroke() float64 {
	if p.Adjust == nil {
		return p.Stroke
	}
	return p.Stroke - p.Adjust.Lost
}

// contact is that of a switch.
func (s *Switch) contact() network.Contact {
	if s.Contact == nil {
		return network.Sound
	}
	switch s.Contact.State {
	case "stuck-made":
		return network.StuckOn
	case "stuck-open":
		return network.StuckOff
	}
	return network.Sound
}

// turns is the share of a coil's turns that are left.
func (c *Coil) turns() float64 {
	if c.Winding == nil {
		return 1
	}
	return 1 - c.Winding.Shorted
}

// pull is Kf with the turns that are left: the pull goes with ampere-turns
// squared.
func (c *Coil) pull() float64 { return c.PullFactor * c.turns() * c.turns() }

// network is the coil as the network has it. Bridged turns take their share of
// the resistance, and inductance and pull go with the square of the turns that
// are left; the current within the bridged turns is left out.
func (c *Coil) network() network.Coil {
	k := c.turns()
	n := network.Coil{Inductance: c.Inductance * k * k, Resistance: c.Resistance * k, PullFactor: c.pull(), Gap: c.Gap, Moves: c.Law == "moving"}
	if w := c.Winding; w != nil {
		n.Copper, n.Loss, n.Around = w.HeatCapacity, w.Conductance, w.Around
	}
	if c.AC != nil {
		n.Omega = 2 * math.Pi * c.AC.Frequency
	}
	return n
}

// circuit adds what lies between a relay and its coil.
func (b *builder) circuit(relay string, r *Circuit, coil int, c *network.Coil) {
	if r == nil {
		return
	}
	switch r.Contact {
	case "open":
		c.Contact = network.StuckOff
	case "welded":
		c.Contact = network.StuckOn
	}
	c.Earths = map[string]int{"one": 1, "two": 2}[r.Earth]
	if f := r.Fuse; f != nil {
		n := b.m.Net
		n.Fuses = append(n.Fuses, network.Fuse{Name: relay + ".fuse", Coil: coil, Out: f.State == "out", Rating: f.Rating, Lag: f.Lag})
		c.Fuse = len(n.Fuses)
	}
}

// lampMap is a lamp and the valve that it stands for.
type lampMap struct {
	name, shows string
	valve       int
}

func (b *builder) lamps(p *Plant) {
	for _, q := range p.OfKind("lamp") {
		l := q.Spec.(*Lamp)
		for i := range b.m.Valves {
			if b.m.Valves[i].Name == l.Valve {
				b.m.lamps = append(b.m.lamps, lampMap{q.Name, l.Shows, i})
			}
		}
	}
}
