package network

import (
	"math"
	"slices"

	"underdisc/model/flow"
)

// Look is every number of the network at one state, for people and for checks.
type Look struct {
	Nodes    []NodeLook // volumes, then reservoirs
	Flows    []FlowLook
	Movers   []MoverLook
	Coils    []CoilLook
	Sensors  []float64 // readings, Pa
	Walls    []WallLook
	Channels []ChannelLook
	Switches []int8
	Made     []bool // contact of each switch
	Relays   []int8

	Fuses      []FuseLook
	Actuators  []float64 // where each stands, 0..1
	Watchers   []WatcherLook
	Regulators []RegulatorLook
	Feeds      []FeedLook
	Wears      []float64

	rates []float64 // of the variables
	flux  flow.Flux
}

// NodeLook is one volume or reservoir.
type NodeLook struct {
	Name             string
	P, T, Mass, U, V float64
	PRate, TRate     float64 // dp/dt, dT/dt
	// Quality is the share of steam in the mass, 1 in a gas; Liquid the volume
	// of the water in it, m3; Air the share of air in an open pipe's mass.
	Quality, Liquid, Air float64
}

// FlowLook is one flow; positive from From to To.
type FlowLook struct {
	Name     string
	From, To Node
	W, H     float64 // kg/s, W
	Area     float64 // effective, m2
	Choked   bool
}

// MoverLook is one moving part with the forces along its own axis.
type MoverLook struct {
	Name     string
	X, V, A  float64
	Mode     int8
	Faces    []float64 // force of each face, N, in the order of Mover.Faces
	Excess   float64   // of the pressure on the face beyond those, N
	Areas    []float64 // area of each face
	Spring   float64   // towards x = 0, as a positive number
	Weight   float64
	SeatLoad float64 // towards x = 0
	Pull     float64
	Damping  float64 // against v, signed along x
	Friction float64 // signed along x; what holds a part at rest included
	Rest     float64 // sum without damping, friction and contact
	Contact  float64 // force of the stop on the part, signed along x
	Phi      float64

	// Of a part with faces: the force between them, the lever's, both along x;
	// what they lose at an impact, W; what holds them apart; how they stand.
	Push, Lever, Hit float64
	Off, Debris      float64
	Faced            int8
	Past             flow.Past // of a flow that sets the force on it
}

// CoilLook is one coil.
type CoilLook struct {
	Name                  string
	Current, Voltage      float64
	Resistance, Impedance float64 // ohm
	T                     float64 // of the winding, K; 0 where it is not followed
}

// FuseLook is one fuse.
type FuseLook struct {
	State FuseState
	Heat  float64 // it blows at 1
}

// WatcherLook is one watcher: the reading that they act upon, and what they add.
type WatcherLook struct{ Acts, Adds float64 }

// RegulatorLook is one regulator: its output, and what it asks for.
type RegulatorLook struct{ Output, Asked float64 }

// FeedLook is one feed, kg/s and W.
type FeedLook struct{ W, Heat float64 }

// WallLook is one wall.
type WallLook struct {
	Name       string
	T, In, Out float64
}

// ChannelLook is one channel; positive from From to To.
type ChannelLook struct {
	Name string
	W, H float64 // kg/s, W
	// Enters is the energy that reaches To; H leaves From. They differ while the
	// kinetic energy of what is on its way changes, where that is counted.
	Enters float64
}

// Look evaluates everything at (t, y) in the given modes.
func (n *Network) Look(t float64, y []float64, modes []int8) *Look {
	l := &Look{}
	n.LookInto(l, t, y, modes)
	return l
}

