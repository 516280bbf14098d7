package flow

import (
	"math"

	"underdisc/model/fluid"
)

// trim is what valves with rings and valves with a plug have in common.
type trim struct {
	law        Law
	seat       Seat // for its scaling
	bore       float64
	as, ah, au float64
	exit       float64 // area out of the upper ring; infinite where there is none
	momentum   float64
	turned     float64 // the jet's force over W v2
	leak       float64
	balanced   float64
	atmosphere float64
	last       *keep
}

// remember gives it a memory of its own.
func (r *trim) remember() {
	r.last = &keep{}
	if l, ok := r.law.(Rememberer); ok {
		r.law = l.Remembering()
		r.seat.Law = r.law
	}
}

// memory is what there is to begin with and to work in.
func (r *trim) memory() *keep {
	if r.last != nil {
		// Each search starts afresh: where the last one ended must not show in the
		// last digits, or a run that is forked would drift from the one it left.
		r.last.gap, r.last.exit, r.last.flow, r.last.k = start{}, start{}, start{}, 0
		return r.last
	}
	return &keep{}
}

// shut fills a Past for a disc on its seat.
func (r *trim) shut(up *fluid.State, down float64, m *keep, p *Past) {
	m.chain = chain{huddle: down, under: down, curtainOff: true}
	r.report(up, down, m, 0, 0, 0, p)
	if r.leak > 0 {
		g := r.law.Flux(up, min(down, up.P))
		p.W, p.Choked = r.leak*g, g >= r.law.Flux(up, 0)*nearly
	}
}

// back is the force of the pressures around the disc.
func (r *trim) back(down float64) float64 {
	return -down*(r.au-r.balanced) - r.atmosphere*r.balanced
}

func (f *PastForces) sum() float64 {
	return f.Seat + f.Momentum + f.Huddle + f.Upper + f.Jet + f.Back
}

// expansion is the exponent of an upstream state, as far as it is needed.
type expansion struct {
	c, k, byLnC float64
	alpha       float64
}

func (r *trim) expansion(up *fluid.State, n float64, m *keep) (e expansion) {
	e.alpha = 2*n - 1
	e.c = m.chain.star * math.Sqrt(up.V/up.P)
	e.k = 1
	if e.alpha > 0 {
		e.k, e.byLnC = exponentOf(e.c, m.k)
		m.k = e.k
	}
	return e
}

// fill makes pressures, areas and forces from a chain. What a hood turns expands
// from the pressure from.
func (r *trim) fill(up *fluid.State, down, n float64, m *keep, from float64, p *Past) {
	c, e := &m.chain, r.expansion(up, n, m)
	y := c.w / r.bore * math.Sqrt(up.V/up.P)
	phi, _, _, _ := impulse(y, e.c, e.k, e.alpha)
	jet := 0.0
	if r.turned != 0 && c.w > 0 {
		f, _, _, _ := fall(min(down/from, 1), e.k, e.alpha) // rounding may take from below down
		jet = r.turned * c.w * math.Sqrt(2*up.P*up.V*lessen(from/up.P, 2-2*n)*f)
	}
	speed := 1.0
	if c.curtainOff {
		speed = r.speed(up, c, &e)
	}
	r.report(up, down, m, speed, phi, jet, p)
	if r.leak > 0 {
		p.W += r.leak * r.law.Flux(up, min(down, up.P))
	}
}

// report fills a Past.
func (r *trim) report(up *fluid.State, down float64, m *keep, speed, phi, jet float64, p *Past) {
	c, a := &m.chain, &m.areas
	p.W, p.Huddle, p.Under = c.w, c.huddle, c.under
	p.Curtain, p.LowerRing = a.curtain, a.gap
	if !math.IsInf(r.exit, 1) {
		p.UpperRing = r.exit
	}
	p.Choked = c.w > 0 && (!c.curtainOff || c.gapChoked || c.exitChoked)
	p.Speed = speed
	p.Parts = PastForces{Seat: up.P * r.as, Momentum: r.momentum * r.bore * up.P * phi, Huddle: c.huddle * (r.ah - r.as),
		Upper: c.under * (r.au - r.ah), Jet: jet, Back: r.back(down)}
	p.Force = p.Parts.sum()
}

// speed is that in a curtain which is not choked, over its highest: of the vapour
// by its exponent, of the liquid as the flux.
func (r *trim) speed(up *fluid.State, c *chain, e *expansion) float64 {
	if !(c.star > 0) {
		return 0
	}
	s := 0.0
	if e.alpha < 1 {
		s = (1 - e.alpha) * min(c.w/(c.curtain*c.star), 1)
	}
	if e.alpha > 0 {
		most, _, _, _ := fall(CriticalRatio(e.k), e.k, 1)
		f, _, _, _ := fall(min(c.huddle/up.P, 1), e.k, 1)
		s += e.alpha * min(math.Sqrt(f/most), 1)
	}
	return s
}
