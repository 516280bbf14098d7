package plant

import (
	"fmt"
	"math"

	"underdisc/model/fluid"
	"underdisc/model/network"
)

// filling is what a volume holds at the start.
type filling struct {
	v, u float64 // specific volume and energy
	t    float64 // temperature, K
	open bool    // open to the air
}

// contents adds volumes, their walls, and the surroundings. Volumes come
// first: nodes are numbered volumes, then reservoirs.
func (b *builder) contents(p *Plant) error {
	for _, q := range p.OfKind("vessel") {
		v := q.Spec.(*Vessel)
		f, err := b.at(q.Name, v.Pressure, v.Temperature)
		if err != nil {
			return err
		}
		b.volume(q.Name, v.Volume, f)
	}
	for _, q := range p.OfKind("drum") {
		d := q.Spec.(*Drum)
		v, u, err := b.m.drum(d)
		if err != nil {
			return fmt.Errorf("%s: %w", q.Name, err)
		}
		f := filling{v: v, u: u, t: b.temperature(v, u)}
		b.volume(q.Name, d.Volume, f)
		b.wall(q.Name+"-wall", d.Wall, q.Name, 0, p.OfKind("surroundings")[0].Spec.(*Surroundings).Temperature, f.t)
	}
	for _, q := range p.OfKind("piloted-valve") {
		if err := b.valveVolumes(p, q); err != nil {
			return err
		}
	}
	for _, q := range p.OfKind("spring-valve") {
		if err := b.springVolumes(p, q); err != nil {
			return err
		}
	}
	for _, q := range p.OfKind("tailpipe") {
		t := q.Spec.(*Tailpipe)
		to, air, ok := p.Around(q.Name)
		if !ok {
			continue // Check reports it
		}
		f, err := b.outside(to, air)
		if err != nil {
			return err
		}
		b.volume(q.Name, t.Volume, f)
		b.wall(q.Name+"-wall", t.Wall, q.Name, 0, air.Temperature, air.Temperature)
		if l := t.Low; l != nil {
			b.m.Net.Walls = append(b.m.Net.Walls, l.wall(q.Name+"-low-point", b.nodes[q.Name], air.Temperature))
		}
	}
	n := b.m.Net
	for _, q := range p.OfKind("neighbour") {
		s := q.Spec.(*Neighbour)
		v, u, err := b.m.Water.PX(s.Pressure, 1)
		if err != nil {
			return fmt.Errorf("%s.pressure: %w", q.Name, err)
		}
		n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: q.Name, Fluid: b.m.Fluid, V: v, U: u, Pure: true})
		b.nodes[q.Name] = n.ReservoirNode(len(n.Reservoirs) - 1)
	}
	for _, q := range p.OfKind("surroundings") {
		f, err := b.outside(q.Name, q.Spec.(*Surroundings))
		if err != nil {
			return err
		}
		n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: q.Name, Fluid: b.m.Fluid, V: f.v, U: f.u})
		b.nodes[q.Name] = n.ReservoirNode(len(n.Reservoirs) - 1)
	}
	return nil
}

