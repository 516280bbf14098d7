package explain

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// rootTolerance is the width to which a steady pressure is found, as a share of
// the highest pressure around: far below what any picture shows, and small
// enough to be held against closed forms.
const rootTolerance = 1e-10

// paths are the ways into and out of a chamber while body and outlet stand
// still: in through bore and guide clearance, out through the pilot and, where
// there is one, the dump line behind it, and past the cover's gasket.
//
// Assumed: what is in the chamber has the body's enthalpy, which is where it
// settles under a steady flow without exchange of heat; and the dump line is in
// balance with the flow through it, since it is small and its orifice wide, so
// that a line backs up exactly as far as the flow in question makes it.
type paths struct {
	m                      *plant.Model
	above, outlet          float64 // Pa
	volume                 float64 // of the chamber now, m3
	bore, guide, seat, end flow.Law
	cover                  flow.Law
	aBore, aGuide, aEnd    float64 // effective, m2
	aCover                 float64
	full, leak             float64 // pilot open as far as it goes, and shut, effective, m2
	body, chamber, dump    fluid.State
	back                   fluid.State // the outlet
	around                 fluid.State // what the cover leaks into
}

func pathsOf(m *plant.Model, s *plant.Snapshot, valve int) paths {
	v, st := &m.Valves[valve], &s.Valves[valve]
	p := paths{
		m: m, above: st.Above, outlet: st.Outlet,
		volume: s.Look.Nodes[v.Chamber].V,
		bore:   m.Net.Flows[v.Bleed].Law, aBore: st.BleedArea,
		seat: m.Net.Flows[v.PilotFlow].Law,
		full: v.Spec.Pilot.Coefficient*v.Spec.Pilot.Area*st.Pilot.Stroke/v.Spec.Plunger.Stroke + st.PilotLeak, leak: st.PilotLeak,
	}
	if v.Cover >= 0 && st.CoverArea > 0 {
		f := &m.Net.Flows[v.Cover]
		p.cover, p.aCover = f.Law, st.CoverArea
	}
	if v.Guide >= 0 {
		p.guide, p.aGuide = m.Net.Flows[v.Guide].Law, s.Look.Flows[v.Guide].Area
	}
	if v.HasDump {
		for i := range m.Net.Flows {
			if f := &m.Net.Flows[i]; f.From == v.Dump && f.To == v.Outlet {
				p.end, p.aEnd = f.Law, s.Look.Flows[i].Area
			}
		}
	}
	p.body, p.back = m.NodeState(s, v.Body), m.NodeState(s, v.Outlet)
	if p.aCover > 0 { // what it would draw in is taken as the body's fluid
		p.at(&p.around, s.Look.Nodes[m.Net.Flows[v.Cover].To].P)
	}
	return p
}

// at throttles the body's fluid to a pressure.
func (p *paths) at(s *fluid.State, pressure float64) { p.m.Throttle(&p.body, pressure, s) }

// stiffness is what a flow of the body's enthalpy raises the pressure of the
// state by, times volume: V dp/dt = W v^2 (p dp/du - dp/dv); gamma R T of a
// perfect gas, the speed of sound squared of any fluid.
func stiffness(s *fluid.State) float64 { return s.V * s.V * (s.P*s.Pu - s.Pv) }

// rate is the mass flow from one state to another, kg/s; negative if it runs
// the other way.
func rate(law flow.Law, area float64, from, to *fluid.State) float64 {
	switch {
	case area == 0:
		return 0
	case from.P >= to.P:
		return area * law.Flux(from, to.P)
	default:
		return -area * law.Flux(to, from.P)
	}
}

// in is the flow into the chamber at its pressure pB, kg/s; it falls as pB
// rises.
func (p *paths) in(pB float64) float64 {
	p.at(&p.chamber, pB)
	w := rate(p.bore, p.aBore, &p.body, &p.chamber)
	if p.guide != nil {
		w += rate(p.guide, p.aGuide, &p.body, &p.chamber)
	}
	return w
}

// out is the flow out of the chamber at its pressure pB through a pilot of the
// effective area and past the cover, kg/s; it rises with pB.
func (p *paths) out(pB, pilot float64) float64 {
	return p.outPilot(pB, pilot) + p.outCover(pB)
}

func (p *paths) outCover(pB float64) float64 {
	if p.aCover == 0 {
		return 0
	}
	p.at(&p.chamber, pB)
	return rate(p.cover, p.aCover, &p.chamber, &p.around)
}

