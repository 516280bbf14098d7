package network

// carried is what a channel that counts its kinetic energy carries. It holds
//
//	E = (Length/Area) v W^2/2
//
// so while its flow changes, what arrives is less than what leaves the upstream
// node by dE/dt = (Length/Area) v W dW/dt: nothing at a steady flow, which keeps
// its stagnation enthalpy. Without that each cell of a pipe with a mean flow would
// heat and cool by W v dp/dx while a wave passes, which damps a mode about as much
// as a valve at the pipe's end drives or damps it.
type carried struct {
	up, v, gain  float64 // upstream enthalpy; mean volume; dE/dt over W, J/kg
	drag, byW    float64
	byV          float64
	leave, enter float64 // energy flow out of From, into To, W
}

func (n *Network) carried(i int, w float64) (k carried) {
	c, d := &n.channels[i], &n.Channels[i]
	up, down := c.out.st, c.in.st
	if w < 0 {
		up, down = down, up
	}
	k.up, k.v = up.H, 0.5*(up.V+down.V)
	k.drag, k.byW, k.byV = d.drag(w, k.v)
	k.gain = k.v * (c.from.st.P - c.to.st.P - d.Length/d.Area*k.drag)
	k.leave, k.enter = w*k.up, w*k.up
	if w >= 0 {
		k.enter -= w * k.gain
	} else {
		k.leave += w * k.gain
	}
	return k
}

// kineticRates is channelRates with the kinetic energy.
func (n *Network) kineticRates(i int, y, dy, dq []float64) {
	c, d := &n.channels[i], &n.Channels[i]
	w := y[c.w]
	k := n.carried(i, w)
	dy[c.w] = d.Area/d.Length*(c.from.st.P-c.to.st.P) - k.drag
	if !c.from.fixed {
		dy[c.from.m] -= w
		dy[c.from.u] -= k.leave
	}
	if !c.to.fixed {
		dy[c.to.m] += w
		dy[c.to.u] += k.enter
	}
	if len(dq) > 0 {
		dq[c.qm], dq[c.qh], dq[c.qe] = w, k.leave, k.enter
	}
}

func (n *Network) compileKinetic(i int, s *slots, nv int) {
	c := &n.channels[i]
	// Rows: flow, what leaves (ledger, From), what enters (ledger, To); each over
	// the columns of both ends, then W.
	row := func(r int) {
		for _, nd := range []*node{c.from, c.to} {
			for _, col := range nd.cols {
				c.jac = append(c.jac, s.at(r, col))
			}
		}
		c.jac = append(c.jac, s.at(r, c.w))
	}
	row(c.w)
	row(nv + c.qh)
	if !c.from.fixed {
		row(c.from.u)
		c.jw = append(c.jw, s.at(c.from.m, c.w))
	}
	row(nv + c.qe)
	if !c.to.fixed {
		row(c.to.u)
		c.jw = append(c.jw, s.at(c.to.m, c.w))
	}
	c.jw = append(c.jw, s.at(nv+c.qm, c.w))
}

func (n *Network) kineticJacobian(i int, y, j []float64) {
	c, d := &n.channels[i], &n.Channels[i]
	w := y[c.w]
	k := n.carried(i, w)
	inert := d.Length / d.Area
	q := 0
	// by hands f the slopes of: p_from - p_to, v, the upstream enthalpy.
	by := func(f func(dp, dv, dh float64) float64) {
		for side, src := range []*source{c.out, c.in} {
			nd, sign := c.from, 1.0
			if side == 1 {
				nd, sign = c.to, -1
			}
			upstream := (w >= 0) == (side == 0)
			for col := range nd.cols {
				dh := 0.0
				if upstream {
					dh = src.dh[col]
				}
				j[c.jac[q]] += f(sign*nd.dp[col], 0.5*src.dv[col], dh)
				q++
			}
		}
	}
	last := func(slope float64) {
		j[c.jac[q]] += slope
		q++
	}
	by(func(dp, dv, _ float64) float64 { return dp/inert - k.byV*dv })
	last(-k.byW)
	gain := func(dp, dv float64) float64 {
		return k.gain/k.v*dv + k.v*(dp-inert*k.byV*dv)
	}
	gainW := -k.v * inert * k.byW
	leave, enter := 0.0, -1.0 // share of the gain
	if w < 0 {
		leave, enter = 1, 0
	}
	energy := func(sign, share float64) {
		by(func(dp, dv, dh float64) float64 { return sign * w * (dh + share*gain(dp, dv)) })
		last(sign * (k.up + share*(k.gain+w*gainW)))
	}
	jw := 0
	energy(1, leave)
	if !c.from.fixed {
		energy(-1, leave)
		j[c.jw[jw]]--
		jw++
	}
	energy(1, enter)
	if !c.to.fixed {
		energy(1, enter)
		j[c.jw[jw]]++
		jw++
	}
	j[c.jw[jw]]++
}
