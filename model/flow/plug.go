package flow

import (
	"math"

	"underdisc/model/fluid"
)

// Plug is the way past the disc of a valve for liquid with neither ring nor hood,
// which opens in proportion. Curtain and bore act as one opening,
//
//	W = Ae G(up, down), Ae = a/sqrt(1 + (a/(Cd0 A0))^2), a = Cd pi ds x
//
// which is exact for a liquid that does not flash, whose losses add up. The force
// on the disc is
//
//	F = p1 As + eta A0 p1 phi + sine W v2 - down (As - Ab) - atmosphere Ab
//
// with the excess of the impulse in the bore, phi, and the speed v2 to which the
// stream expands, of an angle of the given sine downwards. For a liquid p1 phi is
// (W/A0)^2 v/2 = (p1 - down) (Ae/A0)^2, and W v2 is 2 Ae (p1 - down), so that
//
//	F = (p1 - down) (As + eta Ae^2/A0 + 2 Ae sine) + (down - atmosphere) Ab
//
// An area that grows with the lift is all that opens it. The law has the flux of
// the liquid itself, whose density is not quite constant, and at less than a
// thousandth of the pressure is lower than that of Torricelli; there the force is
// lower by as much.
//
// Water that flashes passes what the law lets pass; its impulse and its jet are
// taken as those of water, so the jet of what boils is understated. Gas and steam
// get impulse and jet of their own (see Rings); where the curtain is not small
// beside the bore, Ae is then up to a tenth low.
type Plug struct {
	Law    Law
	Voider fluid.Voider // as in Seat

	Bore, Nozzle  float64 // d0, m; discharge coefficient Cd0
	Seat, Curtain float64 // ds, m; discharge coefficient Cd
	Momentum      float64 // eta
	Sine          float64
	Leak          float64 // effective area past the shut seat, m2

	Balanced   float64 // Ab, area of a bellows, m2
	Atmosphere float64 // pressure in it, Pa
}

type plug struct {
	Plug
	trim
}

// NewPlug makes the way past the disc. Diameters are above zero.
func NewPlug(p Plug) PastDisc {
	s := &plug{p, trim{law: p.Law, seat: Seat{Law: p.Law, Voider: p.Voider}, bore: disc(p.Bore), as: disc(p.Seat),
		momentum: p.Momentum, turned: p.Sine, leak: p.Leak, balanced: p.Balanced, atmosphere: p.Atmosphere}}
	s.ah, s.au, s.exit = s.as, s.as, math.Inf(1)
	return s
}

// Remembering implements PastDisc.
func (p *plug) Remembering() PastDisc {
	s := *p
	s.remember()
	return &s
}

// areas is Ae at a lift.
func (p *plug) areas(x float64) (a ringAreas) {
	byX := p.Curtain * math.Pi * p.Seat
	z := byX * x / (p.Nozzle * p.bore)
	root := 1 / math.Sqrt(1+z*z)
	return ringAreas{curtain: byX * x * root, curtainx: byX * root * root * root}
}

// through is the chain of one opening.
func (p *plug) through(up *fluid.State, down, g float64, choked bool, m *keep) {
	m.chain = chain{w: m.areas.curtain * g, star: p.law.Flux(up, 0), huddle: down, under: down, curtain: m.areas.curtain, curtainOff: !choked}
}

// At implements PastDisc.
func (p *plug) At(up *fluid.State, down, x float64, q *Past) {
	*q = Past{}
	m := p.memory()
	m.areas = p.areas(max(x, 0))
	if !(x > 0) {
		p.shut(up, down, m, q)
		return
	}
	n, _, _ := p.seat.throttling(up)
	g := p.law.Flux(up, min(down, up.P))
	p.through(up, down, g, g >= p.law.Flux(up, 0)*nearly, m)
	p.fill(up, down, n, m, up.P, q)
}

// Slopes implements PastDisc.
func (p *plug) Slopes(up *fluid.State, down, x float64, q *Past) {
	*q = Past{}
	m := p.memory()
	m.areas = p.areas(max(x, 0))
	if !(x > 0) {
		p.shutSlopes(up, down, m, q)
		return
	}
	n, nv, nu := p.seat.throttling(up)
	f, a := &m.f, &m.areas
	p.law.FluxSlopes(up, min(down, up.P), f)
	m.fstar = *f
	if !f.Choked {
		p.law.FluxSlopes(up, 0, &m.fstar)
	}
	h := fixed{p: slope{up.Pv, up.Pu}, n: slope{nv, nu}, exponent: n}
	p.through(up, down, f.G, f.Choked, m)
	w := slope{a.curtain * f.Gv, a.curtain * f.Gu, a.curtain * f.Gp, a.curtainx * f.G}
	p.forceSlopes(up, down, &h, m, &w, &slope{2: 1}, &slope{2: 1}, &jetFrom{up.P, h.p}, q)
}
