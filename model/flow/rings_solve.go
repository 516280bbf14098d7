package flow

import (
	"math"

	"underdisc/model/fluid"
)

// chain is what passes three openings in a row, and the pressures between them.
type chain struct {
	w       float64 // kg/s
	star    float64 // the choked flux of the upstream state, kg/(s m2)
	huddle  float64 // Pa
	under   float64 // Pa
	curtain float64 // area of the first, m2
	// The curtain is not choked; the gap, the way out is.
	curtainOff, gapChoked, exitChoked bool
}

// nearly is one less the rounding of a flux that is choked.
const nearly = 1 - 1e-15

// keep is what one user's way past a disc keeps: where the last searches ended, as
// starts for the next, and room to work in.
type keep struct {
	gap, exit, flow start
	k               float64 // exponent
	areas           ringAreas
	chain           chain
	f, fstar        Flux
}

// start is where a search ended, and its function's slope there in units of the
// distance over which that changes much. Zero: nowhere.
type start struct{ x, slope float64 }

// opening inverts one opening of the chain: with what it passes per area, g, and
// the pressure below it, low, it finds the one above. Pressures are over that of
// the upstream state: q^n G(up, s) = g, s = low/q.
type opening struct {
	law  Law
	up   *fluid.State
	star float64
	n    float64
}

// above is q.
func (o *opening) above(g, low float64, from *start) (q float64, choked bool) {
	if !(g > 0) {
		return low, false
	}
	q = bothChoked(g/o.star, o.n)
	s := low / q
	if s < 1 && o.law.Flux(o.up, s*o.up.P) >= o.star*nearly {
		return q, true
	}
	// G^2 = y^2 s^2n, of which the left falls and the right grows; no more passes
	// than choked, so s is below low/q.
	y := g / lessen(low, o.n)
	return low / o.ratio(y, min(s, 1), from), false
}

// ratio finds s between 0 and hi where G(s) = y s^n.
func (o *opening) ratio(y, hi float64, from *start) float64 {
	h := hunt{elo: o.star * o.star, hi: hi, ehi: -y * y}
	if hi < 1 {
		g, most := o.law.Flux(o.up, hi*o.up.P), y*lessen(hi, o.n)
		h.ehi = (g - most) * (g + most)
		if !(h.ehi < 0) {
			return hi
		}
	}
	slope := from.slope
	if h.x = from.x; !(h.x > 0 && h.x < hi) {
		h.x, slope = o.first(y)
		if !(h.x > 0 && h.x < 0.999*hi) && hi < 1 {
			h.x, slope = h.chord(), 0
		}
	}
	h.slope = slope / (1 - h.x)
	for !h.done {
		g, most := o.law.Flux(o.up, h.x*o.up.P), y*lessen(h.x, o.n)
		h.tell((g-most)*(g+most), most*most, min(h.x, 1-h.x))
	}
	*from = start{h.x, h.slope * (1 - h.x)}
	return h.x
}

// first is about where the ratio lies. Close to 1 flux goes as the root of the
// difference and, closer still, as the laws' cubic.
func (o *opening) first(y float64) (s, slope float64) {
	z := y * y * o.up.V / (2 * o.up.P)
	switch {
	case z < linearBelow:
		t := 0.8 * math.Sqrt(z/linearBelow)
		t += 0.2 * t * t * t
		return 1 - linearBelow*t, -2
	case z < 0.02:
		return 1 - z, -1
	}
	return guess(o.star/y, o.n), 0
}

// solve finds the chain. It is tried first with the curtain choked, which leaves
// one opening after the other to be inverted. If the pressure behind it is too
// high for that, the square of W is searched for.
func (r *rings) solve(up *fluid.State, down, n float64, m *keep) {
	a, c := &m.areas, &m.chain
	s := chainSearch{opening: opening{law: r.law, up: up, star: r.law.Flux(up, 0), n: n}, keep: m, way: r.exit, low: down / up.P}
	*c = chain{star: s.star, curtain: a.curtain, huddle: down, under: down, curtainOff: true}
	if !(s.low < 1) {
		c.w = 0 * s.low // NaN of a state that is none
		return
	}
	most := a.curtain * s.star
	if m.flow.x > 0 && m.flow.x < far && s.search(most, math.NaN()) {
		return // as last time
	}
	qh := s.try(most)
	c.curtainOff = !(qh < 1 && r.law.Flux(up, c.huddle) >= s.star*nearly)
	if c.curtainOff {
		s.search(most, qh)
	} else {
		m.flow = start{1, 0}
	}
}

// far is how much of the square of the curtain's choked flow passes when there is
// no need to look whether the curtain is choked first.
const far = 0.97

// chainSearch is one search.
type chainSearch struct {
	opening
	*keep
	way, low float64 // area of the way out; down over the upstream pressure
}

// try fills the chain upwards from down with what passes, and returns the
// pressure that this takes behind the curtain.
func (s *chainSearch) try(w float64) (qh float64) {
	c, qu := &s.chain, s.low
	if !math.IsInf(s.way, 1) {
		qu, c.exitChoked = s.above(w/s.way, s.low, &s.exit)
	}
	qh, c.gapChoked = s.above(w/s.areas.gap, qu, &s.gap)
	c.w, c.huddle, c.under = w, qh*s.up.P, qu*s.up.P
	return qh
}

// miss is how much the square of the curtain's flow is above that of what was
// tried. Where the pressure behind it would be above the upstream one, that of
// Bernoulli goes on below zero.
func (s *chainSearch) miss(square, qh float64) float64 {
	a := s.areas.curtain
	if qh >= 1 {
		return a*a*2*s.up.P/s.up.V*(1-qh) - square
	}
	g := a * s.law.Flux(s.up, qh*s.up.P)
	return g*g - square
}

// search finds W below the curtain's choked flow. The square of the curtain's flow
// falls nearly straight with that of W. qh is the pressure that the choked flow
// would take, NaN if that is not known; then W may not lie below, and what is
// found there does not count.
func (s *chainSearch) search(most, qh float64) (found bool) {
	g := s.areas.curtain * s.law.Flux(s.up, s.low*s.up.P)
	h := hunt{elo: g * g, hi: g * g, ehi: -g * g}
	if !math.IsNaN(qh) {
		if g < most {
			qh = s.try(g)
		}
		h.ehi = s.miss(h.hi, qh)
	}
	h.x = s.flow.x * most * most
	if h.slope = s.flow.slope / h.x; !(h.x > 0 && h.x < h.hi) {
		h.x, h.slope = h.chord(), 0
	}
	for !h.done {
		h.tell(s.miss(h.x, s.try(math.Sqrt(h.x))), h.x, h.x)
	}
	s.flow = start{h.x / (most * most), h.slope * h.x}
	s.try(math.Sqrt(h.x))
	return s.flow.x < far
}
