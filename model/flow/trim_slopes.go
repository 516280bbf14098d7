package flow

import (
	"math"

	"underdisc/model/fluid"
)

// shutSlopes is Slopes on the seat.
func (r *trim) shutSlopes(up *fluid.State, down float64, m *keep, p *Past) {
	r.shut(up, down, m, p)
	p.Fv, p.Fu, p.Fp = r.as*up.Pv, r.as*up.Pu, r.balanced-r.as
	p.Huddlep = 1
	if r.leak > 0 {
		p.W = 0
		r.leakSlopes(up, down, &m.f, p)
	}
}

// leakSlopes adds what passes beside the chain.
func (r *trim) leakSlopes(up *fluid.State, down float64, f *Flux, p *Past) {
	r.law.FluxSlopes(up, min(down, up.P), f)
	p.W += r.leak * f.G
	p.Wv += r.leak * f.Gv
	p.Wu += r.leak * f.Gu
	p.Wp += r.leak * f.Gp
}

// forceSlopes fills a Past from a chain and its slopes.
func (r *trim) forceSlopes(up *fluid.State, down float64, h *fixed, m *keep, w, ph, pu *slope, from *jetFrom, p *Past) {
	c, star := &m.chain, &m.fstar
	e := r.expansion(up, h.exponent, m)
	lnPV := slope{0: 0.5 / up.V} // of sqrt(V/P)
	lnPV.plus(-0.5/up.P, &h.p)
	alpha := h.n
	alpha.plus(1, &h.n)
	k := slope{star.Gv / star.G, star.Gu / star.G}
	k.plus(1, &lnPV)
	for i := range k {
		k[i] *= e.byLnC
	}

	y := c.w / r.bore * math.Sqrt(up.V/up.P)
	phi, byY, byK, byAlpha := impulse(y, e.c, e.k, e.alpha)
	var i slope // P phi
	i.plus(phi, &h.p)
	if c.w > 0 {
		i.plus(up.P*byY*y/c.w, w)
	}
	i.plus(up.P*byY*y, &lnPV)
	i.plus(up.P*byK, &k)
	i.plus(up.P*byAlpha, &alpha)

	var force slope
	force.plus(r.as, &h.p)
	force.plus(r.momentum*r.bore, &i)
	force.plus(r.ah-r.as, ph)
	force.plus(r.au-r.ah, pu)
	force[2] += r.balanced - r.au
	jet := 0.0
	if r.turned != 0 && c.w > 0 {
		var j slope
		jet = r.jetSlopes(up, down, h, from, &e, c.w, w, &k, &alpha, &j)
		force.plus(1, &j)
	}
	speed := 1.0
	if c.curtainOff {
		speed = r.speed(up, c, &e)
	}
	r.report(up, down, m, speed, phi, jet, p)
	p.Wv, p.Wu, p.Wp, p.Wx = w[0], w[1], w[2], w[3]
	p.Fv, p.Fu, p.Fp, p.Fx = force[0], force[1], force[2], force[3]
	p.Huddlev, p.Huddleu, p.Huddlep, p.Huddlex = ph[0], ph[1], ph[2], ph[3]
	if r.leak > 0 {
		r.leakSlopes(up, down, &m.f, p)
	}
}

// jetFrom is the pressure that a turned stream expands from, with its slopes.
type jetFrom struct {
	p  float64
	by slope
}

// jetSlopes is the hood's force and its slopes.
func (r *trim) jetSlopes(up *fluid.State, down float64, h *fixed, from *jetFrom, e *expansion, flow float64, w, k, alpha, j *slope) float64 {
	n, q, s := h.exponent, from.p/up.P, down/from.p
	f, byR, byK, byAlpha := fall(s, e.k, e.alpha)
	// v2^2 = 2 P V q^(2-2n) f
	pv := up.P * up.V * lessen(q, 2-2*n)
	v2 := math.Sqrt(2 * pv * f)
	if !(v2 > 0) {
		return 0
	}
	jet := r.turned * flow * v2
	j.plus(r.turned*v2, w)
	var half slope // of ln v2
	half[0] = 0.5 / up.V
	half.plus((n-0.5)/up.P, &h.p)
	half.plus((1-n)/from.p, &from.by)
	half.plus(-math.Log(q), &h.n)
	half.plus(-0.5*byR*s/from.p/f, &from.by)
	half[2] += 0.5 * byR / from.p / f
	half.plus(0.5*byK/f, k)
	half.plus(0.5*byAlpha/f, alpha)
	j.plus(jet, &half)
	return jet
}
