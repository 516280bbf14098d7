package network

import (
	"math"

	"underdisc/model/flow"
)

// slopes fills the derivatives of every node's state by its mass, its energy
// and the positions of its faces.
func (n *Network) slopes() {
	for i := range n.Volumes {
		nd := &n.nodes[i]
		st := &nd.st
		im := 1 / nd.mass
		nd.dv[0], nd.du[0] = -st.V*im, -st.U*im
		nd.dv[1], nd.du[1] = 0, im
		for k := range nd.faces {
			nd.dv[2+k], nd.du[2+k] = nd.faces[k].area*im, 0
		}
		for c := range nd.cols {
			dv, du := nd.dv[c], nd.du[c]
			nd.dp[c] = st.Pv*dv + st.Pu*du
			nd.dT[c] = st.Tv*dv + st.Tu*du
			nd.dh[c] = st.Hv*dv + st.Hu*du
		}
		nd.drawSlopes()
	}
}

// Jacobian implements sim.System, flow by flow and part by part.
func (n *Network) Jacobian(t float64, y []float64, modes []int8, j []float64) {
	n.evaluateFully(y)
	n.slopes()
	clear(j)
	var fx flow.Flux
	for i := range n.edges {
		e := &n.edges[i]
		da := 0.0
		if e.part >= 0 {
			x := n.parts[e.part].pos
			if x >= 0 {
				e.area, da = e.opening.at(x), e.opening.slope(x)
			} else {
				e.area = e.opening.Leak
			}
		}
		moves := e.part >= 0 && travelling(modes[n.parts[e.part].mode])
		if e.act >= 0 {
			e.area = e.opening.driven(y[n.actVar[e.act]])
			moves = modes[n.actMode+e.act] != ActuatorStill
		}
		e.w = 0
		clear(e.dw)
		if e.area == 0 && !moves {
			continue
		}
		if e.head > 0 {
			e.fallSlopes()
			e.enter(j)
			continue
		}
		up, down, upAt, downAt, sign := e.out, e.to, e.fromAt, e.toAt, 1.0
		if e.from.st.P < e.to.st.P {
			up, down, upAt, downAt, sign = e.in, e.from, e.toAt, e.fromAt, -1.0
		}
		var w float64
		if e.past != nil {
			w = e.past.slopes(e, n.parts[e.part].pos)
		} else if e.seat != nil && sign > 0 {
			w = e.seat.slopes(e, n.parts[e.part].pos)
		} else {
			e.law.FluxSlopes(up.st, down.st.P, &fx)
			a := sign * e.area
			for c, at := range upAt {
				e.dw[at] += a * (fx.Gv*up.dv[c] + fx.Gu*up.du[c])
			}
			for c, at := range downAt {
				e.dw[at] += a * fx.Gp * down.dp[c]
			}
			if e.partAt >= 0 {
				e.dw[e.partAt] += sign * da * fx.G
			}
			if e.actAt >= 0 {
				e.dw[e.actAt] += sign * e.opening.Full * fx.G
			}
			w = a * fx.G
		}
		e.w = w
		h := up.st.H
		for c, d := range e.dw {
			e.dh[c] = h * d
		}
		for c, at := range upAt {
			e.dh[at] += w * up.dh[c]
		}
		if e.fromAir >= 0 || e.toAir >= 0 {
			e.airSlopes(y, w)
		}
		e.enter(j)
	}
	for i := range n.channels {
		n.channelJacobian(i, y, j)
	}
	for i := range n.parts {
		if travelling(modes[n.parts[i].mode]) {
			n.partJacobian(i, y, modes, j)
		}
	}
	for i := range n.Coils {
		n.coilJacobian(i, y, modes, j)
	}
	for i := range n.Sensors {
		js := n.sensorJac[i]
		_, k := n.Sensors[i].rate(n.node(n.Sensors[i].Node).st.P, y[n.sensorVar[i]])
		j[js[0]] -= k
		for c, d := range n.node(n.Sensors[i].Node).dp {
			j[js[1+c]] += k * d
		}
	}
	n.wallJacobian(y, j)
	n.wearJacobian(y, modes, j)
	n.controlJacobian(y, modes, j)
}

// enter adds the slopes of the flow to every row that it is in.
func (e *edge) enter(j []float64) {
	k := 0
	for r := range e.rows {
		src := e.dw[:e.plain]
		switch e.rows[r].kind {
		case rowEnergy:
			src = e.dh[:e.plain]
		case rowAir:
			src = e.da
		}
		s := e.rows[r].sign
		for _, d := range src {
			j[e.jac[k]] += s * d
			k++
		}
	}
}

func (n *Network) partJacobian(i int, y []float64, modes []int8, j []float64) {
	p, m := &n.parts[i], &n.Movers[i]
	v, im := p.vel, 1/m.Mass
	j[p.jXV] += 1
	j[p.jVX] -= m.Rate * im
	df := 0.0 // dfriction/dv
	fr := m.friction(modes[p.mode], v)
	if modes[p.mode] == Free && m.Slide > 0 {
		c := math.Cosh(v / m.Speed)
		df = m.Slide / (m.Speed * c * c)
	}
	j[p.jVV] -= (m.Damping + df) * im
	j[p.jDampV] += 2 * m.Damping * v
	j[p.jFrictionV] += fr + df*v
	for _, pf := range p.faces {
		nd := &n.nodes[pf.node]
		f := &nd.faces[pf.at]
		k := len(nd.cols)
		ju, jq := f.jac[k:], f.jac[2*k+1:]
		for c, d := range nd.dp {
			a := f.area * d
			j[f.jac[c]] += a * im
			j[ju[c]] -= a * v
			j[jq[c]] += a * v
		}
		// The area itself changes with this part's position.
		x := 2 + pf.at
		a := nd.st.P * f.slope
		j[f.jac[x]] += a * im
		j[ju[x]] -= a * v
		j[jq[x]] += a * v
		a = nd.st.P * f.area
		j[ju[k]] -= a
		j[jq[k]] += a
	}
	if p.seat != nil {
		p.seat.jacobian(p, v, im, j)
	}
	if p.past != nil {
		p.past.jacobian(p, v, im, j)
	}
	if m.Seat != nil {
		n.facesJacobian(i, y, j)
	}
	if p.load != nil {
		fade := 1 - p.pos/m.Travel
		a := m.SeatLoad * fade
		k := 0
		for _, side := range []struct {
			nd   *node
			sign float64
		}{{p.load, 1}, {p.from, -1}} {
			for c := range side.nd.cols {
				d := side.sign * a * side.nd.dp[c]
				j[p.jLoad[k]] -= d * im
				j[p.jQLoad[k]] += d * v
				k++
			}
		}
		dp := m.SeatLoad * (p.load.st.P - p.from.st.P)
		j[p.jVX] += dp / m.Travel * im
		j[p.jQLoadX] -= dp / m.Travel * v
		j[p.jQLoadV] += dp * fade
	}
	if p.coil >= 0 {
		c := &n.Coils[p.coil]
		cur := y[n.coilVar[p.coil]]
		g := 1 + (m.Travel-p.pos)/c.Gap
		pull := c.PullFactor * cur * cur / (g * g)
		dx := 2 * pull / (g * c.Gap)
		di := 2 * c.PullFactor * cur / (g * g)
		j[p.jVX] += dx * im
		j[p.jVI] += di * im
		j[p.jPullV] += pull
		j[p.jPullX] += dx * v
		j[p.jPullI] += di * v
	}
}
