package equilibrium_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

const (
	psi  = 6894.7572932      // Pa
	inch = 0.0254            // m
	lbph = 0.45359237 / 3600 // lb/h in kg/s
)

func fahrenheit(f float64) float64 { return (f + 459.67) / 1.8 }

func saturatedSteam(p float64) fluid.State { return wetAt(p, 1) }

// TestSaturatedSteam: critical flux and throat pressure of dry saturated steam,
// homogeneous equilibrium, IF97. Source: a separate program on python3-iapws;
// trust: computed.
func TestSaturatedSteam(t *testing.T) {
	law := equilibrium.Shared()
	for _, c := range []struct{ mpa, g, ratio float64 }{
		{0.5, 735.55, .5766}, {1, 1443.96, .5767}, {3, 4246.96, .5792}, {5, 7079.13, .5825},
		{7, 9978.42, .5862}, {10, 14508.60, .5924}, {12, 17691.20, .5970}, {15, 22820.47, .6052},
	} {
		p := c.mpa * 1e6
		d, err := equilibrium.Wet(p, 1)
		require.NoError(t, err)
		d.ByEnthalpy = true
		g, pc := d.Critical()
		// Half of the last digit printed, and its own error.
		assert.InDelta(t, c.g, g, 0.0075, "direct, %g MPa", c.mpa)
		assert.InDelta(t, c.ratio, pc/p, 0.75e-4, "direct, %g MPa", c.mpa)

		s := saturatedSteam(p)
		lg, lr := law.Critical(&s)
		t.Logf("%4g MPa: G %.2f, law %+.1e; ratio %.4f, law %+.1e", c.mpa, g, lg/c.g-1, pc/p, lr*p/pc-1)
		assert.InEpsilon(t, c.g, lg, 1e-5)
		assert.InDelta(t, c.ratio, lr, 0.6e-4)
	}
}

// TestSaturatedWater: the same of water on the line. Source and trust: as above.
func TestSaturatedWater(t *testing.T) {
	law := equilibrium.Shared()
	for _, c := range []struct{ mpa, g, ratio float64 }{{1, 6441, .891}, {7, 26459, .789}} {
		p := c.mpa * 1e6
		d, err := equilibrium.Wet(p, 0)
		require.NoError(t, err)
		byWork, _ := d.Critical()
		d.ByEnthalpy = true
		g, pc := d.Critical()
		assert.InDelta(t, c.g, g, 0.5)
		assert.InDelta(t, c.ratio, pc/p, 0.5e-3)
		s := wetAt(p, 0)
		lg, lr := law.Critical(&s)
		t.Logf("%g MPa: by enthalpy %.1f, by work %.1f, law %.1f, ratio %.4f", c.mpa, g, byWork, lg, lr)
		assert.InEpsilon(t, c.g, lg, 1e-3)
		assert.InEpsilon(t, byWork, lg, 1e-5)
		assert.InDelta(t, c.ratio, lr, 0.6e-3)
	}
}

// napier is the flux by Napier's formula, W[kg/h] = 5.2515 A[mm2] p[MPa], with
// the factor K_N between 1500 and 3200 psig. Trust: memory.
func napier(p float64) float64 {
	g := 5.2515 / 3600 * p
	if psia := p / psi; psia > 1514.7 {
		g *= (0.1906*psia - 1000) / (0.2292*psia - 1061)
	}
	return g
}

// TestNapier: within -3.1 and +1 % from 0.5 to 10.3 MPa, lowest, 0.9694, near
// 4 MPa. The range of deviation is computed; the formula is from memory.
func TestNapier(t *testing.T) {
	law := equilibrium.Shared()
	low, at := 2.0, 0.0
	for p := 0.5e6; p <= 10.3e6; p += 0.05e6 {
		s := saturatedSteam(p)
		r := law.Flux(&s, 0) / napier(p)
		if r < low {
			low, at = r, p
		}
		assert.Greater(t, r, 1-0.031, "%g Pa", p)
		assert.Less(t, r, 1.01, "%g Pa", p)
	}
	t.Logf("lowest %.4f of Napier, at %.2f MPa", low, at/1e6)
	assert.InDelta(t, 0.9694, low, 1e-4)
	assert.InDelta(t, 4e6, at, 0.5e6)
}

