package equilibrium_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// moved is a state moved along its own slopes, so that the law's are tested and
// not the fluid's. Quality stays: the phase decides the branch.
func moved(s *fluid.State, dv, du float64) fluid.State {
	m := *s
	m.V += dv
	m.U += du
	m.P += s.Pv*dv + s.Pu*du
	m.T += s.Tv*dv + s.Tu*du
	m.H += s.Hv*dv + s.Hu*du
	return m
}

// TestSlopes: against central differences of Flux, at random inlets and
// downstream pressures, choked, subcritical and nearly equal. Steps that reach
// over a kink (where it chokes, where the expansion starts to boil) are told by
// differences to the two sides that disagree, and counted.
func TestSlopes(t *testing.T) {
	law, tables := equilibrium.Shared(), water.Shared()
	for _, kind := range kinds {
		r := rand.New(rand.NewPCG(4, uint64(len(kind))))
		var off worst
		kinks, n := 0, 1000*long()
		for range n {
			x := anyInlet(t, r, kind)
			var s fluid.State
			tables.At(x.state.V, x.state.U, &s)
			if s.X > 0 && s.X < 1e-7 {
				continue // too near the line for differences
			}
			ratio := 1 - math.Max(1e-6, math.Pow(r.Float64(), float64(1+r.IntN(5))))
			pd := ratio * s.P
			var f flow.Flux
			law.FluxSlopes(&s, pd, &f)
			g := law.Flux(&s, pd)
			assert.InEpsilon(t, 1, (1+g)/(1+f.G), 1e-10)

			// Steps that move p0 and p0 - pd by little.
			step := 1e-4 * (s.P - pd)
			if room := s.P - x.direct.Boil; kind == "water" && room > 0 {
				step = min(step, 1e-4*room)
			}
			hv := min(1e-5*s.V, step/math.Abs(s.Pv))
			hu := min(1e-5*s.U, step/math.Abs(s.Pu))
			if s.X > 0 && s.X < 1 {
				hv = max(1e-11*s.V, min(hv, 0.01*(s.V-wetAt(s.P, 0).V), 0.01*(1-s.X)*s.V))
			}
			for k, c := range []struct {
				got, h float64
				at     func(h float64) float64
			}{
				{f.Gv, hv, func(h float64) float64 { m := moved(&s, h, 0); return law.Flux(&m, pd) }},
				{f.Gu, hu, func(h float64) float64 { m := moved(&s, 0, h); return law.Flux(&m, pd) }},
				{f.Gp, step, func(h float64) float64 { return law.Flux(&s, pd+h) }},
			} {
				up, down := (c.at(c.h)-g)/c.h, (g-c.at(-c.h))/c.h
				want := (up + down) / 2
				// Rounding of G, of the drop in h, and of what is moved.
				noise := (1e-11+3e-11/((s.P-pd)*s.V))*g/c.h + []float64{4e-16 * s.V, 4e-16 * s.U, 4e-16 * s.P}[k]/c.h*math.Abs(want)
				size := math.Max(math.Abs(want), math.Abs(c.got)) + 1e-3*g/[]float64{s.V, s.U, s.P}[k]
				if math.Abs(up-down) > 2e-3*size+noise {
					kinks++
					continue
				}
				off.see(math.Max(0, math.Abs(c.got-want)-noise)/size, &x, ratio)
			}
		}
		t.Logf("%s: slopes off by %.1e of themselves (%s); %d of %d at a kink", kind, off.e, off.where, kinks, 3*n)
		assert.Less(t, off.e, 2e-3, kind)
		assert.Less(t, kinks, 3*n/40, kind)
	}
}

// TestJoins: no jump in the flux where it chokes, where the cubic near equal
// pressures begins, and where the expansion begins to boil.
func TestJoins(t *testing.T) {
	law := equilibrium.Shared()
	for _, kind := range kinds {
		r := rand.New(rand.NewPCG(5, uint64(len(kind))))
		var off worst
		for range 1000 * long() {
			x := anyInlet(t, r, kind)
			_, rc := law.Critical(&x.state)
			p := x.state.P
			for _, at := range []float64{rc * p, p * (1 - 1e-3), x.direct.Boil} {
				if !(at > 0 && at < p) {
					continue
				}
				const h = 1e-9
				a, b := law.Flux(&x.state, at*(1-h)), law.Flux(&x.state, at*(1+h))
				// Where p0 - ps is tiny the flux itself is steep.
				steep := 2 * h * at / (p - at)
				off.see(math.Max(0, math.Abs(a/b-1)-steep), &x, at/p)
			}
		}
		t.Logf("%s: jumps by %.1e at most (%s)", kind, off.e, off.where)
		assert.Less(t, off.e, 2e-8, kind)
	}
}

