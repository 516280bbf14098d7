package flow

import (
	"math"

	"underdisc/model/fluid"
)

// chain is what passes three openings in a row, and the pressures between them.
type chain struct {
	w         float64 // kg/s
	star      float64 // the choked flux of the upstream state, kg/(s m2)
	huddle    float64 // Pa
	under     float64 // Pa
	gap, exit float64 // ratios of the pressures behind and ahead of them
	curtain   float64 // area of the first, m2
	// The curtain is not choked; the gap, the way out is.
	curtainOff, gapChoked, exitChoked bool
}

// nearly is one less the rounding of a flux that is choked.
const nearly = 1 - 1e-15

// keep is what one user's way past a disc keeps: where the last search ended, as
// a start for the next, and room to work in.
type keep struct {
	gap, exit, w float64 // ratios of pressures; W over that with the curtain choked
	k            float64 // exponent
	areas        ringAreas
	chain        chain
	f, fstar     Flux
}

// opening inverts one opening of the chain: with what it passes per area, g, and
// the pressure below it, low, it finds the one above. Pressures are over that of
// the upstream state: q^n G(up, s) = g, s = low/q.
type opening struct {
	law  Law
	up   *fluid.State
	star float64
	n    float64
}

// above is q, and s, with the search begun at the ratio start where that is
// between 0 and 1.
func (o *opening) above(g, low, start float64) (q, s float64, choked bool) {
	if !(g > 0) {
		return low, 1, false
	}
	q = bothChoked(g/o.star, o.n)
	if s = low / q; s < 1 && o.law.Flux(o.up, s*o.up.P) >= o.star*nearly {
		return q, s, true
	}
	// y = s^-n G(s), that is G^2 = y^2 s^2n, of which the left falls and the
	// right grows; no more passes than choked, so s is below low/q.
	y := g / lessen(low, o.n)
	s = o.ratio(y, min(s, 1), start)
	return low / s, s, false
}

// ratio finds s between 0 and hi where G(s) = y s^n, as Seat.face does.
func (o *opening) ratio(y, hi, start float64) float64 {
	square := func(s float64) (e, size float64) {
		g, h := o.law.Flux(o.up, s*o.up.P), y*lessen(s, o.n)
		return (g - h) * (g + h), h * h
	}
	lo, elo := 0.0, o.star*o.star
	ehi := -y * y
	if hi < 1 {
		ehi, _ = square(hi)
		if !(ehi < 0) {
			return hi
		}
	}
	x := start
	if !(x > lo && x < hi) {
		x = guess(o.star/y, o.n)
		if !(x > lo && x < 0.999*hi) {
			x = lo + (hi-lo)*(elo/(elo-ehi))
		}
	}
	last, before, side := hi, ehi, -1
	for i := range 100 {
		e, size := square(x)
		if math.Abs(e) < equal*size {
			return x
		}
		if step := x - last; i > 0 && math.Abs(step) < settled*min(x, 1-x) {
			if more := e * step / (e - before); math.Abs(more) < math.Abs(step) {
				x -= more
			}
			return min(max(x, lo), hi)
		}
		last, before = x, e
		if e > 0 {
			if side > 0 {
				ehi *= relief(e, elo)
			}
			lo, elo, side = x, e, 1
		} else {
			if side < 0 {
				elo *= relief(e, ehi)
			}
			hi, ehi, side = x, e, -1
		}
		x = lo + (hi-lo)*(elo/(elo-ehi))
		if !(x > lo && x < hi) {
			return min(max(x, lo), hi)
		}
	}
	return x
}

// solve finds the chain. It is tried first with the curtain choked, which leaves
// one opening after the other to be inverted. If the pressure behind it is too
// high for that, the square of W is searched for.
func (r *rings) solve(up *fluid.State, down, n float64, m *keep) {
	a, c := &m.areas, &m.chain
	s := chainSearch{opening: opening{law: r.law, up: up, star: r.law.Flux(up, 0), n: n}, keep: m, way: r.exit, low: down / up.P}
	*c = chain{star: s.star, curtain: a.curtain, huddle: down, under: down, gap: 1, exit: 1, curtainOff: true}
	if !(s.low < 1) {
		return
	}
	most := a.curtain * s.star
	qh := s.try(most)
	c.curtainOff = !(qh < 1 && r.law.Flux(up, c.huddle) >= s.star*nearly)
	if c.curtainOff {
		s.search(most, qh)
	}
	m.w = c.w / most
}

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
		qu, c.exit, c.exitChoked = s.above(w/s.way, s.low, s.exit)
		s.exit = c.exit
	}
	qh, c.gap, c.gapChoked = s.above(w/s.areas.gap, qu, s.gap)
	s.gap = c.gap
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

// search finds W below the curtain's choked flow, where qh is the pressure that
// this would take. The square of the curtain's flow falls nearly straight with
// that of W.
func (s *chainSearch) search(most, qh float64) {
	g := s.areas.curtain * s.law.Flux(s.up, s.low*s.up.P)
	lo, elo, hi := 0.0, g*g, g*g
	if g < most {
		qh = s.try(g)
	}
	ehi := s.miss(hi, qh)
	x := s.w * most
	x *= x
	if !(x > lo && x < 0.999*hi) {
		x = hi * elo / (elo - ehi)
	}
	last, before, side := hi, ehi, -1
	for i := range 100 {
		if !(x > lo && x < hi) {
			x = min(max(x, lo), hi)
			break
		}
		e := s.miss(x, s.try(math.Sqrt(x)))
		if math.Abs(e) < equal*x {
			return
		}
		if step := x - last; i > 0 && math.Abs(step) < settled*x {
			if more := e * step / (e - before); math.Abs(more) < math.Abs(step) {
				x -= more
			}
			x = min(max(x, lo), hi)
			break
		}
		last, before = x, e
		if e > 0 {
			if side > 0 {
				ehi *= relief(e, elo)
			}
			lo, elo, side = x, e, 1
		} else {
			if side < 0 {
				elo *= relief(e, ehi)
			}
			hi, ehi, side = x, e, -1
		}
		x = lo + (hi-lo)*(elo/(elo-ehi))
	}
	s.try(math.Sqrt(x))
}
