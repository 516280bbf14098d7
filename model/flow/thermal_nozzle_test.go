package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/diff/fd"
	"pgregory.net/rapid"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// constant is a thermal gas that has the heat capacity of a gas of the bench.
func constant(gamma float64) *fluid.ThermalGas {
	c := fluid.HeatCapacity{Powers: []fluid.Power{{N: gamma / (gamma - 1)}}}
	return fluid.NewThermalGas("constant", air.R, c, 60, 2000, fluid.Collisions{M: 28.96, Depth: 103.3, Size: 0.36})
}

// hot is a thermal gas at a pressure and a temperature.
func hot(g *fluid.ThermalGas, p, t float64) (s fluid.State) {
	g.At(g.Volume(p, t), g.Energy(t), &s)
	return s
}

// direct is the flux into down by integration from the definitions: along the
// isentrope d ln T/d ln p = R/cp(T), by Runge-Kutta in ln p, the speed from the
// integral of v dp, the greatest flux on the way. Only cp(T) is the gas's.
func direct(g *fluid.ThermalGas, p0, t0, down float64) (flux, ratio float64) {
	const steps = 4000
	h := math.Log(down/p0) / steps
	slope := func(lnT float64) float64 { return g.R / g.Cp(math.Exp(lnT)) }
	lnT, head := math.Log(t0), 0.0
	best, at := 0.0, 0.0
	for i := range steps {
		k1 := slope(lnT)
		k2 := slope(lnT + h/2*k1)
		k4 := slope(lnT + h*k2)
		mid, end := lnT+h/2*k2, lnT+h/6*(k1+4*k2+k4)
		head -= h / 6 * g.R * (math.Exp(lnT) + 4*math.Exp(mid) + math.Exp(end))
		lnT = end
		p := p0 * math.Exp(h*float64(i+1))
		if f := p / (g.R * math.Exp(lnT)) * math.Sqrt(2*head); f > best {
			best, at = f, p/p0
		}
	}
	return best, at
}

// TestThermalNozzleAgainstIntegration: choked and not, air and nitrogen, cold
// and hot. The integration's step finds the greatest flux to 1e-7.
func TestThermalNozzleAgainstIntegration(t *testing.T) {
	for _, g := range []*fluid.ThermalGas{fluid.Air(), fluid.Nitrogen()} {
		n := flow.NewThermalNozzle(g)
		for _, t0 := range []float64{90, 203, 300, 455, 700, 1004, 1500, 1950} {
			for _, r := range []float64{0.3, 0.6, 0.8, 0.95, 0.99} {
				const p0 = 12e5
				up := hot(g, p0, t0)
				want, at := direct(g, p0, t0, r*p0)
				var f flow.Flux
				n.FluxSlopes(&up, r*p0, &f)
				assert.InEpsilon(t, want, f.G, 2e-7, "%s %g K r %g", g.Name, t0, r)
				assert.Equal(t, r == 0.3, f.Choked)
				if f.Choked {
					// The flux is flat about the critical ratio.
					var below, above flow.Flux
					n.FluxSlopes(&up, (at-1e-3)*p0, &below)
					n.FluxSlopes(&up, (at+1e-3)*p0, &above)
					assert.True(t, below.Choked)
					assert.False(t, above.Choked)
				}
			}
		}
	}
}

// TestThermalNozzleIsNozzle: of a constant heat capacity it is Nozzle, the
// cubic near equal pressures included.
func TestThermalNozzleIsNozzle(t *testing.T) {
	for _, gamma := range []float64{1.1, 1.3, 1.4, 5. / 3} {
		gas := fluid.Gas{Gamma: gamma, R: air.R}
		nozzle, thermal := flow.NewNozzle(&gas), flow.NewThermalNozzle(constant(gamma))
		rapid.Check(t, func(t *rapid.T) {
			up, down := anyState(t, &gas)
			assert.InDelta(t, nozzle.Flux(&up, down), thermal.Flux(&up, down), 2e-10*nozzle.Flux(&up, 0))
			var a, b flow.Flux
			nozzle.FluxSlopes(&up, down, &a)
			thermal.FluxSlopes(&up, down, &b)
			assert.InDelta(t, a.Gp*up.P, b.Gp*up.P, 1e-7*nozzle.Flux(&up, 0))
			assert.InDelta(t, a.Gu*up.U, b.Gu*up.U, 1e-7*nozzle.Flux(&up, 0))
			assert.InDelta(t, a.Gv*up.V, b.Gv*up.V, 1e-7*nozzle.Flux(&up, 0))
		})
	}
}

