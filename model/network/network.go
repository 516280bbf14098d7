package network

import (
	"fmt"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
	"underdisc/sim"
	"underdisc/sim/method"
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

// slots hands out the places of Jacobian elements, each (row, column) once.
type slots struct {
	known map[method.Entry]int32
	list  []method.Entry
}

func (s *slots) at(row, col int) int32 {
	e := method.Entry{Row: row, Col: col}
	if k, ok := s.known[e]; ok {
		return k
	}
	k := int32(len(s.list))
	s.known[e] = k
	s.list = append(s.list, e)
	return k
}

func (n *Network) compileJacobian() error {
	s := &slots{known: map[method.Entry]int32{}}
	nv := len(n.lay.Vars)
	for i := range n.nodes {
		nd := &n.nodes[i]
		k := len(nd.cols)
		nd.dp, nd.dT, nd.dh = make([]float64, k), make([]float64, k), make([]float64, k)
		nd.dv, nd.du = make([]float64, k), make([]float64, k)
		nd.drawn[All] = &source{st: &nd.st, dv: nd.dv, du: nd.du, dh: nd.dh}
	}
	for i := range n.edges {
		e, f := &n.edges[i], &n.Flows[i]
		e.from, e.to, e.part, e.partAt = n.node(f.From), n.node(f.To), int(f.Opening.Part), -1
		e.law, e.opening = f.Law, &f.Opening
		e.act, e.actAt, e.head = f.Opening.Drive-1, -1, f.Fall
		e.out, e.in = e.from.source(f.FromDraw), e.to.source(f.ToDraw)
		e.area = f.Opening.Leak // stays, unless a part opens more
		place := map[int]int{}
		col := func(c int) int {
			if k, ok := place[c]; ok {
				return k
			}
			place[c] = len(e.cols)
			e.cols = append(e.cols, c)
			return len(e.cols) - 1
		}
		for _, c := range e.from.cols {
			e.fromAt = append(e.fromAt, col(c))
		}
		for _, c := range e.to.cols {
			e.toAt = append(e.toAt, col(c))
		}
		if e.part >= 0 {
			e.partAt = col(n.parts[e.part].x)
		}
		if e.act >= 0 {
			e.actAt = col(n.actVar[e.act])
		}
		e.plain, e.fromAir, e.toAir = len(e.cols), -1, -1
		if e.from.air >= 0 {
			e.fromAir = col(e.from.air)
		}
		if e.to.air >= 0 {
			e.toAir = col(e.to.air)
		}
		e.dw, e.dh, e.da = make([]float64, len(e.cols)), make([]float64, len(e.cols)), make([]float64, len(e.cols))
		row := func(r int, sign float64, kind int8) {
			e.rows = append(e.rows, edgeRow{sign, kind})
			cols := e.cols
			if kind != rowAir {
				cols = cols[:e.plain]
			}
			for _, c := range cols {
				e.jac = append(e.jac, s.at(r, c))
			}
		}
		if !e.from.fixed {
			row(e.from.m, -1, rowMass)
			row(e.from.u, -1, rowEnergy)
		}
		if !e.to.fixed {
			row(e.to.m, 1, rowMass)
			row(e.to.u, 1, rowEnergy)
		}
		row(nv+e.qm, 1, rowMass)
		row(nv+e.qh, 1, rowEnergy)
		if e.from.air >= 0 {
			row(e.from.air, -1, rowAir)
		}
		if e.to.air >= 0 {
			row(e.to.air, 1, rowAir)
		}
		if f.Past != nil {
			e.past = &past{edge: e, law: f.Past.Remembering(), seat: f.Seat, balanced: f.Balanced, df: make([]float64, len(e.cols))}
		}
		if f.Opening.Continuity {
			e.seat = newSeat(e, f.Void)
		}
	}
	for i := range n.parts {
		p := &n.parts[i]
		p.jXV, p.jVX, p.jVV = s.at(p.x, p.v), s.at(p.v, p.x), s.at(p.v, p.v)
		p.jDampV, p.jFrictionV = s.at(nv+p.qDamp, p.v), s.at(nv+p.qFriction, p.v)
		for _, pf := range p.faces {
			nd := &n.nodes[pf.node]
			fc := &nd.faces[pf.at]
			// Force row, then energy row and work quadrature: each over the
			// node's columns, then v.
			for _, c := range nd.cols {
				fc.jac = append(fc.jac, s.at(p.v, c))
			}
			for _, r := range []int{nd.u, nv + nd.work[pf.at]} {
				for _, c := range nd.cols {
					fc.jac = append(fc.jac, s.at(r, c))
				}
				fc.jac = append(fc.jac, s.at(r, p.v))
			}
		}
		if p.load != nil {
			p.jQLoadX, p.jQLoadV = s.at(nv+p.qLoad, p.x), s.at(nv+p.qLoad, p.v)
			for _, nd := range []*node{p.load, p.from} {
				for _, c := range nd.cols {
					p.jLoad = append(p.jLoad, s.at(p.v, c))
					p.jQLoad = append(p.jQLoad, s.at(nv+p.qLoad, c))
				}
			}
		}
		if k := n.Movers[i].FaceFlow; k > 0 {
			p.seat = n.edges[k-1].seat
			if p.seat == nil {
				return fmt.Errorf("network: the face of %s hangs on the flow %s, whose seat has no continuity", n.Movers[i].Name, n.Flows[k-1].Name)
			}
			p.compileFace(s, nv, p.seat.edge)
		}
		if k := n.Movers[i].PastFlow; k > 0 {
			p.past = n.edges[k-1].past
			p.compileFace(s, nv, p.past.edge)
		}
		if n.Movers[i].Seat != nil {
			n.compileFaces(i, s, nv)
		}
		if p.coil >= 0 {
			i := n.coilVar[p.coil]
			p.jVI = s.at(p.v, i)
			p.jPullV, p.jPullX, p.jPullI = s.at(nv+p.qPull, p.v), s.at(nv+p.qPull, p.x), s.at(nv+p.qPull, i)
		}
	}
	for i, c := range n.coilVar {
		j := []int32{s.at(c, c)}
		if p := &n.parts[n.Coils[i].Mover]; n.Coils[i].Moves {
			j = append(j, s.at(c, p.x), s.at(c, p.v))
		}
		n.coilJac = append(n.coilJac, j)
	}
	for i, v := range n.sensorVar {
		j := []int32{s.at(v, v)}
		for _, c := range n.node(n.Sensors[i].Node).cols {
			j = append(j, s.at(v, c))
		}
		n.sensorJac = append(n.sensorJac, j)
	}
	for i := range n.Walls {
		n.wallJac = append(n.wallJac, n.compileWall(i, s, nv))
	}
	for i := range n.channels {
		n.compileChannel(i, s, nv)
	}
	n.compileControl(s, nv)
	for i := range n.Wears {
		n.compileWear(i, s)
	}
	n.lay.Entries = s.list
	return nil
}

// Kinds of row that a flow enters.
const (
	rowMass int8 = iota
	rowEnergy
	rowAir
)

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