// TestFallsWithDownstream: the flux never grows with the downstream pressure,
// and vanishes, linearly, with the difference.
func TestFallsWithDownstream(t *testing.T) {
	law := equilibrium.Shared()
	for _, kind := range kinds {
		r := rand.New(rand.NewPCG(6, uint64(len(kind))))
		for range 200 * long() {
			x := anyInlet(t, r, kind)
			last := law.Flux(&x.state, 0)
			for k := range 400 {
				ratio := 1 - math.Pow(1-float64(k)/400, 3)
				g := law.Flux(&x.state, ratio*x.state.P)
				if !assert.LessOrEqual(t, g, last*(1+5e-5), "%s %g: %+v", kind, ratio, x.state) {
					return
				}
				last = g
			}
			assert.Zero(t, law.Flux(&x.state, x.state.P))
			h := 1e-3 * min(1e-3, (x.state.P-x.direct.Boil)/x.state.P)
			if kind != "water" {
				h = 1e-6
			}
			one, two := law.Flux(&x.state, x.state.P*(1-h)), law.Flux(&x.state, x.state.P*(1-2*h))
			assert.InEpsilon(t, 2, two/one, 1e-4, "%s %+v", kind, x.state)
		}
	}
}

// TestAcrossTheLine: an inlet on the saturation line passes the same whichever
// phase it is told to be.
func TestAcrossTheLine(t *testing.T) {
	law := equilibrium.Shared()
	var steam, liquid float64
	for p := 2000.0; p < 16.5e6; p *= 1.003 {
		for _, ratio := range []float64{0, 0.7, 0.9, 0.97, 0.995, 0.9999} {
			a, b := wetAt(p, 1), wetAt(p, 1)
			b.X = 1 - 1e-12
			steam = math.Max(steam, math.Abs(law.Flux(&a, ratio*p)/law.Flux(&b, ratio*p)-1))
			a, b = wetAt(p, 0), wetAt(p, 0)
			b.X = 1e-12
			liquid = math.Max(liquid, math.Abs(law.Flux(&a, ratio*p)/law.Flux(&b, ratio*p)-1))
		}
	}
	t.Logf("steam to wet %.1e, water to wet %.1e", steam, liquid)
	assert.Less(t, steam, 1e-5)
	assert.Less(t, liquid, 1e-5)
}

// TestTrialStates: whatever a fluid yields for a trial state, the flux and its
// slopes are finite and the flux not negative.
func TestTrialStates(t *testing.T) {
	law, tables := equilibrium.Shared(), water.Shared()
	r := rand.New(rand.NewPCG(7, 7))
	for range 200000 * long() {
		v, u := math.Exp(60*r.Float64()-35), (2*r.Float64()-1)*math.Exp(25*r.Float64())
		if r.IntN(2) == 0 {
			v, u = math.Exp(16*r.Float64()-9), 5e6*r.Float64()-2e5
		}
		var s fluid.State
		tables.At(v, u, &s)
		var f flow.Flux
		pd := s.P * r.Float64()
		law.FluxSlopes(&s, pd, &f)
		sum := f.G + f.Gv + f.Gu + f.Gp
		if !assert.True(t, f.G >= 0 && !math.IsNaN(sum) && !math.IsInf(sum, 0), "v %g u %g: %+v", v, u, f) {
			return
		}
		alpha, byV, byU := law.Void(&s)
		assert.True(t, alpha >= 0 && alpha <= 1 && !math.IsNaN(byV+byU), "v %g u %g: void %g", v, u, alpha)
	}
}

// TestVoid: alpha = x v"/v, and its slopes against differences.
func TestVoid(t *testing.T) {
	law, tables := equilibrium.Shared(), water.Shared()
	r := rand.New(rand.NewPCG(8, 8))
	for range 500 {
		x := anyInlet(t, r, "wet")
		var s, a, b fluid.State
		tables.At(x.state.V, x.state.U, &s)
		if s.X < 1e-3 || s.X > 1-1e-3 {
			continue
		}
		alpha, byV, byU := law.Void(&s)
		vg := wetAt(s.P, 1).V
		assert.InDelta(t, s.X*vg/s.V, alpha, 1e-5, "%+v", s)
		h := 1e-6 * s.U
		tables.At(s.V, s.U+h, &a)
		tables.At(s.V, s.U-h, &b)
		up, _, _ := law.Void(&a)
		down, _, _ := law.Void(&b)
		assert.InDelta(t, (up-down)/(2*h)*s.U, byU*s.U, 1e-3*math.Abs(byU*s.U)+1e-6)
		h = 1e-6 * (s.V - wetAt(s.P, 0).V)
		tables.At(s.V+h, s.U, &a)
		tables.At(s.V-h, s.U, &b)
		up, _, _ = law.Void(&a)
		down, _, _ = law.Void(&b)
		assert.InDelta(t, (up-down)/(2*h)*s.V, byV*s.V, 1e-3*math.Abs(byV*s.V)+1e-6)
	}
}

// TestNoAllocation: the balances ask thousands of times a step.
func TestNoAllocation(t *testing.T) {
	law := equilibrium.Shared()
	for _, s := range []fluid.State{steamAt(4e6, 600), wetAt(4e6, 0.3), waterAt(4e6, 500)} {
		var f flow.Flux
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			law.Flux(&s, 3.9e6)
			law.FluxSlopes(&s, 1e5, &f)
			law.Critical(&s)
		}))
	}
}
