package flow

import (
	"math"

	"underdisc/model/fluid"
)

// slope is the derivatives of a number by the upstream specific volume and
// internal energy, by down and by the lift.
type slope [4]float64

// plus adds a share of another.
func (s *slope) plus(k float64, o *slope) {
	for i := range s {
		s[i] += k * o[i]
	}
}

// stage is the flux through one opening with the given area, q^n G(up, low/q),
// all pressures in Pa: its derivatives by the pressures ahead of and behind it and
// those at fixed pressures there.
type stage struct {
	ahead, behind float64
	rest          slope
	choked        bool
}

// fixed is what the stages of one state share.
type fixed struct {
	p, n     slope // of pressure and exponent
	exponent float64
}

// find fills it for an area with its slope by the lift.
func (s *stage) find(law Law, up *fluid.State, h *fixed, area, areax, ahead, behind float64, f *Flux) {
	q := ahead / up.P
	d := beyond(up, behind, ahead)
	law.FluxSlopes(up, d, f)
	m := area * lessen(q, h.exponent)
	w := m * f.G
	gp := m * f.Gp
	s.choked = f.Choked
	s.ahead = h.exponent*w/ahead - gp*d/ahead
	s.behind = gp / q
	s.rest = slope{m * f.Gv, m * f.Gu, 0, areax * w / area}
	s.rest.plus(gp*d/up.P-h.exponent*w/up.P, &h.p)
	if w > 0 {
		s.rest.plus(w*math.Log(q), &h.n)
	}
}

// Slopes implements PastDisc. With E1, E2, E3 what the openings pass, those of ph
// and pu follow from E1 - E2 = 0 and E1 - E3 = 0.
func (r *rings) Slopes(up *fluid.State, down, x float64, p *Past) {
	*p = Past{}
	m := r.memory()
	m.areas = r.areas(max(x, 0))
	if !(x > 0) {
		r.shutSlopes(up, down, m, p)
		return
	}
	n, nv, nu := r.seat.throttling(up)
	r.solve(up, down, n, m)
	a, c, f := &m.areas, &m.chain, &m.f

	h := fixed{p: slope{up.Pv, up.Pu}, n: slope{nv, nu}, exponent: n}
	var one, two, three stage
	one.find(r.law, up, &h, a.curtain, a.curtainx, up.P, c.huddle, f)
	// Here the pressure ahead is that of the state.
	one.rest.plus(one.ahead, &h.p)
	m.fstar = *f
	if !f.Choked {
		r.law.FluxSlopes(up, 0, &m.fstar)
	}
	two.find(r.law, up, &h, a.gap, a.gapx, c.huddle, c.under, f)
	var ph, pu slope
	k := two.ahead - one.behind // above zero
	if math.IsInf(r.exit, 1) {
		pu = slope{2: 1}
		for i := range ph {
			ph[i] = (one.rest[i] - two.rest[i] - two.behind*pu[i]) / k
		}
	} else {
		three.find(r.law, up, &h, r.exit, 0, c.under, down, f)
		three.rest[2] += three.behind
		// k ph + two.behind pu = d2, -one.behind ph + three.ahead pu = d3
		det := 1 / (k*three.ahead + two.behind*one.behind)
		for i := range ph {
			d2, d3 := one.rest[i]-two.rest[i], one.rest[i]-three.rest[i]
			ph[i] = (d2*three.ahead - d3*two.behind) * det
			pu[i] = (k*d3 + one.behind*d2) * det
		}
	}
	w := one.rest
	w.plus(one.behind, &ph)
	if c.w > 0 && (one.choked || two.choked || three.choked) {
		w[2] = 0
		if one.choked || two.choked {
			ph[2] = 0
			if !two.choked {
				ph[2] = -two.behind * pu[2] / k
			}
		}
	}
	r.forceSlopes(up, down, &h, m, &w, &ph, &pu, &jetFrom{c.huddle, ph}, p)
}