// valveVolumes adds line, body, chamber and dump line of a valve.
func (b *builder) valveVolumes(p *Plant, q Part) error {
	v := q.Spec.(*PilotedValve)
	e := &ends{spec: v, line: b.lineTo(p, q.Name), dump: -1}
	line := e.line.Spec.(*Line)
	f, err := b.before(p, line.From)
	if err != nil {
		return err
	}
	place, air, _ := p.Around(v.Outlet)
	if motion(line) != nil && line.BlockValve.Opening == 0 {
		// Isolated, it has been emptied.
		if f, err = b.empty(place, air); err != nil {
			return err
		}
	}
	if r := line.Run; r != nil {
		cells := int(r.Cells)
		for i := range cells {
			b.volume(cell(e.line.Name, i), math.Pi/4*r.Bore*r.Bore*r.Length/float64(cells), f)
		}
	}
	e.body = b.volume(q.Name+".body", line.Volume, f)
	in := f
	if c := v.Chamber.Condensate; c != nil {
		if in, err = b.wet(f, c.Share); err != nil {
			return fmt.Errorf("%s.chamber.condensate: %w", q.Name, err)
		}
	}
	e.chamber = b.volume(q.Name+".chamber", v.Chamber.Volume, in)
	e.maps.BodyWall = b.wall(q.Name+".body-wall", v.Wall, q.Name+".body", 0, air.Temperature, f.t)
	e.maps.ChamberWall = b.wall(q.Name+".chamber-wall", v.Chamber.Wall, q.Name+".chamber", e.maps.BodyWall+1, air.Temperature, f.t)
	e.maps.DumpWall = -1
	if v.Dump != nil {
		f, err := b.outside(place, air)
		if err != nil {
			return err
		}
		e.dump = b.volume(q.Name+".dump-line", v.Dump.Volume, f)
		e.maps.DumpWall = b.wall(q.Name+".dump-line-wall", v.Dump.Wall, q.Name+".dump-line", 0, air.Temperature, air.Temperature)
	}
	b.valves[q.Name] = e
	return nil
}

// before is what fills a valve at the start: what its vessel lets out.
func (b *builder) before(p *Plant, vessel string) (filling, error) {
	if d, ok := Spec[Drum](p, vessel); ok {
		v, u, err := b.m.outlet(d)
		if err != nil {
			return filling{}, fmt.Errorf("%s: %w", vessel, err)
		}
		return filling{v: v, u: u, t: b.temperature(v, u)}, nil
	}
	s, _ := Spec[Vessel](p, vessel)
	return b.at(vessel, s.Pressure, s.Temperature)
}

// at is a filling of one phase at a pressure and temperature.
func (b *builder) at(name string, p, t float64) (filling, error) {
	v, u, err := b.m.start(p, t)
	if err != nil {
		return filling{}, fmt.Errorf("%s: %w", name, err)
	}
	return filling{v: v, u: u, t: t}, nil
}

// outside is what fills a place open to the surroundings.
func (b *builder) outside(name string, s *Surroundings) (filling, error) {
	f, err := b.at(name, s.Pressure, s.Temperature)
	f.open = b.m.Water != nil
	return f, err
}

// blockValve adds a block valve that travels, at the inlet of its line.
func (b *builder) blockValve(line Part, vessel, to network.Node) {
	n, v := b.m.Net, line.Spec.(*Line).BlockValve
	name := line.Name + ".block-valve"
	n.Actuators = append(n.Actuators, network.Actuator{Name: name, Target: v.Opening, Time: v.Motion.TravelTime,
		Events: network.ActuatorEvents{Moves: "block-valve-moves", Open: "block-valve-open", Shut: "block-valve-shut", Between: "block-valve-stands"}})
	b.actuators[name] = len(n.Actuators) // one more than its index
	n.Flows = append(n.Flows, network.Flow{Name: name, From: vessel, FromDraw: network.Steam, To: to, Law: b.m.law(), Opening: network.Opening{
		Leak: v.Coefficient * v.Motion.LeakArea, Part: -1, Drive: len(n.Actuators), Full: v.Coefficient * v.Area}})
}

func (b *builder) temperature(v, u float64) float64 {
	var s fluid.State
	b.m.At(v, u, &s)
	return s.T
}

func (b *builder) volume(name string, size float64, f filling) network.Node {
	mass := size / f.v
	b.m.Net.Volumes = append(b.m.Net.Volumes, network.Volume{Name: name, Fluid: b.m.Fluid, Size: size, Mass: mass, U: mass * f.u, Open: f.open})
	node := network.Node(len(b.m.Net.Volumes) - 1)
	b.nodes[name] = node
	return node
}

