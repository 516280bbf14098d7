package network

import "math"

// channelScale is the mass flux, kg/(s m2), that a channel's flow is measured
// by in the control of errors.
const channelScale = 1000

// Channel is a stretch of pipe between two nodes in which the fluid has
// inertia. Its mass flow W is a state:
//
//	(Length/Area) dW/dt = p_from - p_to - Friction Length/(2 Diameter Area^2) v W|W|
//
// with v the mean specific volume of both ends (Darcy and Weisbach; any text,
// e.g. White, Fluid Mechanics, chapter 6). A pipe is a row of volumes with
// channels between their middles: pressures and flows are staggered, and waves
// travel at the fluid's own speed of sound. Kinetic energy is left out of the
// volumes' balances, whose pressures so stand for stagnation pressures: right
// for Mach numbers well below one. The enthalpy it carries is the mean of both
// ends, so that no wave is smeared; with Upwind, at the ends of a pipe, that of
// the end it comes from.
type Channel struct {
	Name                   string
	From, To               Node
	FromDraw, ToDraw       Draw
	Length, Area, Diameter float64
	Friction               float64 // Darcy's factor
	Upwind                 bool
}

// channel is its compiled form.
type channel struct {
	w        int // variable
	qm, qh   int
	from, to *node
	out, in  *source
	jac      []int32 // rows: flow, energies, ledger
	jw       []int32 // rows that depend on W alone
}

// ends are the means that a channel carries.
func (n *Network) channelEnds(i int, w float64) (h, v float64) {
	c := &n.channels[i]
	v = 0.5 * (c.out.st.V + c.in.st.V)
	switch {
	case !n.Channels[i].Upwind:
		h = 0.5 * (c.out.st.H + c.in.st.H)
	case w >= 0:
		h = c.out.st.H
	default:
		h = c.in.st.H
	}
	return h, v
}

func (d *Channel) resistance() float64 {
	return d.Friction * d.Length / (2 * d.Diameter * d.Area * d.Area)
}

func (n *Network) channelRates(i int, y, dy, dq []float64) {
	c, d := &n.channels[i], &n.Channels[i]
	w := y[c.w]
	h, v := n.channelEnds(i, w)
	dy[c.w] = d.Area / d.Length * (c.from.st.P - c.to.st.P - d.resistance()*v*w*math.Abs(w))
	if !c.from.fixed {
		dy[c.from.m] -= w
		dy[c.from.u] -= w * h
	}
	if !c.to.fixed {
		dy[c.to.m] += w
		dy[c.to.u] += w * h
	}
	if len(dq) > 0 {
		dq[c.qm], dq[c.qh] = w, w*h
	}
}

func (n *Network) compileChannel(i int, s *slots, nv int) {
	c, d := &n.channels[i], &n.Channels[i]
	c.from, c.to = n.node(d.From), n.node(d.To)
	c.out, c.in = c.from.source(d.FromDraw), c.to.source(d.ToDraw)
	// Rows over the columns of both ends: the flow, then every energy.
	rows := []int{c.w, nv + c.qh}
	c.jw = []int32{s.at(c.w, c.w), s.at(nv+c.qh, c.w), s.at(nv+c.qm, c.w)}
	for _, nd := range []*node{c.from, c.to} {
		if !nd.fixed {
			rows = append(rows, nd.u)
			c.jw = append(c.jw, s.at(nd.u, c.w), s.at(nd.m, c.w))
		}
	}
	for _, r := range rows {
		for _, nd := range []*node{c.from, c.to} {
			for _, col := range nd.cols {
				c.jac = append(c.jac, s.at(r, col))
			}
		}
	}
}

func (n *Network) channelJacobian(i int, y, j []float64) {
	c, d := &n.channels[i], &n.Channels[i]
	w := y[c.w]
	h, v := n.channelEnds(i, w)
	a, k := d.Area/d.Length, d.resistance()
	fromShare, toShare := 0.5, 0.5
	if d.Upwind {
		fromShare, toShare = 1, 0
		if w < 0 {
			fromShare, toShare = 0, 1
		}
	}
	j[c.jw[0]] -= 2 * a * k * v * math.Abs(w)
	j[c.jw[1]] += h
	j[c.jw[2]] += 1
	at := 3
	for e, nd := range []*node{c.from, c.to} {
		if nd.fixed {
			continue
		}
		sign := float64(2*e - 1)
		j[c.jw[at]] += sign * h
		j[c.jw[at+1]] += sign
		at += 2
	}
	q := 0
	each := func(f func(nd *node, src *source, sign, share float64)) {
		f(c.from, c.out, 1, fromShare)
		f(c.to, c.in, -1, toShare)
	}
	each(func(nd *node, src *source, sign, _ float64) {
		for col := range nd.cols {
			j[c.jac[q]] += a * (sign*nd.dp[col] - k*0.5*src.dv[col]*w*math.Abs(w))
			q++
		}
	})
	energy := func(sign float64) {
		each(func(nd *node, src *source, _, share float64) {
			for col := range nd.cols {
				j[c.jac[q]] += sign * w * share * src.dh[col]
				q++
			}
		})
	}
	energy(1)
	if !c.from.fixed {
		energy(-1)
	}
	if !c.to.fixed {
		energy(1)
	}
}
