package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"underdisc/model/flow"
)

// A gap of the size found round a disc.
const gapDiameter, gapLength = 0.07, 0.03

// TestClearanceLaminarLimit: between planes, W = rho pi D c^3 dp/(12 mu L)
// (plane Poiseuille flow, e.g. White, Fluid Mechanics, section 4.10; memory).
// At a thousandth of a bar of difference the density is that of the mean
// pressure to 1e-7, and the velocity heads take the part of the pressure that
// is computed below, which shrinks with c^4.
func TestClearanceLaminarLimit(t *testing.T) {
	const p, dp, temperature = 10e5, 100, 300.0
	up := stateOf(&air, p+dp/2, temperature)
	rho := p / (air.R * temperature)
	for _, c := range []float64{2e-6, 5e-6, 10e-6, 20e-6} {
		poiseuille := rho * math.Pi * gapDiameter * c * c * c * dp / (12 * air.Viscosity * gapLength)
		got := flow.NewClearance(&air, gapDiameter, c, gapLength).Flux(&up, p-dp/2)
		speed := poiseuille / (rho * math.Pi * gapDiameter * c)
		heads := 1.5 * rho * speed * speed / 2 / dp
		t.Logf("c %2.0f um: %.6e kg/s, %+.2e of Poiseuille, heads %.2e", c*1e6, got, got/poiseuille-1, heads)
		assert.InDelta(t, 1-heads, got/poiseuille, 3*heads*heads+1e-10)
		assert.Less(t, heads, 1e-3, "friction rules")
	}
}

// TestClearanceInertialLimit: a gap with hardly any length passes what one and
// a half velocity heads let through: dp = 1.5 rho u^2/2 (Bernoulli with
// losses; textbook). A thousandth of a bar at 10 bar; friction over the length
// of 1 um takes a part of the pressure that is computed below.
func TestClearanceInertialLimit(t *testing.T) {
	const p, dp, temperature, c, length = 10e5, 100, 300.0, 100e-6, 1e-6
	up := stateOf(&air, p+dp/2, temperature)
	rho := p / (air.R * temperature)
	want := rho * math.Pi * gapDiameter * c * math.Sqrt(2*dp/(1.5*rho))
	got := flow.NewClearance(&air, gapDiameter, c, length).Flux(&up, p-dp/2)
	friction := 12 * air.Viscosity * length * want / (rho * math.Pi * gapDiameter * c * c * c) / dp
	t.Logf("%.6e kg/s, %+.2e of the loss law, friction %.2e", got, got/want-1, friction)
	assert.Less(t, friction, 0.01)
	// Friction f of the difference leaves 1 - f/2 of the flow.
	assert.InDelta(t, 1-friction/2, got/want, friction*friction)
}

// TestClearanceAgainstNozzle: what the law says of its own range. With heads
// alone it passes sqrt(1/1.5) = 0.82 of a loss-free nozzle at small
// differences, and at most a fifth more than one when the nozzle chokes.
func TestClearanceAgainstNozzle(t *testing.T) {
	const p, temperature, c = 10e5, 300.0, 50e-6
	area := math.Pi * gapDiameter * c
	up := stateOf(&air, p, temperature)
	gap, nozzle := flow.NewClearance(&air, gapDiameter, c, 1e-9), flow.NewNozzle(&air)
	for _, k := range []struct{ r, share, within float64 }{
		{0.99, math.Sqrt(1 / 1.5), 0.01}, // both are incompressible to the first order in 1 - r
		{0.5, math.Sqrt(0.75/1.5) / 0.684731, 1e-4},
		{0, math.Sqrt(1/1.5) / 0.684731, 1e-4}, // C(1.4)
	} {
		got := gap.Flux(&up, k.r*p) / (area * nozzle.Flux(&up, k.r*p))
		t.Logf("r %.2f: %.4f of a loss-free nozzle", k.r, got)
		assert.InEpsilon(t, k.share, got, k.within)
		assert.Less(t, got, 1.2)
	}
}

