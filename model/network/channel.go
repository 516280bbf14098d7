package network

import (
	"math"

	"underdisc/model/fluid"
)

// Channel is a stretch of pipe between two nodes in which the fluid has
// inertia. Its mass flow W is a state:
//
//	(Length/Area) dW/dt = p_from - p_to - (Length/Area) W sqrt((K v W/(2 Area Length))^2 + Damping^2)
//	K = Friction Length/Diameter + Entrance, or, flowing back, + Exit
//
// with v the mean specific volume of both ends. Without Damping that is the loss
// by Darcy and Weisbach and by the velocity heads that a pipe's ends cost, K v W|W|/
// (2 Area^2) (any text, e.g. White, Fluid Mechanics, chapter 6). Damping is what a
// small flow that swings loses at the wall besides; where turbulent friction takes
// more, it has swept that layer away, so a steady flow does not feel it. A mode of a
// pipe decays at half of Damping.
//
// A pipe is a row of volumes with channels between their middles: pressures and
// flows are staggered, and waves travel at the fluid's own speed of sound. Kinetic
// energy is left out of the volumes' balances, whose pressures so stand for
// stagnation pressures: right for Mach numbers well below one. What it carries is
// in channelEnds.
type Channel struct {
	Name                   string
	From, To               Node
	FromDraw, ToDraw       Draw
	Length, Area, Diameter float64
	Friction               float64 // Darcy's factor
	Entrance, Exit         float64 // velocity heads lost by a flow that enters or leaves the pipe at From
	Damping                float64 // of a small flow that swings, 1/s
	Upwind                 bool
	Kinetic                bool // counts its kinetic energy, see carried
}

// channel is its compiled form.
type channel struct {
	w        int // variable
	qm, qh   int
	qe       int // of what enters To, where that is not qh
	from, to *node
	out, in  *source
	jac      []int32 // rows: flow, energies, ledger
	jw       []int32 // rows that depend on W alone
}

// channelEnds is the enthalpy that a channel carries, and the mean specific
// volume of its ends. What it carries is
//
//	h = h_up + v_up (p_down - p_up)/2
//
// or, with Upwind, h_up alone: dh = T ds + v dp, of which the entropy comes from
// where the flow comes from, and the share of the pressure lies in the middle.
// With the mean of both enthalpies a cold cell would give more than it has, which
// the second law forbids; with the upstream one alone waves would be smeared.
func (n *Network) channelEnds(i int, w float64) (h, v float64) {
	c := &n.channels[i]
	up, down := c.out.st, c.in.st
	if w < 0 {
		up, down = down, up
	}
	h, v = up.H, 0.5*(up.V+down.V)
	if !n.Channels[i].Upwind {
		h += 0.5 * up.V * (down.P - up.P)
	}
	return h, v
}

// resistance is K/(2 Area Length), 1/m3, for a flow in the direction of w.
func (d *Channel) resistance(w float64) float64 {
	heads := d.Friction * d.Length / d.Diameter
	if w >= 0 {
		heads += d.Entrance
	} else {
		heads += d.Exit
	}
	return heads / (2 * d.Area * d.Length)
}

// drag is by what rate a flow slows down, kg/s2, with its slopes by w and v.
func (d *Channel) drag(w, v float64) (rate, byW, byV float64) {
	k := d.resistance(w)
	b := k * v * w
	root := math.Sqrt(b*b + d.Damping*d.Damping)
	if root == 0 {
		return 0, 0, 0
	}
	return w * root, root + b*b/root, w * w * b * k / root
}

// channelScale is the flow, kg/s, that a channel's is measured by in the control
// of errors. A wave carries its flow and its pressure together,
//
//	p' = w W'/Area
//
// with w the speed of sound (any text on acoustics: the impedance of a plane
// wave is rho w), so an error of W is as grave as the error of pressure that it
// becomes a quarter of a period later. Held to the same share of it as a
// pressure is of p, W is measured by Area p/w, as at its ends at the start; of the
// two, the smaller.
func (n *Network) channelScale(c *Channel) float64 {
	scale := math.Inf(1)
	for _, end := range []Node{c.From, c.To} {
		var st fluid.State
		if k := int(end) - len(n.Volumes); k >= 0 {
			r := &n.Reservoirs[k]
			r.Fluid.At(r.V, r.U, &st)
		} else {
			v := &n.Volumes[end]
			v.Fluid.At(v.Size/v.Mass, v.U/v.Mass, &st)
		}
		if s := c.Area * st.P / soundSpeed(&st); s < scale {
			scale = s
		}
	}
	return scale
}

// soundSpeed is that of a state, from w^2 = v^2 (p dp/du - dp/dv), the slope of
// p by density along an isentrope.
func soundSpeed(s *fluid.State) float64 {
	return s.V * math.Sqrt(s.P*s.Pu-s.Pv)
}

func (n *Network) channelRates(i int, y, dy, dq []float64) {
	c, d := &n.channels[i], &n.Channels[i]
	if d.Kinetic {
		n.kineticRates(i, y, dy, dq)
		return
	}
	w := y[c.w]
	h, v := n.channelEnds(i, w)
	drag, _, _ := d.drag(w, v)
	dy[c.w] = d.Area/d.Length*(c.from.st.P-c.to.st.P) - drag
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
	if d.Kinetic {
		n.compileKinetic(i, s, nv)
		return
	}
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
	if d.Kinetic {
		n.kineticJacobian(i, y, j)
		return
	}
	w := y[c.w]
	h, v := n.channelEnds(i, w)
	a := d.Area / d.Length
	_, byW, byV := d.drag(w, v)
	j[c.jw[0]] -= byW
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
	each := func(f func(nd *node, src, other *source, sign float64)) {
		f(c.from, c.out, c.in, 1)
		f(c.to, c.in, c.out, -1)
	}
	each(func(nd *node, src, _ *source, sign float64) {
		for col := range nd.cols {
			j[c.jac[q]] += a*sign*nd.dp[col] - byV*0.5*src.dv[col]
			q++
		}
	})
	energy := func(sign float64) {
		each(func(nd *node, src, other *source, side float64) {
			upstream := (w >= 0) == (side > 0)
			for col := range nd.cols {
				dh := 0.0
				if upstream {
					dh = src.dh[col]
				}
				switch {
				case d.Upwind:
				case upstream:
					dh += 0.5 * (src.dv[col]*(other.st.P-src.st.P) - src.st.V*nd.dp[col])
				default:
					dh = 0.5 * other.st.V * nd.dp[col]
				}
				j[c.jac[q]] += sign * w * dh
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
