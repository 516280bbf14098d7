package network

import "math"

// evaluated remembers what the scratch of nodes and flows was last filled at:
// the end of a step is asked for by guards, and again by the next step.
type evaluated struct {
	y     []float64
	flows bool // they have been, too
}

// is tells whether it was at y; if not, y is noted.
func (e *evaluated) is(y []float64) bool {
	if len(e.y) != len(y) {
		e.y = make([]float64, len(y))
		e.y[0] = math.NaN()
	}
	for i, v := range e.y {
		if v != y[i] {
			copy(e.y, y)
			e.flows = false
			return false
		}
	}
	return true
}

// forget makes the next evaluation a new one.
func (e *evaluated) forget() {
	if len(e.y) > 0 {
		e.y[0] = math.NaN()
	}
}

// evaluate fills the scratch of movers and nodes at y: shapes, volumes, and of
// each state what a flow depends on.
func (n *Network) evaluate(y []float64) {
	if n.at.is(y) {
		return
	}
	n.shapes(y)
	for i := range n.Volumes {
		nd := &n.nodes[i]
		m, u := y[nd.m], y[nd.u]
		vol := nd.volume(n.parts)
		nd.mass = m
		if g := nd.gas; g != nil {
			// The perfect gas, written out: this is the innermost loop.
			if !(m > 0 && u > 0 && vol > 0) {
				u = math.NaN()
			}
			e := u / m
			nd.st.P = (g.Gamma - 1) * u / vol
			nd.st.T = nd.tu * e
			nd.st.H = g.Gamma * e
			nd.st.V, nd.st.X = vol/m, 1
			continue
		}
		n.state(nd, m, u, vol)
		nd.draw(false)
	}
}

// evaluateFully also fills the derivatives of every state.
func (n *Network) evaluateFully(y []float64) {
	n.at.forget()
	n.shapes(y)
	for i := range n.Volumes {
		nd := &n.nodes[i]
		nd.mass = y[nd.m]
		n.state(nd, nd.mass, y[nd.u], nd.volume(n.parts))
		nd.draw(true)
	}
}

func (n *Network) state(nd *node, m, u, vol float64) {
	if !(m > 0) {
		vol = math.NaN()
	}
	im := 1 / m
	if nd.water != nil {
		nd.water.At(vol*im, u*im, &nd.st)
		return
	}
	nd.fluid.At(vol*im, u*im, &nd.st)
}

// volume is the node's size where its moving faces stand, and fills their
// areas.
func (nd *node) volume(parts []part) float64 {
	vol := nd.size
	for k := range nd.faces {
		f := &nd.faces[k]
		p := &parts[f.part]
		vol += f.alpha*p.pos + f.beta*p.bigPhi
		f.area = f.alpha + f.beta*p.phi
		f.slope = f.beta * p.dphi
	}
	nd.vol = vol
	return vol
}

func (n *Network) shapes(y []float64) {
	for i := range n.parts {
		if s := n.parts[i].seat; s != nil {
			s.fresh = false
		}
		if s := n.parts[i].past; s != nil {
			s.fresh = false
		}
	}
	for i := range n.parts {
		p := &n.parts[i]
		p.pos, p.vel = y[p.x], y[p.v]
		if d := n.Movers[i].Shape; d > 0 {
			if p.pos == 0 {
				p.phi, p.dphi, p.bigPhi = 0, 0, 0
			} else {
				r := 4 * p.pos / d
				q := 1 / (1 + r*r)
				p.phi = r * r * q
				p.dphi = 8 / d * r * q * q
				p.bigPhi = p.pos - d/4*math.Atan(r)
			}
		}
	}
}

// flowRates fills mass and energy flow of every edge.
func (n *Network) flowRates(y []float64) {
	for i := range n.edges {
		e := &n.edges[i]
		if e.part >= 0 {
			e.area = e.opening.at(math.Max(n.parts[e.part].pos, 0))
		} else if e.act >= 0 {
			e.area = e.opening.driven(y[n.actVar[e.act]])
		}
		if e.area == 0 {
			e.w, e.h = 0, 0
			continue
		}
		if e.past != nil {
			e.past.flow(e, n.parts[e.part].pos)
			continue
		}
		if e.seat != nil {
			e.seat.flow(e, n.parts[e.part].pos)
			continue
		}
		if e.head > 0 {
			f := e.fall()
			e.w, e.h = f.w, f.w*f.h
			continue
		}
		if e.from.st.P >= e.to.st.P {
			up := e.out.st
			e.w = e.area * e.law.Flux(up, e.to.st.P)
			e.h = e.w * up.H
		} else {
			up := e.in.st
			e.w = -e.area * e.law.Flux(up, e.from.st.P)
			e.h = e.w * up.H
		}
	}
}

// force is the sum of all forces on a mover at rest, friction left out.
func (n *Network) force(i int, y []float64) float64 {
	p, m := &n.parts[i], &n.Movers[i]
	f := m.Weight - (m.Preload + m.Rate*p.pos)
	for _, pf := range p.faces {
		nd := &n.nodes[pf.node]
		f += nd.st.P * nd.faces[pf.at].area
	}
	if p.seat != nil {
		f += p.seat.excess(p)
	}
	if p.past != nil {
		f += p.past.find(p.pos).Force
	}
	if m.Seat != nil {
		push, _ := m.Seat.push(n.gap(i, p.pos, y))
		f += push + n.lifts(i, y)
	}
	if p.load != nil {
		f -= m.SeatLoad * (p.load.st.P - p.from.st.P) * (1 - p.pos/m.Travel)
	}
	if p.coil >= 0 {
		f += n.pull(i, y)
	}
	return f
}

