package network

import (
	"fmt"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
	"underdisc/sim"
)

// Network is a compiled plant. It implements sim.System.
type Network struct {
	Volumes    []Volume
	Reservoirs []Reservoir
	Flows      []Flow
	Feeds      []Feed
	Movers     []Mover
	Coils      []Coil
	Sensors    []Sensor
	Switches   []Switch
	Relays     []Relay
	Walls      []Wall
	Channels   []Channel
	Actuators  []Actuator
	Watchers   []Watcher
	Regulators []Regulator
	Fuses      []Fuse
	Wears      []Wear

	lay   sim.Layout
	units []string // of each variable
	nodes []node
	at    evaluated
	edges []edge
	parts []part

	coilVar, sensorVar, wallVar []int
	coilJac, sensorJac, wallJac [][]int32
	feedQ, wallQ                []int
	channels                    []channel
	switchMode, relayMode       int // first mode slot

	fuseVar, copperVar        []int // copperVar -1: not followed
	fuseJac, copperJac        [][]int32
	fuseMode, actMode         int
	fuseGuard, actGuard       int
	actVar, watchVar, regVar  []int // of a watcher and a regulator the first
	watchJac, regJac, feedJac [][]int32
	fed                       []bool // scratch
	tookOver                  bool   // fed is of the description before
	worn                      []worn
	faceGuard                 int
}

// node is the compiled form of a volume or reservoir with its scratch.
type node struct {
	fixed  bool
	m, u   int // variables
	size   float64
	fluid  fluid.Fluid
	gas    *fluid.Gas // the fluid, if it is a perfect gas
	tu     float64    // its dT/du
	water  *water.Water
	air    int        // variable of the air in it, -1
	pure   bool       // a reservoir without air
	drawn  [3]*source // by Draw; the first is what is in it
	faces  []nodeFace
	work   []int // quadrature of the work p dV of each face
	st     fluid.State
	vol    float64
	mass   float64
	cols   []int // m, u, then x of each face
	dp, dT []float64
	dh     []float64
	dv, du []float64 // of specific volume and energy by cols
}

type nodeFace struct {
	part        int
	alpha, beta float64
	area, slope float64
	jac         []int32 // see part.jacobian
}

// edge is the compiled form of a flow with its scratch.
type edge struct {
	from, to *node
	out, in  *source // what is drawn from either
	law      flow.Law
	opening  *Opening
	part     int     // that opens it, -1
	head     float64 // of a fall, J/kg
	act      int     // actuator that opens it, -1
	actAt    int     // its column
	qm, qh   int     // quadratures
	w, h     float64
	area     float64
	cols     []int
	fromAt   []int // where the columns of from and to lie in cols
	toAt     []int
	partAt   int
	plain    int // columns that mass and energy depend on; those of air follow
	fromAir  int // its column, -1
	toAir    int
	seat     *seat // where curtain and bore are found by continuity
	past     *past
	dw, dh   []float64
	da       []float64
	rows     []edgeRow
	jac      []int32 // rows x cols
}

type edgeRow struct {
	sign float64
	kind int8
}

// part is the compiled form of a mover with its scratch.
type part struct {
	x, v                                            int
	mode                                            int
	guard                                           int // first of four
	pos, vel                                        float64
	phi, dphi                                       float64
	bigPhi                                          float64
	coil                                            int // -1
	load, from                                      *node
	faces                                           []partFace
	qDamp, qFriction, qPull, qLoad, qImpact, qFault int
	seat                                            *seat
	qFace                                           int
	past                                            *past
	faced                                           faces
	// Jacobian slots
	jXV, jVX, jVV, jVI     int32
	jLoad                  []int32 // row v: cols of load node, then from node
	jDampV, jFrictionV     int32
	jPullV, jPullX, jPullI int32
	jFace                  []int32 // rows v, energy downstream, quadrature: the flow's columns, then v
	jQLoad                 []int32
	jQLoadX, jQLoadV       int32
}

type partFace struct{ node, at int }

// Guards of a mover, from its first.
const (
	guardRelease = iota
	guardLow
	guardHigh
	guardTurn
	guardsPerMover
)

// Layout implements sim.System.
func (n *Network) Layout() *sim.Layout { return &n.lay }

