package viscosity_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
	"underdisc/model/fluid/viscosity"
)

// TestRelease: IAPWS R12-08, table 4, for computer verification with mu2 = 1
// (seen in public copies): all printed digits.
func TestRelease(t *testing.T) {
	for _, c := range []struct{ temperature, density, mu float64 }{
		{298.15, 998, 889.735100}, {298.15, 1200, 1437.649467},
		{373.15, 1000, 307.883622},
		{433.15, 1, 14.538324}, {433.15, 1000, 217.685358},
		{873.15, 1, 32.619287}, {873.15, 100, 35.802262}, {873.15, 600, 77.430195},
		{1173.15, 1, 44.217245}, {1173.15, 100, 47.640433}, {1173.15, 400, 64.154608},
	} {
		t.Run(fmt.Sprintf("%g K %g", c.temperature, c.density), func(t *testing.T) {
			assert.InDelta(t, c.mu, 1e6*viscosity.Water(c.density, c.temperature), 0.51e-6)
		})
	}
}

// state is a state with slopes such that Mu's are those by V and by T.
func state(v, t, x float64) *fluid.State { return &fluid.State{V: v, T: t, X: x, Tu: 1} }

// saturated are water and steam in equilibrium.
func saturated(t float64) (water, steam if97.Point) {
	p := if97.SaturationP(t)
	return if97.Region1(p, t), if97.Region2(p, t)
}

// TestTablesAgainstRelease: over the range that the tables state. On the
// saturation line only their interpolation is left.
func TestTablesAgainstRelease(t *testing.T) {
	s := viscosity.NewSteam()
	worst, where := map[string]float64{}, map[string][2]float64{}
	note := func(name string, v, temperature, x float64) {
		mu, _, _ := s.Mu(state(v, temperature, x))
		d := math.Abs(mu/viscosity.Water(1/v, temperature) - 1)
		if d > worst[name] {
			worst[name], where[name] = d, [2]float64{temperature, 1 / v}
		}
	}
	for temperature := 274.0; temperature < 1073; temperature += 1.7 {
		top := 220e5
		if temperature < 623 {
			top = if97.SaturationP(temperature)
			water, steam := saturated(temperature)
			note("saturated", water.V, temperature, 0)
			note("saturated", steam.V, temperature, 1)
			for p := top; p < 300e5; p += 7e5 {
				note("water", if97.Region1(p, temperature).V, temperature, 0)
			}
		}
		for p := 2e3; p < top; p *= 1.2 {
			name := "steam to 100 bar"
			if p > 100e5 {
				name = "steam above"
			}
			// Region 2 ends where region 3 begins.
			if temperature > 623.15 && temperature < 863.15 && p > if97.Boundary23P(temperature) {
				continue
			}
			note(name, if97.Region2(p, temperature).V, temperature, 1)
		}
	}
	t.Log(worst, where)
	assert.Less(t, worst["saturated"], 1e-4)
	assert.Less(t, worst["water"], 4e-3)
	assert.Less(t, worst["steam to 100 bar"], 4e-3)
	assert.Less(t, worst["steam above"], 1e-2)
}

// TestWetRule: between the two phases the sum of McAdams, and no jump to
// either; the void fraction likewise.
func TestWetRule(t *testing.T) {
	s := viscosity.NewSteam()
	rapid.Check(t, func(t *rapid.T) {
		temperature := rapid.Float64Range(274, 623).Draw(t, "T")
		x := rapid.Float64Range(1e-9, 1-1e-9).Draw(t, "x")
		water, steam := saturated(temperature)
		v := water.V + x*(steam.V-water.V)
		mu, _, _ := s.Mu(state(v, temperature, x))
		fluidity := x/viscosity.Water(1/steam.V, temperature) + (1-x)/viscosity.Water(1/water.V, temperature)
		assert.InEpsilon(t, 1/fluidity, mu, 1e-4)
		alpha, _, _ := s.Void(state(v, temperature, x))
		assert.InDelta(t, x*steam.V/v, alpha, 1e-4)

		for _, edge := range []struct{ v, x float64 }{{water.V, 0}, {steam.V, 1}} {
			pure, _, _ := s.Mu(state(edge.v, temperature, edge.x))
			wet, _, _ := s.Mu(state(edge.v, temperature, 0.5))
			assert.InEpsilon(t, pure, wet, 1e-4)
			void, _, _ := s.Void(state(edge.v, temperature, 0.5))
			assert.InDelta(t, edge.x, void, 1e-4)
		}
	})
}

// TestSlopes: by volume and by temperature against central differences.
func TestSlopes(t *testing.T) {
	s := viscosity.NewSteam()
	rapid.Check(t, func(t *rapid.T) {
		temperature := rapid.Float64Range(275, 622).Draw(t, "T")
		water, steam := saturated(temperature)
		x := rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "phase")
		var v float64
		switch x {
		case 0:
			v = water.V * rapid.Float64Range(0.99, 1).Draw(t, "v")
		case 1:
			v = steam.V * rapid.Float64Range(1, 10).Draw(t, "v")
			temperature += rapid.Float64Range(0, 400).Draw(t, "superheat")
		default:
			v = water.V + rapid.Float64Range(0.001, 0.999).Draw(t, "x")*(steam.V-water.V)
		}
		for name, f := range map[string]func(*fluid.State) (f, byV, byU float64){"mu": s.Mu, "void": s.Void} {
			value, byV, byT := f(state(v, temperature, x))
			at := func(v, t float64) float64 { f, _, _ := f(state(v, t, x)); return f }
			const h = 1e-6
			dv := (at(v*(1+h), temperature) - at(v*(1-h), temperature)) / (2 * h)
			dt := (at(v, temperature*(1+h)) - at(v, temperature*(1-h))) / (2 * h)
			// The tables' second derivative jumps a little at their nodes.
			assert.InDelta(t, dv, byV*v, 1e-8*value+1e-4*math.Abs(dv), name+" by v")
			assert.InDelta(t, dt, byT*temperature, 1e-8*value+1e-4*math.Abs(dt), name+" by T")
		}
	})
}

// TestOutside: trial states outside keep it finite and positive.
func TestOutside(t *testing.T) {
	s := viscosity.NewSteam()
	for _, temperature := range []float64{1, 200, 630, 1100, 5000} {
		for _, v := range []float64{9e-4, 1e-3, 1, 1e3} {
			for _, x := range []float64{0, 0.5, 1} {
				mu, byV, byU := s.Mu(state(v, temperature, x))
				assert.Greater(t, mu, 1e-7)
				assert.Less(t, mu, 1.0)
				assert.False(t, math.IsNaN(byV+byU))
			}
		}
	}
}

func BenchmarkMu(b *testing.B) {
	s := viscosity.NewSteam()
	for _, x := range []float64{0, 0.5, 1} {
		st := state([]float64{1.2e-3, 0.02, 0.05}[int(2*x)], 520, x)
		b.Run(fmt.Sprint(x), func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				_, st.H, _ = s.Mu(st)
			}
		})
	}
	b.Run("build", func(b *testing.B) {
		for range b.N {
			viscosity.NewSteam()
		}
	})
}
