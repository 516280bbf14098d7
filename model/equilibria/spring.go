package equilibria

import (
	"math"
	"slices"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/model/plant"
)

// spring are the statics of a spring-loaded valve:
//
//	net = F(inlet, outlet, x) + Fc(x - off) + lever - F0 - k x - m g
//
// F and the flow by flow.PastDisc. Nodes: the inlet, where it has a length of
// pipe, and the pipes behind it.
type spring struct {
	m      *plant.Model
	v      *plant.SpringValve
	past   flow.PastDisc
	from   vessel
	inlet  *pipe
	out    *outlet
	off    float64
	lever  float64 // N
	extra  float64 // N
	weight float64
	length float64 // over which the lift is stretched
	coarse float64 // beyond which it is not
	pRef   float64
	fRef   float64
	wRef   float64
	faces  float64 // damping ratio of the seat's faces
	layer  float64 // damping of a small flow that swings in the inlet pipe, 1/s

	now    flow.Past
	in, up fluid.State
	p      []float64
}

func newSpring(m *plant.Model, s *plant.SpringMap, o Options) *spring {
	v := s.Spec
	k := &spring{m: m, v: v, past: m.PastDisc(v, m.Plant.Open(v)).Remembering(), from: newVessel(m, v.On, v.Draws),
		out: newOutlet(m, v.Outlet), weight: v.Disc.Mass * m.Gravity, length: v.Seat.Length, coarse: v.Disc.Travel / 12}
	if r := v.Inlet; r != nil {
		entrance := 0.0
		if r.Friction > 0 {
			entrance = 0.5 // as the channel that is the pipe's first has it
		}
		k.layer = m.Net.Channels[slices.IndexFunc(m.Net.Channels, func(c network.Channel) bool { return c.To == s.Inlet })].Damping
		k.inlet = newPipe(r, r.Length*(1-1/(2*math.Max(r.Cells, 1))), entrance)
	}
	if l := v.Lever; l != nil {
		k.off, k.lever = l.Nut, l.Ratio*l.Force*l.Pull
	}
	if d := v.Seat.Debris; d != nil {
		k.off = math.Max(k.off, d.Size)
	}
	if o.Off != nil {
		k.off = *o.Off
	}
	seat, _, _ := v.Areas()
	k.fRef = v.Spring.Preload + k.weight
	k.pRef = k.fRef/seat + k.out.end
	var at fluid.State
	k.from.at(k.pRef, &at)
	bore := math.Pi / 4 * v.Nozzle.Bore * v.Nozzle.Bore
	k.wRef = bore * law(m).Flux(&at, 0)
	k.faces = m.Net.Movers[s.Disc].Seat.Ratio
	k.p = make([]float64, len(k.out.pipes))
	return k
}

// Size implements branch.Problem.
func (k *spring) Size() int {
	n := 1 + len(k.out.pipes)
	if k.inlet != nil {
		n++
	}
	return n
}

func (k *spring) scale() (pressure, force float64) { return k.pRef, k.fRef }

func (k *spring) push(f float64) { k.extra = f }

// stretch goes with the logarithm of the gap near the seat, where micrometres
// count, and with the lift beyond:
//
//	z = asinh(e/l) + e/b, e = x - off
func (k *spring) stretch(lift float64) float64 {
	e := lift - k.off
	return math.Asinh(e/k.length) + e/k.coarse
}

// lift inverts it by Newton's method from a side from which it cannot overshoot.
func (k *spring) lift(z float64) float64 {
	e := k.length * math.Sinh(math.Max(-60, math.Min(z, 60)))
	if far := k.coarse * z; math.Abs(far) < math.Abs(e) {
		e = far
	}
	for range 60 {
		step := (math.Asinh(e/k.length) + e/k.coarse - z) / (1/math.Hypot(e, k.length) + 1/k.coarse)
		e -= step
		if math.Abs(step) <= 1e-16*math.Abs(e) {
			break
		}
	}
	return k.off + e
}

func (k *spring) unstretch(z float64) float64 {
	e := k.lift(z) - k.off
	return 1 / (1/math.Hypot(e, k.length) + 1/k.coarse)
}

// contact is the force between the faces at the gap e, see plant.SpringSeat: an
// exponential, and below four lengths the straight line that goes on from it.
func contact(s *plant.SpringSeat, e float64) float64 {
	const lowest = -4
	if z := e / s.Length; z > lowest {
		return s.Force * math.Exp(-z)
	}
	return s.Force * math.Exp(-lowest) * (1 + lowest - e/s.Length)
}

// contactSlope is its slope by the gap, not above zero.
func contactSlope(s *plant.SpringSeat, e float64) float64 {
	return -s.Force / s.Length * math.Exp(-math.Max(e/s.Length, -4))
}

func (k *spring) rest(_ float64, q []float64) {
	if k.inlet != nil {
		q[0] = q[len(q)-1]
	}
	for i := range k.out.pipes {
		q[len(q)-2-i] = k.out.end / k.pRef
	}
}

// Residual implements branch.Problem.
func (k *spring) Residual(u, r []float64) {
	pv := k.pRef * u[len(u)-1]
	k.from.at(pv, &k.in)
	k.up = k.in
	first := 1
	if k.inlet != nil {
		k.m.Throttle(&k.in, k.pRef*u[1], &k.up)
		first = 2
	}
	down := k.out.end
	for i := range k.p {
		k.p[i] = k.pRef * u[first+i]
	}
	if len(k.p) > 0 {
		down = k.p[0]
	}
	x := k.lift(u[0])
	if math.IsNaN(k.up.P+down) || k.up.P <= 0 {
		for i := range r {
			r[i] = math.NaN()
		}
		return
	}
	k.past.At(&k.up, math.Min(down, k.up.P), x, &k.now)
	w, d := k.now.W, k.v
	r[0] = (k.now.Force + contact(&d.Seat, x-k.off) + k.lever + k.extra - d.Spring.Preload - d.Spring.Rate*x - k.weight) / k.fRef
	if k.inlet != nil {
		r[1] = (pv - k.up.P - k.inlet.drop(w, (k.in.V+k.up.V)/2)) / k.pRef
	}
	if len(k.p) > 0 {
		k.out.residual(w, &k.up, k.p, r[first:])
		for i := range k.p {
			r[first+i] /= k.wRef
		}
	}
}

func (k *spring) point(u []float64) Point {
	r := make([]float64, k.Size())
	k.Residual(u, r)
	p := Point{Lift: k.lift(u[0]), Vessel: k.pRef * u[len(u)-1], Inlet: k.up.P, Outlet: k.out.end, Chamber: k.now.Huddle, Flow: k.now.W, Held: r[0] * k.fRef,
		Slope: math.NaN(), Wave: math.NaN()}
	if len(k.p) > 0 {
		p.Outlet = k.p[0]
	}
	if k.v.LowerRing == nil {
		p.Chamber = math.NaN()
	}
	p.Wave = k.wave(p.Lift)
	return p
}