// Units are those of the variables, in the order of the layout.
func (n *Network) Units() []string { return n.units }

// NodeCount is the number of volumes and reservoirs; nodes are numbered
// volumes first.
func (n *Network) node(i Node) *node { return &n.nodes[i] }

// ReservoirNode turns the index of a reservoir into a node.
func (n *Network) ReservoirNode(i int) Node { return Node(len(n.Volumes) + i) }

// Compile fixes the layout of state, ledger and Jacobian. Call it once, after
// all parts have been added.
func (n *Network) Compile() error {
	l := &n.lay
	variable := func(name, unit string, scale float64) int {
		l.Vars = append(l.Vars, name)
		n.units = append(n.units, unit)
		l.Scales = append(l.Scales, scale)
		return len(l.Vars) - 1
	}
	quad := func(name string) int {
		l.Ledger = append(l.Ledger, name)
		return len(l.Ledger) - 1
	}
	mode := func(name string) int {
		l.Modes = append(l.Modes, name)
		return len(l.Modes) - 1
	}

	// Variables and modes.
	n.nodes = make([]node, len(n.Volumes)+len(n.Reservoirs))
	for i := range n.Volumes {
		v := &n.Volumes[i]
		if !(v.Mass > 0 && v.U > 0 && v.Size > 0) {
			return fmt.Errorf("network: volume %s must start with size, mass and energy above zero", v.Name)
		}
		nd := &n.nodes[i]
		nd.fluid, nd.size = v.Fluid, v.Size
		if g, ok := v.Fluid.(*fluid.Gas); ok {
			nd.gas, nd.tu = g, (g.Gamma-1)/g.R
		}
		nd.m = variable(v.Name+".mass", "kg", v.Mass)
		nd.u = variable(v.Name+".energy", "J", v.U)
		nd.cols = []int{nd.m, nd.u}
		nd.air = -1
		if v.Open {
			nd.air = variable(v.Name+".air", "kg", v.Mass)
		}
		nd.water, _ = v.Fluid.(*water.Water)
	}
	for i := range n.Reservoirs {
		r := &n.Reservoirs[i]
		nd := &n.nodes[len(n.Volumes)+i]
		nd.fixed, nd.pure, nd.m, nd.u, nd.air = true, r.Pure, -1, -1, -1
		r.Fluid.At(r.V, r.U, &nd.st)
	}
	n.parts = make([]part, len(n.Movers))
	for i := range n.Movers {
		m := &n.Movers[i]
		p := &n.parts[i]
		reach := m.Reach
		if reach == 0 {
			reach = m.Travel
		}
		p.x = variable(m.Name+".position", "m", reach)
		p.v = variable(m.Name+".speed", "m/s", 1)
		p.mode = mode(m.Name)
		p.coil = -1
		if m.Seat != nil {
			p.faced.debris = variable(m.Name+".debris", "m", reach)
			p.faced.nut = variable(m.Name+".nut", "m", reach)
			p.faced.mode, p.faced.lies = mode(m.Name+".faces"), mode(m.Name+".debris")
			p.faced.above = mode(m.Name + ".above-gag")
		}
		p.guard = len(l.Guards)
		l.Guards = append(l.Guards, m.Name+" held", m.Name+" at its low stop", m.Name+" at its high stop", m.Name+" turning")
		if m.SeatLoad > 0 {
			p.load, p.from = n.node(m.LoadFrom), n.node(m.LoadTo)
		}
		for _, f := range m.Faces {
			nd := n.node(f.Node)
			if nd.fixed {
				return fmt.Errorf("network: %s has a face on a reservoir", m.Name)
			}
			nd.faces = append(nd.faces, nodeFace{part: i, alpha: f.Alpha, beta: f.Beta})
			nd.cols = append(nd.cols, p.x)
			p.faces = append(p.faces, partFace{int(f.Node), len(nd.faces) - 1})
		}
	}
	for i := range n.Coils {
		c := &n.Coils[i]
		n.coilVar = append(n.coilVar, variable(c.Name+".current", "A", max(c.Supply/c.Resistance, 1e-3)))
		n.parts[c.Mover].coil = i
	}
	for i := range n.Sensors {
		s := &n.Sensors[i]
		n.sensorVar = append(n.sensorVar, variable(s.Name+".reading", "Pa", 1e5))
	}
	for i := range n.Walls {
		n.wallVar = append(n.wallVar, variable(n.Walls[i].Name+".temperature", "K", n.Walls[i].Start))
	}
	n.channels = make([]channel, len(n.Channels))
	for i := range n.Channels {
		c := &n.Channels[i]
		n.channels[i].w = variable(c.Name+".flow", "kg/s", n.channelScale(c))
	}
	n.worn = make([]worn, len(n.Wears))
	for i := range n.Wears {
		n.worn[i].w = variable(n.Wears[i].Name, "", 1)
	}
	n.control(variable, mode)
	n.switchMode = len(l.Modes)
	for i := range n.Switches {
		mode(n.Switches[i].Name)
		l.Guards = append(l.Guards, n.Switches[i].Name)
	}
	n.guardControl()
	n.faceGuard = len(l.Guards)
	for i := range n.Movers {
		m, p := &n.Movers[i], &n.parts[i]
		if m.Seat == nil {
			continue
		}
		p.faced.guard = len(l.Guards)
		l.Guards = append(l.Guards, m.Name+" faces", m.Name+" lift", m.Name+" off", m.Name+" gag")
		p.faced.lever, p.faced.leverFull = m.Lever-1, m.LeverForce
	}
	n.relayMode = len(l.Modes)
	for i := range n.Relays {
		mode(n.Relays[i].Name)
		l.Timers = append(l.Timers, n.Relays[i].Name)
	}

	// The ledger.
	for i := range n.Feeds {
		n.feedQ = append(n.feedQ, quad(n.Feeds[i].Name+".mass"))
		quad(n.Feeds[i].Name + ".energy")
	}
	n.edges = make([]edge, len(n.Flows))
	for i := range n.Flows {
		n.edges[i].qm = quad(n.Flows[i].Name + ".mass")
		n.edges[i].qh = quad(n.Flows[i].Name + ".energy")
	}
	for i := range n.Channels {
		n.channels[i].qm = quad(n.Channels[i].Name + ".mass")
		n.channels[i].qh = quad(n.Channels[i].Name + ".energy")
		n.channels[i].qe = n.channels[i].qh
		if n.Channels[i].Kinetic {
			n.channels[i].qe = quad(n.Channels[i].Name + ".energy-in")
		}
	}
	for i := range n.Volumes {
		nd := &n.nodes[i]
		for _, f := range nd.faces {
			nd.work = append(nd.work, quad(n.Volumes[i].Name+" on "+n.Movers[f.part].Name))
		}
	}
	for i := range n.Movers {
		p, name := &n.parts[i], n.Movers[i].Name
		p.qDamp, p.qFriction = quad(name+".damping"), quad(name+".friction")
		p.qPull, p.qLoad = quad(name+".pull"), quad(name+".seat-load")
		p.qImpact, p.qFault = quad(name+".impact"), quad(name+".fault")
		if n.Movers[i].FaceFlow > 0 || n.Movers[i].PastFlow > 0 {
			p.qFace = quad(name + ".face")
		}
	}
	for i := range n.Walls {
		n.wallQ = append(n.wallQ, quad(n.Walls[i].Name+".heat-in"))
		quad(n.Walls[i].Name + ".heat-out")
		quad(n.Walls[i].Name + ".fault")
	}

	return n.compileJacobian()
}

// Start is the state at the beginning: everything shut and at rest, relays off,
// switches open, sensors at their node's pressure.
func (n *Network) Start() sim.State {
	s := n.lay.NewState(0)
	for i := range n.Volumes {
		s.Y[n.nodes[i].m], s.Y[n.nodes[i].u] = n.Volumes[i].Mass, n.Volumes[i].U
		if k := n.nodes[i].air; k >= 0 {
			s.Y[k] = n.Volumes[i].Mass
		}
	}
	for i := range n.Walls {
		s.Y[n.wallVar[i]] = n.Walls[i].Start
	}
	n.evaluate(s.Y)
	for i := range n.Sensors {
		s.Y[n.sensorVar[i]] = n.node(n.Sensors[i].Node).st.P + n.Sensors[i].Offset
	}
	n.startControl(&s)
	n.startFaces(&s)
	return s
}
