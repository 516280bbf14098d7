package network

import "underdisc/model/flow"

// past is a flow past a disc whose force it sets, see flow.PastDisc. The work
// of that force is done by the volume downstream. What the disc sweeps is left
// out: beside what flows it is some hundredths, and only while the disc moves at
// its fastest.
type past struct {
	edge  *edge
	law   flow.PastDisc
	now   flow.Past
	at    float64 // lift that it was found for
	fresh bool
	// Pressure in the balances pushes with these areas where the flow turns back.
	seat, balanced float64 // m2
	df             []float64
}

// forward tells whether the flow comes from below the disc.
func (s *past) forward() bool { return s.edge.from.st.P >= s.edge.to.st.P }

// down is the pressure behind the disc as the law may have it: what is drawn from a
// wet node has its pressure but for rounding.
func (s *past) down() float64 {
	return min(s.edge.to.st.P, s.edge.from.st.P, s.edge.out.st.P)
}

// find fills now with the disc at x. A flow that turns back passes the curtain
// and the bore as two orifices, and finds the disc pushed by the difference of
// pressures on the seat.
func (s *past) find(x float64) *flow.Past {
	if s.fresh && s.at == x {
		return &s.now
	}
	e := s.edge
	s.fresh, s.at = true, x
	s.law.At(e.out.st, s.down(), x, &s.now)
	if s.forward() {
		return &s.now
	}
	back := s.back()
	s.now.W = -e.opening.at(max(x, 0)) * e.law.Flux(e.in.st, e.from.st.P)
	s.now.Force += back
	s.now.Parts.Back += back
	return &s.now
}

// back is what a higher pressure behind the disc adds to its force at equal
// pressures.
func (s *past) back() float64 {
	return (s.balanced - s.seat) * (s.edge.to.st.P - s.edge.from.st.P)
}

func (s *past) flow(e *edge, x float64) {
	e.w = s.find(x).W
	if e.w >= 0 {
		e.h = e.w * e.out.st.H
	} else {
		e.h = e.w * e.in.st.H
	}
}

// slopes fills the slopes of the flow, and of the force, and returns the flow.
func (s *past) slopes(e *edge, x float64) float64 {
	up, p := e.out, &s.now
	clear(s.df)
	down := s.down()
	s.law.Slopes(up.st, down, x, p)
	s.fresh, s.at = true, x
	if !s.forward() {
		var fx flow.Flux
		e.law.FluxSlopes(e.in.st, down, &fx)
		a, da := e.opening.at(max(x, 0)), 0.0
		if x > 0 {
			da = e.opening.slope(x)
		}
		for c, at := range e.toAt {
			e.dw[at] -= a * (fx.Gv*e.in.dv[c] + fx.Gu*e.in.du[c])
			s.df[at] += (s.balanced - s.seat) * e.to.dp[c]
		}
		for c, at := range e.fromAt {
			e.dw[at] -= a * fx.Gp * e.from.dp[c]
			s.df[at] += p.Fv*up.dv[c] + p.Fu*up.du[c] + (p.Fp-s.balanced+s.seat)*e.from.dp[c]
		}
		e.dw[e.partAt] -= da * fx.G
		s.df[e.partAt] += p.Fx
		p.W = -a * fx.G
		back := s.back()
		p.Force += back
		p.Parts.Back += back
		return p.W
	}
	for c, at := range e.fromAt {
		e.dw[at] += p.Wv*up.dv[c] + p.Wu*up.du[c]
		s.df[at] += p.Fv*up.dv[c] + p.Fu*up.du[c]
	}
	for c, at := range e.toAt {
		e.dw[at] += p.Wp * e.to.dp[c]
		s.df[at] += p.Fp * e.to.dp[c]
	}
	e.dw[e.partAt] += p.Wx
	s.df[e.partAt] += p.Fx
	return p.W
}

// jacobian enters the slopes of the force on the disc and of its work.
func (s *past) jacobian(p *part, v, im float64, j []float64) {
	e := s.edge
	d := s.df[:e.plain]
	k := len(d)
	jq := p.jFace[k:]
	for c, g := range d {
		j[p.jFace[c]] += g * im
		j[jq[c]] += g * v
	}
	j[jq[k]] += s.now.Force
	if e.to.fixed {
		return
	}
	ju := jq[k+1:]
	for c, g := range d {
		j[ju[c]] -= g * v
	}
	j[ju[k]] -= s.now.Force
}
