package equilibria

import (
	"errors"
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
)

// piloted are the statics of a piloted valve, its pilot shut or fully open and
// its chamber at the pressure at which as much enters as leaves:
//
//	net = pA (Ag - As) + pF As - pB Ag + m g - F0 - k x
//
// x counts down from the seat; pF is the pressure on the disc's face, by the
// seat's own law. Nodes: the ends of the line's length of pipe, body, chamber,
// dump line and the pipes behind, as far as there are any. All hold what the
// vessel gives, throttled.
type piloted struct {
	m    *plant.Model
	v    *plant.ValveMap
	from vessel
	law  flow.Law
	seat flow.Seat
	out  *outlet

	block  float64 // effective area at the line's inlet; 0: none there
	pipe   *pipe   // nil: none
	line   float64
	bleed  float64
	guide  flow.Law // nil: none
	pilot  float64
	cover  float64
	drain  float64
	dump   float64 // 0: none
	as, ag float64
	open   openingOf
	extra  float64

	pRef, fRef, wRef, cRef float64

	vs     fluid.State
	p      []float64
	body   fluid.State
	w      float64
	pA, pB float64
}

// openingOf is the main seat.
type openingOf struct {
	leak, cd, bore, diameter float64
	continuity               bool
}

var errIsolated = errors.New("found its line shut off, want its block valve open: its disc then has no equilibria by the vessel's pressure")

func newPiloted(m *plant.Model, v *plant.ValveMap, pilot Pilot) (*piloted, error) {
	sp, l := v.Spec, v.LineSpec
	k := &piloted{m: m, v: v, from: newVessel(m, l.From, "steam"), law: law(m), out: newOutlet(m, sp.Outlet),
		bleed: sp.Bleed.Coefficient * sp.Bleed.Area, pilot: sp.Pilot.Coefficient * sp.Pilot.LeakArea}
	k.seat = flow.Seat{Law: k.law, Voider: m.Void}
	k.line = m.Net.Flows[v.Line].Opening.Leak
	b := l.BlockValve
	if k.line == 0 || b != nil && b.Opening == 0 {
		return nil, errIsolated
	}
	if b != nil && b.Motion != nil {
		k.block = b.Coefficient * (b.Motion.LeakArea + b.Area*b.Opening)
	}
	if r := l.Run; r != nil {
		dx := r.Length / math.Max(r.Cells, 1)
		if k.block > 0 {
			k.pipe = newPipe(r, r.Length-dx, 0)
		} else {
			k.pipe = newPipe(r, r.Length-dx/2, 0.5)
		}
	}
	if pilot == Open {
		k.pilot += sp.Pilot.Coefficient * sp.Pilot.Area / sp.Plunger.Stroke * m.Net.Movers[v.Pilot].Travel
	}
	if v.Guide >= 0 {
		k.guide = m.Net.Flows[v.Guide].Law
	}
	if c := sp.Chamber.Cover; c != nil {
		k.cover = c.Coefficient * c.LeakArea
	}
	if d := sp.Drain; d != nil {
		k.drain = d.Coefficient * d.Area * d.Opening
	}
	if d := sp.Dump; d != nil {
		k.dump = d.Coefficient * d.Area
	}
	k.as = math.Pi / 4 * sp.Seat.Diameter * sp.Seat.Diameter
	k.ag = math.Pi / 4 * sp.Disc.GuideDiameter * sp.Disc.GuideDiameter
	k.open = openingOf{sp.Seat.Coefficient * sp.Seat.LeakArea, sp.Seat.Coefficient, k.as, sp.Seat.Diameter, sp.Seat.Face == "continuity"}
	k.pRef = k.from.start
	k.fRef = k.pRef * k.as
	var at fluid.State
	k.from.at(k.pRef, &at)
	star := k.law.Flux(&at, 0)
	k.wRef = math.Min(k.as, k.line) * star
	k.cRef = (k.bleed + sp.Pilot.Coefficient*sp.Pilot.Area) * star
	k.p = make([]float64, k.nodes())
	return k, nil
}

// nodes is how many pressures are unknown.
func (k *piloted) nodes() int {
	n := 2 + len(k.out.pipes)
	if k.block > 0 && k.pipe != nil {
		n++
	}
	if k.pipe != nil || k.block > 0 {
		n++
	}
	if k.dump > 0 {
		n++
	}
	return n
}

// Size implements branch.Problem.
func (k *piloted) Size() int { return 1 + k.nodes() }

func (k *piloted) scale() (pressure, force float64) { return k.pRef, k.fRef }

func (k *piloted) push(f float64) { k.extra = f }

func (k *piloted) stretch(lift float64) float64 { return lift / k.v.Spec.Disc.Travel }
func (k *piloted) lift(z float64) float64       { return z * k.v.Spec.Disc.Travel }
func (k *piloted) unstretch(float64) float64    { return k.v.Spec.Disc.Travel }

// rest settles the chamber and the dump line with the disc shut and what feeds
// them at the vessel's pressure.
func (k *piloted) rest(vessel float64, q []float64) {
	n := len(q) - 1
	for i := range n {
		q[i] = q[n]
	}
	low := len(k.out.pipes)
	for i := range low {
		q[n-1-i] = k.out.end / k.pRef
	}
	var from, chamber, dump fluid.State
	k.from.at(vessel, &from)
	pD := k.out.end
	more := func(pB float64) float64 { // enters the chamber than leaves it
		fill := rate(k.law, k.m, &from, pB, k.bleed)
		if k.guide != nil {
			fill += rate(k.guide, k.m, &from, pB, 1)
		}
		k.m.Throttle(&from, pB, &chamber)
		if k.dump > 0 {
			pD = falling(k.out.end, pB, func(p float64) float64 {
				k.m.Throttle(&from, p, &dump)
				return rate(k.law, k.m, &chamber, p, k.pilot) - rate(k.law, k.m, &dump, k.out.end, k.dump)
			})
		}
		return fill - rate(k.law, k.m, &chamber, pD, k.pilot) - rate(k.law, k.m, &chamber, k.out.end, k.cover)
	}
	pB := falling(k.out.end, vessel, more)
	if k.dump > 0 {
		low++
		q[n-low] = pD / k.pRef
	}
	q[n-1-low] = pB / k.pRef
}