// LookInto does as Look, in the room that l has from a look before, at this
// network or another one.
func (n *Network) LookInto(l *Look, t float64, y []float64, modes []int8) {
	l.rates = slices.Grow(l.rates[:0], len(n.lay.Vars))[:len(n.lay.Vars)]
	dy := l.rates
	n.Derivative(t, y, modes, dy, nil)
	n.evaluateFully(y)
	n.slopes()
	l.Nodes, l.Flows, l.Coils, l.Sensors, l.Walls, l.Channels = l.Nodes[:0], l.Flows[:0], l.Coils[:0], l.Sensors[:0], l.Walls[:0], l.Channels[:0]
	l.Switches, l.Relays = l.Switches[:0], l.Relays[:0]
	movers := l.Movers[:cap(l.Movers)] // with the room of their faces
	l.Movers = l.Movers[:0]
	for i := range n.nodes {
		nd := &n.nodes[i]
		k := NodeLook{P: nd.st.P, T: nd.st.T, Quality: nd.st.X}
		if nd.fixed {
			k.Name = n.Reservoirs[i-len(n.Volumes)].Name
		} else {
			k.Name = n.Volumes[i].Name
			k.Mass, k.U, k.V = y[nd.m], y[nd.u], nd.vol
			k.Liquid = nd.liquid()
			if nd.air >= 0 {
				k.Air = nd.airShare(y)
			}
			for c, col := range nd.cols {
				k.PRate += nd.dp[c] * dy[col]
				k.TRate += nd.dT[c] * dy[col]
			}
		}
		l.Nodes = append(l.Nodes, k)
	}
	for i := range n.edges {
		e, f := &n.edges[i], &n.Flows[i]
		k := FlowLook{Name: f.Name, From: f.From, To: f.To, W: e.w, H: e.h, Area: e.area}
		if e.area > 0 {
			fx := &l.flux
			*fx = flow.Flux{}
			if e.from.st.P >= e.to.st.P {
				f.Law.FluxSlopes(e.out.st, e.to.st.P, fx)
			} else {
				f.Law.FluxSlopes(e.in.st, e.from.st.P, fx)
			}
			k.Choked = fx.Choked
		}
		l.Flows = append(l.Flows, k)
	}
	l.flux = flow.Flux{}
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		k := MoverLook{Name: m.Name, X: p.pos, V: p.vel, A: dy[p.v], Mode: modes[p.mode], Phi: p.phi,
			Spring: m.Preload + m.Rate*p.pos, Weight: m.Weight, Damping: -m.Damping * p.vel}
		if i < len(movers) {
			k.Faces, k.Areas = movers[i].Faces[:0], movers[i].Areas[:0]
		}
		for _, pf := range p.faces {
			nd := &n.nodes[pf.node]
			a := nd.faces[pf.at].area
			k.Areas = append(k.Areas, a)
			k.Faces = append(k.Faces, nd.st.P*a)
		}
		if p.seat != nil {
			k.Excess = p.seat.excess(p)
		}
		if p.past != nil {
			k.Past = *p.past.find(p.pos)
		}
		if m.Seat != nil {
			k.Off, _ = n.off(i, y)
			k.Push, _ = m.Seat.push(p.pos - k.Off)
			k.Lever, k.Faced, k.Debris = n.lifts(i, y), modes[p.faced.mode], y[p.faced.debris]
			c, _ := m.Seat.drag(p.pos-k.Off, m.Mass)
			k.Hit = c * p.vel * p.vel
		}
		if p.load != nil {
			k.SeatLoad = m.SeatLoad * (p.load.st.P - p.from.st.P) * (1 - p.pos/m.Travel)
		}
		if p.coil >= 0 {
			k.Pull = n.pull(i, y)
		}
		k.Rest = n.force(i, y)
		switch k.Mode {
		case HeldLow:
			// Friction gives what it can of a force away from the stop; the
			// stop takes a force towards it.
			k.Friction = -math.Max(k.Rest, 0)
			k.Contact = math.Max(-k.Rest, 0)
		case HeldHigh:
			k.Friction = math.Max(-k.Rest, 0)
			k.Contact = -math.Max(k.Rest, 0)
		case Stuck:
			k.Friction = -k.Rest
		default:
			k.Friction = -m.friction(k.Mode, p.vel)
		}
		l.Movers = append(l.Movers, k)
	}
	for i := range n.Coils {
		c := &n.Coils[i]
		k := CoilLook{Name: c.Name, Current: y[n.coilVar[i]], Voltage: n.voltage(i, modes), Resistance: n.resistance(i, y)}
		k.Impedance = k.Resistance
		if c.Omega > 0 {
			l, _ := n.inductance(i)
			k.Impedance = math.Hypot(k.Resistance, c.Omega*l)
		}
		if v := n.copperVar[i]; v >= 0 {
			k.T = y[v]
		}
		l.Coils = append(l.Coils, k)
	}
	for _, v := range n.sensorVar {
		l.Sensors = append(l.Sensors, y[v])
	}
	for i := range n.Walls {
		w := &n.Walls[i]
		l.Walls = append(l.Walls, WallLook{Name: w.Name, T: y[n.wallVar[i]], In: n.film(i, y).q, Out: n.loss(i, y)})
	}
	for i := range n.Channels {
		w := y[n.channels[i].w]
		h, _ := n.channelEnds(i, w)
		k := ChannelLook{Name: n.Channels[i].Name, W: w, H: w * h, Enters: w * h}
		if n.Channels[i].Kinetic {
			e := n.carried(i, w)
			k.H, k.Enters = e.leave, e.enter
		}
		l.Channels = append(l.Channels, k)
	}
	for i := range n.Switches {
		l.Switches = append(l.Switches, modes[n.switchMode+i])
	}
	for i := range n.Relays {
		l.Relays = append(l.Relays, modes[n.relayMode+i])
	}
	n.lookControl(l, y, modes)
}

func (n *Network) lookControl(l *Look, y []float64, modes []int8) {
	l.Made, l.Fuses, l.Actuators = l.Made[:0], l.Fuses[:0], l.Actuators[:0]
	l.Watchers, l.Regulators, l.Feeds, l.Wears = l.Watchers[:0], l.Regulators[:0], l.Feeds[:0], l.Wears[:0]
	for i := range n.worn {
		l.Wears = append(l.Wears, y[n.worn[i].w])
	}
	for i := range n.Switches {
		l.Made = append(l.Made, n.made(i, modes))
	}
	for i, k := range n.fuseVar {
		l.Fuses = append(l.Fuses, FuseLook{FuseState(modes[n.fuseMode+i]), y[k]})
	}
	for _, k := range n.actVar {
		l.Actuators = append(l.Actuators, y[k])
	}
	for i, k := range n.watchVar {
		adds, _ := n.adds(i, y)
		l.Watchers = append(l.Watchers, WatcherLook{y[k+watchLags-1], adds})
	}
	for i, k := range n.regVar {
		_, asked := n.asked(i, y)
		l.Regulators = append(l.Regulators, RegulatorLook{y[k], asked})
	}
	for i := range n.Feeds {
		w, e := n.feed(i, y)
		l.Feeds = append(l.Feeds, FeedLook{w, e - w*n.Feeds[i].Enthalpy})
	}
}
