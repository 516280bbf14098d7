package fluid_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"underdisc/model/fluid"
)

// plain is a thermal gas of constant heat capacity.
func plain(gamma float64) *fluid.ThermalGas {
	c := fluid.HeatCapacity{Powers: []fluid.Power{{N: gamma / (gamma - 1)}}}
	return fluid.NewThermalGas("plain", 287.05, c, 60, 2000, fluid.Collisions{M: 28.96, Depth: 103.3, Size: 0.36})
}

// TestAirHeatCapacity: cp/R of air at vanishing density by python3-iapws, whose
// equation is written in another form, the Helmholtz energy of the same paper
// (computed; its molar mass is another, so the values are molar).
func TestAirHeatCapacity(t *testing.T) {
	for _, c := range []struct{ t, cp float64 }{
		{60, 3.4915392}, {100, 3.4914228}, {200, 3.4921022}, {300, 3.5003628},
		{400, 3.5301638}, {500, 3.5860857}, {700, 3.7441292}, {1000, 3.9745979},
		{1500, 4.2187443}, {2000, 4.3551272},
	} {
		assert.InDelta(t, c.cp, fluid.Air().Cp(c.t)/fluid.Air().R, 1e-6, "%g K", c.t)
	}
}

// TestAirAgainstRealAir: 300 K and 0.101325 MPa by python3-iapws (computed):
// real air is within 0.15 % in w and cp/cv, 0.06 % in density; and cp of a
// textbook table at 1 atm (Incropera and DeWitt, table A.4; memory), three
// decimals, of which 0.002 at 300 K is the pressure's.
func TestAirAgainstRealAir(t *testing.T) {
	g := fluid.Air()
	assert.InEpsilon(t, 347.320, g.Sound(300), 0.0015)
	assert.InEpsilon(t, 1.40169, g.Gamma(300), 0.0015)
	assert.InEpsilon(t, 1.176996, 1/g.Volume(101325, 300), 0.0006)
	for _, c := range []struct{ t, cp float64 }{
		{300, 1007}, {400, 1014}, {500, 1030}, {600, 1051}, {700, 1075}, {800, 1099}, {900, 1121}, {1000, 1141},
	} {
		assert.InEpsilon(t, c.cp, g.Cp(c.t), 0.0022, "%g K", c.t)
	}
}

// TestNitrogen: cp in J/(mol K), NIST-JANAF tables, 4th edition (memory), and
// the published state at 1000 K and 2 MPa, cp 32.75, w 635.5 m/s, u(1000 K) -
// u(80 K, 1 bar) 20194 J/mol (Span et al. 2000, page 1410; seen second hand),
// of which the pressure makes 0.2, 0.7 and 0.3 %.
func TestNitrogen(t *testing.T) {
	g := fluid.Nitrogen()
	const m = 28.01348
	for _, c := range []struct{ t, cp float64 }{
		{200, 29.107}, {300, 29.125}, {400, 29.249}, {500, 29.580}, {600, 30.110}, {700, 30.754}, {800, 31.433}, {1000, 32.697},
	} {
		assert.InEpsilon(t, c.cp, g.Cp(c.t)*m/1000, 5e-4, "%g K", c.t)
	}
	assert.InEpsilon(t, 32.75, g.Cp(1000)*m/1000, 0.002)
	assert.InEpsilon(t, 635.5, g.Sound(1000), 0.008)
	assert.InEpsilon(t, 21800-1605.7, (g.Energy(1000)-g.Energy(80))*m/1000, 0.004)
}

// TestGasViscosity: Lemmon and Jacobsen 2004, table V, at no density, in
// micropascal seconds (seen in public copies): all printed digits.
func TestGasViscosity(t *testing.T) {
	for _, c := range []struct {
		gas                    *fluid.ThermalGas
		temperature, mu, digit float64
	}{
		{fluid.Nitrogen(), 100, 6.90349, 1e-5}, {fluid.Nitrogen(), 300, 17.8771, 1e-4},
		{fluid.Air(), 100, 7.09559, 1e-5}, {fluid.Air(), 300, 18.5230, 1e-4},
	} {
		mu, _, _ := c.gas.Mu(&fluid.State{T: c.temperature})
		assert.InDelta(t, c.mu, mu*1e6, 0.51*c.digit, "%s %g K", c.gas.Name, c.temperature)
	}
}