// wall adds a wall beside a volume, if there is one; beyond is one more than
// the wall that it leads to, 0 for the surroundings. It returns its index, -1
// for none.
func (b *builder) wall(name string, w *PipeWall, volume string, beyond int, ambient, start float64) int {
	if w == nil {
		return -1
	}
	k := network.Wall{Name: name, Node: b.nodes[volume], HeatCapacity: w.HeatCapacity, Inside: w.Inside, Outside: w.Outside,
		Beyond: beyond, Ambient: ambient, Start: start}
	if w.Film != nil && b.m.Water != nil {
		k.Wet, k.WetBy = w.Film.Conductance, w.Film.Water
	}
	if w.Driven != nil {
		k.Driven, k.DrivenAt = w.Driven.Conductance, w.Driven.At
	}
	b.m.Net.Walls = append(b.m.Net.Walls, k)
	return len(b.m.Net.Walls) - 1
}

// drive tells a wall which flow drives its film.
func (b *builder) drive(wall, flow int) {
	if wall >= 0 && b.m.Net.Walls[wall].DrivenAt > 0 {
		b.m.Net.Walls[wall].Flow = flow + 1
	}
}

func (b *builder) wallOf(name string) int {
	for i := range b.m.Net.Walls {
		if b.m.Net.Walls[i].Name == name {
			return i
		}
	}
	return -1
}

// motion is how the block valve of a line travels, nil if it has none that does.
func motion(l *Line) *Motion {
	if l.BlockValve == nil {
		return nil
	}
	return l.BlockValve.Motion
}

// empty is what an isolated valve holds: what fills the plant, at the pressure
// around it.
func (b *builder) empty(place string, air *Surroundings) (filling, error) {
	f, err := b.at(place, air.Pressure, air.Temperature)
	if err == nil {
		f.t = b.temperature(f.v, f.u)
	}
	return f, err
}

// wet is a filling of which a share of the volume is water.
func (b *builder) wet(f filling, share float64) (filling, error) {
	if share == 0 {
		return f, nil
	}
	var s fluid.State
	b.m.At(f.v, f.u, &s)
	v, u, err := b.m.drum(&Drum{Pressure: s.P, WaterShare: share})
	return filling{v: v, u: u, t: b.temperature(v, u)}, err
}

func cell(line string, i int) string { return fmt.Sprintf("%s.cell-%d", line, i+1) }

// run adds the channels of a line's length of pipe and returns the node that
// its orifice draws from.
func (b *builder) run(line Part, vessel network.Node) (network.Node, network.Draw) {
	r := line.Spec.(*Line).Run
	if r == nil {
		return vessel, network.Steam
	}
	n := b.m.Net
	cells := int(r.Cells)
	area, dx := math.Pi/4*r.Bore*r.Bore, r.Length/float64(cells)
	damping := 0.0
	if f, err := b.before(b.m.Plant, line.Spec.(*Line).From); err == nil { // contents would have said so
		// Of what fills it in service, also while it is isolated.
		damping = lineDamping(&b.m.Medium, r, f.v, f.u)
	}
	from := vessel
	for i := range cells {
		to := b.nodes[cell(line.Name, i)]
		if i == 0 && motion(line.Spec.(*Line)) != nil {
			// The block valve stands between the vessel and the first cell.
			b.blockValve(line, vessel, to)
			from = to
			continue
		}
		c := network.Channel{Name: fmt.Sprintf("%s.joint-%d", line.Name, i+1), From: from, To: to, Length: dx, Area: area, Diameter: r.Bore, Friction: r.Friction, Damping: damping}
		if i == 0 {
			// From the vessel to the middle of the first cell.
			c.FromDraw, c.Length, c.Upwind = network.Steam, dx/2, true
			c.Entrance, c.Exit = 0.5, 1 // a sharp edge; White, Fluid Mechanics, section 6.9
		}
		n.Channels = append(n.Channels, c)
		from = to
	}
	return from, network.All
}