// pull is the coil's force on mover i.
func (n *Network) pull(i int, y []float64) float64 {
	p, m := &n.parts[i], &n.Movers[i]
	c := &n.Coils[p.coil]
	cur := y[n.coilVar[p.coil]]
	g := 1 + (m.Travel-p.pos)/c.Gap
	return c.PullFactor * cur * cur / (g * g)
}

// friction is the resisting force in the present mode, along -v.
func (m *Mover) friction(mode int8, v float64) float64 {
	switch mode {
	case Free:
		if m.Slide == 0 {
			return 0
		}
		return m.Slide * math.Tanh(v/m.Speed)
	case Rising:
		return m.Slide
	case Falling:
		return -m.Slide
	}
	return 0
}

func travelling(mode int8) bool { return mode == Free || mode >= Rising }

// Derivative implements sim.System.
func (n *Network) Derivative(t float64, y []float64, modes []int8, dy, dq []float64) {
	n.evaluate(y)
	if !n.at.flows {
		n.flowRates(y)
		n.at.flows = true
	}
	clear(dy)
	ledger := len(dq) > 0
	for i := range n.Feeds {
		f := &n.Feeds[i]
		nd := n.node(f.To)
		w, e := n.feed(i, y)
		dy[nd.m] += w
		dy[nd.u] += e
		if ledger {
			dq[n.feedQ[i]], dq[n.feedQ[i]+1] = w, e
		}
	}
	for i := range n.edges {
		e := &n.edges[i]
		if !e.from.fixed {
			dy[e.from.m] -= e.w
			dy[e.from.u] -= e.h
		}
		if !e.to.fixed {
			dy[e.to.m] += e.w
			dy[e.to.u] += e.h
		}
		if e.from.air >= 0 || e.to.air >= 0 {
			e.carryAir(y, dy)
		}
		if ledger {
			dq[e.qm], dq[e.qh] = e.w, e.h
		}
	}
	for i := range n.channels {
		n.channelRates(i, y, dy, dq)
	}
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		mode := modes[p.mode]
		if !travelling(mode) {
			if ledger {
				for _, pf := range p.faces {
					dq[n.nodes[pf.node].work[pf.at]] = 0
				}
				dq[p.qDamp], dq[p.qFriction], dq[p.qPull], dq[p.qLoad], dq[p.qImpact], dq[p.qFault] = 0, 0, 0, 0, 0, 0
				if p.seat != nil || p.past != nil {
					dq[p.qFace] = 0
				}
			}
			continue
		}
		v := p.vel
		fr := m.friction(mode, v)
		dy[p.x] = v
		net, hit := n.force(i, y), 0.0
		if m.Seat != nil {
			c, _ := m.Seat.drag(n.gap(i, p.pos, y), m.Mass)
			net -= c * v
			hit = c * v * v
		}
		dy[p.v] = (net - m.Damping*v - fr) / m.Mass
		for _, pf := range p.faces {
			nd := &n.nodes[pf.node]
			w := nd.st.P * nd.faces[pf.at].area * v
			dy[nd.u] -= w
			if ledger {
				dq[nd.work[pf.at]] = w
			}
		}
		if p.seat != nil {
			w := p.seat.excess(p) * v
			if !p.seat.edge.to.fixed {
				dy[p.seat.edge.to.u] -= w
			}
			if ledger {
				dq[p.qFace] = w
			}
		}
		if p.past != nil {
			w := p.past.find(p.pos).Force * v
			if !p.past.edge.to.fixed {
				dy[p.past.edge.to.u] -= w
			}
			if ledger {
				dq[p.qFace] = w
			}
		}
		if ledger {
			dq[p.qDamp] = m.Damping * v * v
			dq[p.qFriction] = fr * v
			dq[p.qPull], dq[p.qLoad], dq[p.qImpact], dq[p.qFault] = 0, 0, hit, 0
			if m.Seat != nil {
				dq[p.qPull] = n.lifts(i, y) * v
			}
			if p.coil >= 0 {
				dq[p.qPull] = n.pull(i, y) * v
			}
			if p.load != nil {
				dq[p.qLoad] = m.SeatLoad * (p.load.st.P - p.from.st.P) * (1 - p.pos/m.Travel) * v
			}
		}
	}
	for i := range n.Coils {
		k := n.coilVar[i]
		dy[k] = n.currentRate(i, n.voltage(i, modes), y, modes)
		if c := n.copperVar[i]; c >= 0 {
			dy[c] = n.copperRate(i, y)
		}
	}
	for i := range n.Sensors {
		k := n.sensorVar[i]
		dy[k], _ = n.Sensors[i].rate(n.node(n.Sensors[i].Node).st.P, y[k])
	}
	n.controlRates(y, modes, dy)
	n.wallRates(y, dy, dq)
	n.wearRates(y, modes, dy)
}

// Moving implements sim.System: a held part has neither position nor speed to
// integrate.
func (n *Network) Moving(modes []int8, moving []bool) {
	for i := range moving {
		moving[i] = true
	}
	for i := range n.parts {
		p := &n.parts[i]
		if !travelling(modes[p.mode]) {
			moving[p.x], moving[p.v] = false, false
		}
	}
	for i, k := range n.actVar {
		moving[k] = modes[n.actMode+i] != ActuatorStill
	}
	for i, k := range n.fuseVar {
		moving[k] = FuseState(modes[n.fuseMode+i]) == FuseIn
	}
}