func (p *paths) outPilot(pB, pilot float64) float64 {
	if pilot == 0 {
		return 0
	}
	p.at(&p.chamber, pB)
	if p.end == nil {
		return rate(p.seat, pilot, &p.chamber, &p.back)
	}
	through := func(pD float64) float64 {
		p.at(&p.dump, pD)
		return rate(p.end, p.aEnd, &p.dump, &p.back)
	}
	pD := root(p.outlet, pB, rootTolerance*math.Max(p.outlet, pB), func(pD float64) float64 {
		w := through(pD) // leaves p.dump at pD
		return rate(p.seat, pilot, &p.chamber, &p.dump) - w
	})
	return through(pD)
}

// tight is the same chamber with a cover that leaks nothing.
func (p *paths) tight() *paths {
	if p.aCover == 0 {
		return p
	}
	q := *p
	q.aCover = 0
	return &q
}

// flows tells whether anything can flow in or out at all.
func (p *paths) flows(pilot float64) bool {
	return p.aBore > 0 || pilot > 0 || p.aCover > 0 || p.guide != nil && p.guide.Flux(&p.body, 0.5*p.above) > 0
}

// steady is the pressure at which the chamber's flows in and out are equal with
// a pilot of that effective area, Pa absolute: in(pB) = out(pB). It lies
// between outlet and body pressure, and there is just one, because in falls
// and out rises with pB. Absent if nothing flows.
//
// With a bore and a choked pilot alone it is the B = pB/pA of
//
//	B psi* = (A_bleed/A_pilot) psi(B)
//
// psi the flow function of the nozzle, psi* its choked value, both areas with
// their discharge coefficients.
func (p *paths) steady(pilot float64) Opt {
	if !p.flows(pilot) {
		return Opt{}
	}
	if pilot == 0 && p.aCover == 0 {
		return some(p.above)
	}
	lo, hi := math.Min(p.above, p.outlet), math.Max(p.above, p.outlet)
	if p.aCover > 0 {
		lo, hi = math.Min(lo, p.around.P), math.Max(hi, p.around.P)
	}
	return some(root(lo, hi, rootTolerance*hi, func(pB float64) float64 { return p.in(pB) - p.out(pB, pilot) }))
}

// timePoints is the number of points of the quadrature in time. The integrand
// has a kink in its second derivative where a flow stops being choked; with
// sixteen points that costs less than 1e-3 of the time.
const timePoints = 16

// legendre holds the points and weights of Gauss and Legendre on 0 to 1.
var legendre = func() (r struct{ x, w [timePoints]float64 }) {
	quad.Legendre{}.FixedLocations(r.x[:], r.w[:], 0, 1)
	return r
}()

// time is how long the chamber takes from the pressure a to b by its flows,
// with a pilot of that effective area whose steady pressure is given, s:
//
//	dpB/dt = c^2 (in(pB) - out(pB))/V, c the speed of sound, V the present volume
//
// integrated from a to b, everything but pB standing still. It is the energy
// balance of a rigid adiabatic chamber; exact for a shut tight pilot, because
// only the temperature of what flows in then matters. What flows out does so
// at the chamber's own temperature, which may be a fifth off the body's: the
// time to empty is off by up to about a tenth, as its square root. Absent if
// b is not on the way or too far.
//
// The integral is taken over u with pB = ps - (ps - a) exp(-u), ps the steady
// pressure, which keeps the integrand bounded however near to ps b lies.
func (p *paths) time(a, b, pilot float64, steady Opt) Opt {
	if a == b {
		return some(0)
	}
	ps := steady.Value
	if !steady.Known || !((ps-a)/(ps-b) > 1) {
		return Opt{}
	}
	end := math.Log((ps - a) / (ps - b))
	sum := 0.0
	for i, x := range &legendre.x {
		left := (ps - a) * math.Exp(-end*x)
		pB := ps - left
		net := p.in(pB) - p.out(pB, pilot) // leaves p.chamber at pB
		sum += legendre.w[i] * left / (net * stiffness(&p.chamber))
	}
	return after(sum * end * p.volume)
}

// A refill counts as hung open when it takes more than slowRefill times as
// long as it would through a path that passes a bleedShare of what the open
// pilot does. A pilot has to out-run the bleed several times over to empty the
// chamber fast, so a twentieth is on the slow side of sound designs, and a
// fifth of that is none: the disc then stays open for a hundred times as long
// as its chamber takes to empty. Common practice, no source. Both the
// reference and the refill held against it come from the plant as it stands,
// and neither changes while the chamber fills, so the state does not flicker.
const (
	bleedShare = 1.0 / 20
	slowRefill = 5
)

// refillLimit is the time above which a refill from pressure a to b counts as
// hung open, s: slowRefill V (b - a)/(c^2 W), c and W the body's speed of
// sound and the choked flow from the
// body through a bleedShare of the full pilot.
func (p *paths) refillLimit(a, b float64) float64 {
	w := bleedShare * (p.full - p.leak) * p.seat.Flux(&p.body, 0)
	return slowRefill * p.volume * math.Max(b-a, 0) / (stiffness(&p.body) * w)
}