// TestThermalGasIntegrals: energy and entropy against quadrature of cp, and
// energy zero at 0 K with the cold end's heat capacity below it.
func TestThermalGasIntegrals(t *testing.T) {
	for _, g := range []*fluid.ThermalGas{fluid.Air(), fluid.Nitrogen(), plain(1.4)} {
		for _, k := range [][2]float64{{70, 300}, {300, 1000}, {1000, 1900}, {20, 50}, {2100, 3000}} {
			h := quad.Fixed(g.Cp, k[0], k[1], 100, quad.Legendre{}, 0)
			s := quad.Fixed(func(t float64) float64 { return g.Cp(t) / t }, k[0], k[1], 100, quad.Legendre{}, 0)
			assert.InEpsilon(t, h, g.Enthalpy(k[1])-g.Enthalpy(k[0]), 1e-11)
			assert.InEpsilon(t, s, g.Entropy(k[1])-g.Entropy(k[0]), 1e-11)
		}
		assert.InEpsilon(t, g.Cp(1)-g.R, g.Energy(1), 1e-12)
		for _, end := range []float64{g.Coldest, g.Hottest} {
			assert.InDelta(t, g.Enthalpy(end*(1-1e-12)), g.Enthalpy(end*(1+1e-12)), 1e-4)
			assert.InDelta(t, g.Entropy(end*(1-1e-12)), g.Entropy(end*(1+1e-12)), 1e-7)
		}
	}
}

// TestThermalGasAt: from u back to T over the whole range and beyond, p v = R T,
// and the slopes against central differences.
func TestThermalGasAt(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom([]*fluid.ThermalGas{fluid.Air(), fluid.Nitrogen(), plain(1.3)}).Draw(t, "gas")
		temperature := rapid.Float64Range(30, 2500).Draw(t, "T")
		v := math.Exp(rapid.Float64Range(-6, 4).Draw(t, "ln v"))
		u := g.Energy(temperature)
		var s fluid.State
		g.At(v, u, &s)
		worst = max(worst, math.Abs(s.T-temperature))
		assert.InDelta(t, temperature, s.T, 2e-8)
		assert.InEpsilon(t, g.R*s.T, s.P*v, 1e-14)
		assert.InEpsilon(t, u+s.P*v, s.H, 1e-14)
		assert.Equal(t, 1.0, s.X)
		check := func(name string, of func(*fluid.State) float64, byV, byU float64) {
			at := func(dv, du float64) float64 {
				var s fluid.State
				g.At(v*(1+dv), u*(1+du), &s)
				return of(&s)
			}
			central := &fd.Settings{Formula: fd.Central, Step: 1e-6}
			scale := math.Abs(of(&s))
			assert.InDelta(t, fd.Derivative(func(e float64) float64 { return at(e, 0) }, 0, central), byV*v, 1e-7*scale, name)
			assert.InDelta(t, fd.Derivative(func(e float64) float64 { return at(0, e) }, 0, central), byU*u, 1e-6*scale, name)
		}
		check("p", func(s *fluid.State) float64 { return s.P }, s.Pv, s.Pu)
		check("T", func(s *fluid.State) float64 { return s.T }, s.Tv, s.Tu)
		check("h", func(s *fluid.State) float64 { return s.H }, s.Hv, s.Hu)
		if math.Abs(temperature-60) > 1 && math.Abs(temperature-2000) > 1 {
			_, muV, muU := g.Mu(&s)
			check("mu", func(s *fluid.State) float64 { mu, _, _ := g.Mu(s); return mu }, muV, muU)
		}
	})
	t.Logf("T from u to %.1e K", worst)
}

// TestThermalGasIsGas: of constant heat capacity it is the gas of the bench.
func TestThermalGasIsGas(t *testing.T) {
	gas := fluid.Gas{Gamma: 1.4, R: 287.05}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-3, 10).Draw(t, "v")
		u := rapid.Float64Range(1e3, 3e6).Draw(t, "u")
		var a, b fluid.State
		gas.At(v, u, &a)
		plain(1.4).At(v, u, &b)
		for _, k := range [][2]float64{{a.P, b.P}, {a.T, b.T}, {a.H, b.H}, {a.Pv, b.Pv}, {a.Pu, b.Pu}, {a.Tu, b.Tu}, {a.Hu, b.Hu}} {
			assert.InEpsilon(t, k[0], k[1], 1e-11, fmt.Sprint(a, b))
		}
	})
}

// TestThermalGasOutside: NaN outside the domain, which refuses a step.
func TestThermalGasOutside(t *testing.T) {
	for _, k := range [][2]float64{{0, 1e5}, {-1, 1e5}, {1, 0}, {1, -1}, {math.NaN(), 1e5}, {1, math.NaN()}} {
		var s fluid.State
		fluid.Air().At(k[0], k[1], &s)
		for _, x := range []float64{s.P, s.T, s.H} {
			assert.True(t, math.IsNaN(x), "%v", k)
		}
	}
}

// TestThermalGasDoesNotAllocate: neither the state nor the viscosity.
func TestThermalGasDoesNotAllocate(t *testing.T) {
	g := fluid.Air()
	var s fluid.State
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		g.At(0.1, 3e5, &s)
		s.H, _, _ = g.Mu(&s)
	}))
}

func BenchmarkThermalGas(b *testing.B) {
	g := fluid.Air()
	var s fluid.State
	for i := range b.N {
		g.At(0.1, 3e5+float64(i&0xffff), &s)
	}
}