// TestClearanceShut: no gap, no flow and no slopes, whatever else.
func TestClearanceShut(t *testing.T) {
	up := stateOf(&air, 12e5, 300)
	l := flow.NewClearance(&air, gapDiameter, 0, gapLength)
	f := flow.Flux{G: 1, Gv: 1, Gu: 1, Gp: 1, Choked: true}
	l.FluxSlopes(&up, 1e5, &f)
	assert.Zero(t, l.Flux(&up, 1e5))
	assert.Equal(t, flow.Flux{}, f)
}

// TestClearanceSolvesItsEquation: the flux put back into the balance that
// defines it, pu^2 - pd^2 = friction + heads, to round-off; and more gap, less
// length never pass less.
func TestClearanceSolvesItsEquation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.01, 0.2).Draw(t, "diameter")
		c := rapid.Float64Range(1e-6, 2e-4).Draw(t, "clearance")
		length := rapid.Float64Range(0.001, 0.1).Draw(t, "length")
		up, down := anyState(t, &air)
		w := flow.NewClearance(&air, d, c, length).Flux(&up, down)
		rt, circumference := air.R*up.T, math.Pi*d
		friction := 24 * air.Viscosity * length * rt / (circumference * c * c * c) * w
		heads := 1.5 * rt * math.Pow(w/(circumference*c), 2)
		assert.InDelta(t, (up.P-down)*(up.P+down), friction+heads, 1e-13*up.P*up.P)

		wider := flow.NewClearance(&air, d, c*rapid.Float64Range(1, 2).Draw(t, "wider"), length)
		longer := flow.NewClearance(&air, d, c, length*rapid.Float64Range(1, 2).Draw(t, "longer"))
		assert.GreaterOrEqual(t, wider.Flux(&up, down), w*(1-1e-13))
		assert.LessOrEqual(t, longer.Flux(&up, down), w*(1+1e-13))
	})
}

// TestClearanceRange: the guide of gas-bench-plus at its worst, 12 bar abs at
// 300 K above and the atmosphere below, keeps to the range that the law states:
// Reynolds number below 2000, a gap thin beside its diameter, friction ruling.
//
// It also measures what the law leaves out. Isothermal flow with the gas's
// acceleration obeys pu^2 - pe^2 = friction + (K + 2 ln(pu/pe)) heads, and its
// pressure at the exit, pe, is not below that of the isothermal limit,
// pe = G sqrt(R T) (e.g. Saad, Compressible Fluid Flow; memory, derived). Set
// against that the law passes 4 % too much here; the clearance itself, if
// known to a micrometre, leaves 17 %.
func TestClearanceRange(t *testing.T) {
	const c, pu, pd, temperature = 18e-6, 12e5, 101325, 300.0
	up := stateOf(&air, pu, temperature)
	w := flow.NewClearance(&air, gapDiameter, c, gapLength).Flux(&up, pd)
	re := 2 * w / (math.Pi * gapDiameter * air.Viscosity)
	rt, area := air.R*temperature, math.Pi*gapDiameter*c
	heads := 1.5 * rt * math.Pow(w/area, 2) / ((pu - pd) * (pu + pd))

	// The fuller law, by fixed point: friction rules, so it converges fast.
	friction, fuller := 24*air.Viscosity*gapLength*rt/(math.Pi*gapDiameter*c*c*c), w
	for range 50 {
		g := fuller / area
		pe := max(pd, g*math.Sqrt(rt))
		fuller = (pu*pu - pe*pe - (1.5+2*math.Log(pu/pe))*rt*g*g) / friction
	}
	t.Logf("%.3f g/s, Re %.0f, heads %.1f %% of the squares' difference, %+.1f %% of the fuller law", w*1e3, re, heads*100, 100*(w/fuller-1))
	assert.Less(t, re, 2000.0)
	assert.Less(t, c/gapDiameter, 1e-3)
	assert.Less(t, heads, 0.05)
	assert.InDelta(t, 0.044, w/fuller-1, 0.005)
}
