package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
	"underdisc/model/fluid/viscosity"
)

// mist is drops that keep their volume in a gas that expands: what the
// clearance's law takes a mixture to be, as a fluid of its own. p (v - drops) =
// 0.4 u; at drops 0 it is a gas of gamma 1.4. Its viscosity rises with u.
type mist struct{ drops float64 }

func (m mist) At(v, u float64, s *fluid.State) {
	gas := v - m.drops
	*s = fluid.State{V: v, U: u, P: 0.4 * u / gas, Pv: -0.4 * u / (gas * gas), Pu: 0.4 / gas}
}

func (m mist) Mu(s *fluid.State) (mu, byV, byU float64) {
	mu = 2e-5 * math.Pow(s.U/2e5, 0.7)
	return mu, 0, 0.7 * mu / s.U
}

func (m mist) Void(s *fluid.State) (alpha, byV, byU float64) {
	return 1 - m.drops/s.V, m.drops / (s.V * s.V), 0
}

// anyMist draws a mist, from nearly all gas to nearly all drops, and a state.
func anyMist(t *rapid.T) (m mist, up fluid.State, down float64) {
	v := math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1)).Draw(t, "ln v"))
	liquid := rapid.SampledFrom([]float64{0, 1e-6, 1e-3, 0.02, 0.3, 0.9, 0.99}).Draw(t, "liquid")
	m = mist{v * liquid}
	p := math.Exp(rapid.Float64Range(math.Log(1e5), math.Log(1e7)).Draw(t, "ln p"))
	m.At(v, p*(v-m.drops)/0.4, &up)
	return m, up, up.P * rapid.Float64Range(0.01, 0.999).Draw(t, "r")
}

// TestClearanceOfMixtures: the flux put back into the balance of momentum, the
// integral of the density by quadrature along the mist's own isotherm.
func TestClearanceOfMixtures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, up, down := anyMist(t)
		d, c, length := 0.07, rapid.Float64Range(5e-6, 2e-4).Draw(t, "clearance"), 0.03
		w := flow.NewClearance(m, d, c, length).Flux(&up, down)
		rho := func(lnp float64) float64 {
			p := math.Exp(lnp)
			return p / (m.drops + 0.4*up.U/p)
		}
		want := quad.Fixed(rho, math.Log(down), math.Log(up.P), 60, quad.Legendre{}, 0)
		mu, _, _ := m.Mu(&up)
		area := math.Pi * d * c
		got := 12*mu*length/(area*c*c)*w + 0.75*(w/area)*(w/area)
		assert.InEpsilon(t, want, got, 1e-9)
	})
}

// TestClearanceOfLiquid: friction and heads of a liquid, rho (pu - pd) =
// (12 mu L/(pi D c^3)) W + 3/4 (W/(pi D c))^2, and the mist with hardly any
// gas comes to it, as the mist with no drops comes to the gas.
func TestClearanceOfLiquid(t *testing.T) {
	const d, c, length, v, pu, pd, viscosity = 0.07, 20e-6, 0.03, 1.2e-3, 40e5, 1e5, 1.2e-4
	up := fluid.State{V: v, P: pu}
	area := math.Pi * d * c
	b := 12 * viscosity * length / (area * c * c)
	a := 0.75 / (area * area)
	want := (-b + math.Sqrt(b*b+4*a*(pu-pd)/v)) / (2 * a)
	thin := fluid.Gas{Viscosity: viscosity}
	got := flow.NewClearance(&thin, d, c, length).Flux(&up, pd)
	t.Logf("%.2f g/s, Re %.0f", got*1e3, 2*got/(math.Pi*d*viscosity))
	assert.InEpsilon(t, want, got, 1e-13)

	for _, k := range []float64{1e-3, 1e-6, 1e-9} {
		m := wetted{&thin, k}
		assert.InEpsilon(t, want, flow.NewClearance(m, d, c, length).Flux(&up, pd), 5*k)
		up.X = 1
		dry := flow.NewClearance(&thin, d, c, length).Flux(&up, pd)
		m.alpha = 1 - k
		assert.InEpsilon(t, dry, flow.NewClearance(m, d, c, length).Flux(&up, pd), 5*k)
		up.X = 0
	}
}

// wetted is a gas that says it has a void fraction.
type wetted struct {
	*fluid.Gas
	alpha float64
}

func (w wetted) Void(*fluid.State) (alpha, byV, byU float64) { return w.alpha, 0, 0 }