// TestSuperheat: flux of superheated steam over that of saturated at the same
// pressure. Source: python3-iapws; trust: computed.
func TestSuperheat(t *testing.T) {
	law := equilibrium.Shared()
	for _, c := range []struct{ psia, f, ratio float64 }{
		{100, 400, .994}, {100, 500, .935}, {100, 600, .885}, {100, 800, .806}, {100, 1000, .745},
		{500, 600, .943}, {500, 800, .845}, {500, 1000, .775},
		{1000, 600, .981}, {1000, 700, .911}, {1000, 800, .857}, {1000, 1000, .779},
	} {
		p := c.psia * psi
		hot, dry := steamAt(p, fahrenheit(c.f)), saturatedSteam(p)
		got := law.Flux(&hot, 0) / law.Flux(&dry, 0)
		t.Logf("%4g psia %4g F: %.4f for %.3f", c.psia, c.f, got, c.ratio)
		assert.InEpsilon(t, c.ratio, got, 0.005)
	}
}

// TestSizingExamples: two examples of API 520 part I; inputs and answers from
// memory, so they are only logged, but for a loose bound. Equilibrium flow of
// steam is not Napier's formula; the liquid one gives the constant of the
// formula, 38 gpm/(in2 sqrt(psi)).
func TestSizingExamples(t *testing.T) {
	law := equilibrium.Shared()
	s := saturatedSteam(1774.7 * psi)
	area := 153500 * lbph / (0.975 * law.Flux(&s, 0)) / (inch * inch)
	t.Logf("steam: %.4f in2 (%+.2f %% of 1.705)", area, 100*(area/1.705-1))
	assert.InEpsilon(t, 1.705, area, 0.05)

	w := waterAt((275+14.7)*psi, fahrenheit(60))
	gpm := 231 * inch * inch * inch / 60
	perInch := law.Flux(&w, (50+14.7)*psi) * w.V * inch * inch / gpm / math.Sqrt(225)
	area = 1800 * math.Sqrt(0.9) / (perInch * 0.65 * 0.97 * math.Sqrt(225))
	t.Logf("liquid: constant %.3f, %.4f in2 (%+.2f %% of 4.752)", perInch, area, 100*(area/4.752-1))
	assert.InEpsilon(t, 38, perInch, 0.005)
	assert.InEpsilon(t, 4.752, area, 0.01)
}

// TestPerfectGasLimit: hot thin steam is a gas of constant kappa = w^2/(p v) over
// a small range of pressure: near the inlet flow.Nozzle with that gamma must
// agree. Limit of theory.
func TestPerfectGasLimit(t *testing.T) {
	const p = 2e4
	x := if97.Region2(p, 900)
	gamma := x.W * x.W / (x.P * x.V)
	gas := &fluid.Gas{Gamma: gamma, R: x.P * x.V / x.T, Viscosity: 1e-5}
	s, ideal := steamAt(p, 900), flow.NewNozzle(gas)
	for _, r := range []float64{0.995, 0.98, 0.95, 0.9, 0.7, 0} {
		a, b := equilibrium.Shared().Flux(&s, r*p), ideal.Flux(&s, r*p)
		t.Logf("ratio %g: %+.1e", r, a/b-1)
		assert.InEpsilon(t, b, a, 2e-4+2e-3*(1-r))
	}
}

// TestColdWater: where nothing flashes the law is G = sqrt(2 dp/v) but for the
// compression, which makes it less by no more than a share dp/(rho w^2).
func TestColdWater(t *testing.T) {
	for _, c := range []struct{ p, t, pd float64 }{
		{1e6, 300, 1e5}, {10e6, 300, 1e5}, {16e6, 320, 1e6}, {4e6, 400, 3e6}, {2e5, 280, 1e5}, {30e6, 300, 1e5},
	} {
		x := if97.Region1(c.p, c.t)
		s := waterAt(c.p, c.t)
		want := math.Sqrt(2 * (c.p - c.pd) / x.V)
		got := equilibrium.Shared().Flux(&s, c.pd)
		share := (c.p - c.pd) * x.V / (x.W * x.W)
		t.Logf("%g to %g Pa, %g K: %.2f, incompressible %+.2e", c.p, c.pd, c.t, got, want/got-1)
		assert.Less(t, got, want)
		assert.Greater(t, got, want*(1-share)*(1-2e-6))
	}
}