// TestThermalNozzleWithConstantGamma: how far Nozzle with the heat capacity
// ratio of the upstream temperature is from it, the reason for the law:
// 1.5e-4 near room temperature, 1.5e-3 to 1.8e-3 when hot, where gamma 1.4 for
// all temperatures is 0.5 to 1.5 % off.
func TestThermalNozzleWithConstantGamma(t *testing.T) {
	g := fluid.Air()
	n := flow.NewThermalNozzle(g)
	for _, c := range []struct{ t0, most float64 }{{300, 2e-4}, {600, 2e-3}, {1000, 2e-3}} {
		up := hot(g, 12e5, c.t0)
		local := flow.NewNozzle(&fluid.Gas{Gamma: g.Gamma(c.t0), R: g.R}).Flux(&up, 1e5)
		cold := flow.NewNozzle(&fluid.Gas{Gamma: 1.4, R: g.R}).Flux(&up, 1e5)
		got := n.Flux(&up, 1e5)
		t.Logf("%4.0f K: gamma of T0 %+.2e, gamma 1.4 %+.2e", c.t0, local/got-1, cold/got-1)
		assert.InEpsilon(t, got, local, c.most)
	}
}

// TestThermalNozzleSlopes: against central differences, the cubic and the
// choked range among the draws, and the two ways to the flux as one.
func TestThermalNozzleSlopes(t *testing.T) {
	g := fluid.Air()
	l := flow.NewThermalNozzle(g)
	rapid.Check(t, func(t *rapid.T) {
		up := hot(g, math.Exp(rapid.Float64Range(10, 15).Draw(t, "ln p")), rapid.Float64Range(61, 1999).Draw(t, "T"))
		down := up.P * rapid.Float64Range(0, 0.9999).Draw(t, "r")
		if rapid.Bool().Draw(t, "near") {
			down = up.P * (1 - math.Exp(rapid.Float64Range(math.Log(1e-6), math.Log(1e-2)).Draw(t, "ln z")))
		}
		var f flow.Flux
		l.FluxSlopes(&up, down, &f)
		scale := l.Flux(&up, 0)
		assert.InDelta(t, l.Flux(&up, down), f.G, 1e-13*scale)
		at := func(v, u, p float64) float64 {
			var s fluid.State
			g.At(v, u, &s)
			return l.Flux(&s, p)
		}
		check := func(name string, by func(e float64) float64, got float64) {
			want := fd.Derivative(by, 0, &fd.Settings{Formula: fd.Central, Step: 1e-7})
			assert.InDelta(t, want, got, 4e-6*scale+1e-4*math.Abs(got), name)
		}
		check("volume", func(e float64) float64 { return at(up.V*(1+e), up.U, down) }, f.Gv*up.V)
		check("energy", func(e float64) float64 { return at(up.V, up.U*(1+e), down) }, f.Gu*up.U)
		check("downstream pressure", func(e float64) float64 { return at(up.V, up.U, down+e*up.P) }, f.Gp*up.P)
	})
}

// TestThermalNozzleJoins: the flux has no jump where the polynomial gives way,
// to choked flow below and to the cubic above: 1e-9 of it.
func TestThermalNozzleJoins(t *testing.T) {
	g := fluid.Nitrogen()
	l := flow.NewThermalNozzle(g)
	rapid.Check(t, func(t *rapid.T) {
		up := hot(g, 12e5, rapid.Float64Range(65, 1990).Draw(t, "T"))
		flux := func(r float64) float64 { return l.Flux(&up, r*up.P) }
		lo, hi := 0.4, 0.7
		for range 60 {
			m := (lo + hi) / 2
			var f flow.Flux
			if l.FluxSlopes(&up, m*up.P, &f); f.Choked {
				lo = m
			} else {
				hi = m
			}
		}
		assert.InEpsilon(t, flux(lo), flux(hi), 1e-9)
		assert.InDelta(t, flux(1-join*(1+1e-12)), flux(1-join*(1-1e-12)), 1e-9*flux(0.1))
	})
}

// TestThermalNozzleDoesNotAllocate: neither way to the flux.
func TestThermalNozzleDoesNotAllocate(t *testing.T) {
	g := fluid.Air()
	l := flow.NewThermalNozzle(g)
	up := hot(g, 12e5, 400)
	var f flow.Flux
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		f.G = l.Flux(&up, 8e5)
		l.FluxSlopes(&up, 8e5, &f)
	}))
}

func BenchmarkThermalNozzle(b *testing.B) {
	g := fluid.Air()
	l := flow.NewThermalNozzle(g)
	up := hot(g, 12e5, 400)
	var f flow.Flux
	for _, k := range []struct {
		name string
		down float64
	}{{"choked", 1e5}, {"not", 9e5}} {
		b.Run(k.name, func(b *testing.B) {
			for range b.N {
				f.G = l.Flux(&up, k.down)
			}
		})
		b.Run(k.name+" slopes", func(b *testing.B) {
			for range b.N {
				l.FluxSlopes(&up, k.down, &f)
			}
		})
	}
	b.Run("build", func(b *testing.B) {
		for range b.N {
			flow.NewThermalNozzle(g)
		}
	})
}