// TestClearanceOfSteam: saturated steam and water at 40 bar into 10 bar, with
// the viscosities of IAPWS R12-08 (17.443 and 106.12 micropascal seconds; by
// python3-iapws, computed), put back into the balance; and no jump at either
// end of the wet range.
func TestClearanceOfSteam(t *testing.T) {
	const p, down, d, c, length = 40e5, 10e5, 0.07, 18e-6, 0.03
	temperature := if97.SaturationT(p)
	water, steam := if97.Region1(p, temperature), if97.Region2(p, temperature)
	l := flow.NewClearance(viscosity.NewSteam(), d, c, length)
	turbulent := flow.NewClearance(viscosity.NewSteam(), d, c, length).Turbulent()
	state := func(x float64) *fluid.State {
		return &fluid.State{P: p, T: temperature, V: water.V + x*(steam.V-water.V), X: x}
	}
	flux := func(x float64) float64 { return l.Flux(state(x), down) }
	area := math.Pi * d * c
	for _, k := range []struct{ x, mu, integral float64 }{
		{1, 1.744260e-05, (p*p - down*down) / (2 * p * steam.V)},
		{0, 1.06118e-04, (p - down) / water.V},
	} {
		w := flux(k.x)
		rough := turbulent.Flux(state(k.x), down)
		t.Logf("x %g: %.3f g/s, Re %.0f; turbulent %.3f g/s, Re %.0f", k.x, w*1e3, 2*w/(math.Pi*d*k.mu), rough*1e3, 2*rough/(math.Pi*d*k.mu))
		assert.InEpsilon(t, k.integral, 12*k.mu*length/(area*c*c)*w+0.75*(w/area)*(w/area), 2e-4)
	}
	assert.InEpsilon(t, flux(0), flux(1e-7), 1e-3)
	assert.InEpsilon(t, flux(1), flux(1-1e-7), 1e-3)
}

// TestClearanceSlopesOfMixtures: the derivatives, those of the viscosity and of
// the void fraction among them, against central differences.
func TestClearanceSlopesOfMixtures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, up, down := anyMist(t)
		l := flow.NewClearance(m, 0.07, rapid.Float64Range(5e-6, 2e-4).Draw(t, "clearance"), 0.03)
		var f flow.Flux
		l.FluxSlopes(&up, down, &f)
		assert.InEpsilon(t, l.Flux(&up, down), f.G, 1e-13)
		at := func(v, u, p float64) float64 {
			var s fluid.State
			m.At(v, u, &s)
			return l.Flux(&s, p)
		}
		scale := l.Flux(&up, 0)
		check := func(name string, by func(e float64) float64, got float64) {
			want := fd.Derivative(by, 0, &fd.Settings{Formula: fd.Central, Step: 1e-7})
			assert.InDelta(t, want, got, 1e-5*scale+1e-5*math.Abs(got), name)
		}
		check("volume", func(e float64) float64 { return at(up.V*(1+e*(1-m.drops/up.V)), up.U, down) }, f.Gv*(up.V-m.drops))
		check("energy", func(e float64) float64 { return at(up.V, up.U*(1+e), down) }, f.Gu*up.U)
		check("downstream pressure", func(e float64) float64 { return at(up.V, up.U, down*(1+e)) }, f.Gp*down)
	})
}

// TestClearanceTurbulent: below its Reynolds number the laminar law, bit for
// bit; above, the flux put back into the balance with the factor of Blasius,
// 0.316/Re^(1/4) on a hydraulic diameter of 2c: the integral of the density is
// lambda L/(2c) G^2/2 + 3/4 G^2. No jump between the two, and the slopes.
func TestClearanceTurbulent(t *testing.T) {
	above := 0
	rapid.Check(t, func(t *rapid.T) {
		m, up, down := anyMist(t)
		c, length := rapid.Float64Range(5e-6, 1e-4).Draw(t, "clearance"), 0.03
		laminar := flow.NewClearance(m, 0.07, c, length).Flux(&up, down)
		l := flow.NewClearance(m, 0.07, c, length).Turbulent()
		mu, _, _ := m.Mu(&up)
		area := math.Pi * 0.07 * c
		w := l.Flux(&up, down)
		re := 2 * c * w / (area * mu)
		if re < 2042 {
			assert.Equal(t, laminar, w)
			return
		}
		above++
		assert.LessOrEqual(t, w, laminar)
		g := laminar / area
		integral := 12*mu*length/(c*c)*g + 0.75*g*g // what drives the flow
		g = w / area
		assert.InEpsilon(t, integral, 0.316/math.Pow(re, 0.25)*length/(2*c)*g*g/2+0.75*g*g, 1e-4)

		var f flow.Flux
		l.FluxSlopes(&up, down, &f)
		assert.InEpsilon(t, w, f.G, 1e-13)
		if re < 2050 {
			return
		}
		at := func(v, u, p float64) float64 {
			var s fluid.State
			m.At(v, u, &s)
			return l.Flux(&s, p)
		}
		central := &fd.Settings{Formula: fd.Central, Step: 1e-6}
		gas := 1 - m.drops/up.V
		assert.InDelta(t, fd.Derivative(func(e float64) float64 { return at(up.V*(1+e*gas), up.U, down) }, 0, central), f.Gv*up.V*gas, 2e-5*laminar/(1-down/up.P))
		assert.InDelta(t, fd.Derivative(func(e float64) float64 { return at(up.V, up.U*(1+e), down) }, 0, central), f.Gu*up.U, 2e-5*laminar/(1-down/up.P))
		assert.InDelta(t, fd.Derivative(func(e float64) float64 { return at(up.V, up.U, down*(1+e)) }, 0, central), f.Gp*down, 2e-5*laminar/(1-down/up.P))
	})
	assert.Greater(t, above, 2, "draws above the turn")
}

// TestClearanceDoesNotAllocate: nor does it with a fluid that says its own void
// fraction.
func TestClearanceDoesNotAllocate(t *testing.T) {
	m := mist{1e-3}
	var up fluid.State
	m.At(0.1, 2e5, &up)
	l := flow.NewClearance(&m, 0.07, 20e-6, 0.03)
	var f flow.Flux
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		f.G = l.Flux(&up, 1e5)
		l.FluxSlopes(&up, 1e5, &f)
	}))
}