// falling is where a function that falls between lo and hi is zero.
func falling(lo, hi float64, f func(x float64) float64) float64 {
	for range 60 {
		mid := (lo + hi) / 2
		if f(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// Residual implements branch.Problem.
func (k *piloted) Residual(u, r []float64) {
	n := len(u) - 1
	pv := k.pRef * u[n]
	k.from.at(pv, &k.vs)
	for i := range k.p {
		k.p[i] = k.pRef * u[1+i]
		if !(k.p[i] > 0) {
			k.vs.P = math.NaN()
		}
	}
	if math.IsNaN(k.vs.P) {
		for i := range r {
			r[i] = math.NaN()
		}
		return
	}
	// The line, from its end: the orifice passes what block valve and pipe lose for.
	at := 0
	ahead := k.vs
	var inlet, end fluid.State
	switch {
	case k.block > 0 && k.pipe != nil:
		k.m.Throttle(&k.vs, k.p[0], &inlet)
		k.m.Throttle(&k.vs, k.p[1], &end)
		at = 2
	case k.pipe != nil || k.block > 0:
		inlet = k.vs
		k.m.Throttle(&k.vs, k.p[0], &end)
		at = 1
	default:
		end = ahead
	}
	pA, pB := k.p[at], k.p[at+1]
	w := rate(k.law, k.m, &end, pA, k.line)
	switch {
	case at == 2:
		r[1] = (rate(k.law, k.m, &k.vs, k.p[0], k.block) - w) / k.wRef
		r[2] = (k.p[0] - k.p[1] - k.pipe.drop(w, (inlet.V+end.V)/2)) / k.pRef
	case at == 1 && k.pipe != nil:
		r[1] = (pv - k.p[0] - k.pipe.drop(w, (inlet.V+end.V)/2)) / k.pRef
	case at == 1:
		r[1] = (rate(k.law, k.m, &k.vs, k.p[0], k.block) - w) / k.wRef
	}
	first := at + 2 // of the pipes
	if k.dump > 0 {
		first++
	}
	pipes := k.p[first:]
	pT := k.out.end
	if len(pipes) > 0 {
		pT = pipes[0]
	}
	pD := pT
	if k.dump > 0 {
		pD = k.p[at+2]
	}
	var chamber, dump fluid.State
	k.m.Throttle(&k.vs, pA, &k.body)
	k.m.Throttle(&k.vs, pB, &chamber)
	x := k.lift(u[0])
	passes, face := k.through(pT, x)
	fill := rate(k.law, k.m, &k.body, pB, k.bleed)
	if k.guide != nil {
		fill += rate(k.guide, k.m, &k.body, pB, 1)
	}
	let := rate(k.law, k.m, &chamber, pD, k.pilot)
	r[at+1] = (w - passes - fill - rate(k.law, k.m, &k.body, k.out.end, k.drain)) / k.wRef
	r[at+2] = (fill - let - rate(k.law, k.m, &chamber, k.out.end, k.cover)) / k.cRef
	if k.dump > 0 {
		k.m.Throttle(&k.vs, pD, &dump)
		on := rate(k.law, k.m, &dump, pT, k.dump)
		r[at+3] = (let - on) / k.cRef
		let = on
	}
	if len(pipes) > 0 {
		k.out.residual(passes+let, &k.body, pipes, r[first+1:])
		for i := range pipes {
			r[first+1+i] /= k.wRef
		}
	}
	d := &k.v.Spec.Disc
	s := &k.v.Spec.Spring
	r[0] = (pA*(k.ag-k.as) + face*k.as - pB*k.ag + d.Mass*k.m.Gravity + k.extra - s.Preload - s.Rate*x) / k.fRef
	k.w, k.pA, k.pB = w, pA, pB
}

// through is what passes the seat at a lift, and the pressure on the disc's face.
func (k *piloted) through(pT, x float64) (w, face float64) {
	o := &k.open
	x = math.Max(x, 0)
	up := &k.body
	a := math.Pi * o.diameter * x
	share := a * a / (o.bore*o.bore + a*a)
	if o.continuity && up.P >= pT {
		g, f := k.seat.Flux(up, pT, a/o.bore)
		return o.cd*o.bore*g + rate(k.law, k.m, up, pT, o.leak), f
	}
	return rate(k.law, k.m, up, pT, o.leak+o.cd*math.Sqrt(share)*o.bore), share*up.P + (1-share)*pT
}

func (k *piloted) point(u []float64) Point {
	r := make([]float64, k.Size())
	k.Residual(u, r)
	p := Point{Lift: k.lift(u[0]), Vessel: k.pRef * u[len(u)-1], Inlet: k.pA, Chamber: k.pB, Outlet: k.out.end, Flow: k.w, Held: r[0] * k.fRef,
		Slope: math.NaN(), Wave: math.NaN()}
	if math.Abs(p.Flow) < 1e-12*k.wRef {
		p.Flow = 0 // what rounding leaves
	}
	if n := len(k.out.pipes); n > 0 {
		p.Outlet = k.p[len(k.p)-n]
	}
	return p
}
