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

// law is one of the laws of flow with the gas it was made for.
type law struct {
	flow.Law
	gas *fluid.Gas
}

// anyLaw draws a law with sizes that a valve and its lines have.
func anyLaw(t *rapid.T) law {
	g := gasOf(rapid.Float64Range(1.05, 1.667).Draw(t, "gamma"))
	switch rapid.SampledFrom([]string{"nozzle", "clearance", "capillary"}).Draw(t, "law") {
	case "nozzle":
		return law{flow.NewNozzle(g), g}
	case "clearance":
		return law{flow.NewClearance(g,
			rapid.Float64Range(0.01, 0.2).Draw(t, "diameter"),
			rapid.Float64Range(5e-6, 50e-6).Draw(t, "clearance"),
			rapid.Float64Range(0.005, 0.1).Draw(t, "length")), g}
	default:
		return law{flow.NewCapillary(g,
			rapid.Float64Range(0.1e-3, 2e-3).Draw(t, "bore"),
			rapid.Float64Range(0.1, 10).Draw(t, "length")), g}
	}
}

// anyState draws an upstream state and a downstream pressure, every third
// time one that lies close below the upstream.
func anyState(t *rapid.T, g *fluid.Gas) (up fluid.State, down float64) {
	up = stateOf(g, math.Exp(rapid.Float64Range(math.Log(2e4), math.Log(3e6)).Draw(t, "ln p")),
		rapid.Float64Range(150, 800).Draw(t, "T"))
	if rapid.IntRange(0, 2).Draw(t, "near") == 0 {
		z := math.Exp(rapid.Float64Range(math.Log(1e-7), math.Log(1e-2)).Draw(t, "ln z"))
		return up, up.P * (1 - z)
	}
	return up, up.P * rapid.Float64Range(0, 1).Draw(t, "r")
}

// TestFluxSlopes: every law's derivatives by the upstream volume and energy
// and by the downstream pressure against central differences of its Flux.
// Relative step 1e-7. The allowance has two parts: 1e-4 of the slope, for the
// jumps of the second derivative at the nozzle's two joins when the step
// straddles one, and 2e-6 of the flux into a vacuum, for round-off.
func TestFluxSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLaw(t)
		up, down := anyState(t, l.gas)
		var f flow.Flux
		l.FluxSlopes(&up, down, &f)
		at := func(v, u, p float64) float64 {
			var s fluid.State
			l.gas.At(v, u, &s)
			return l.Flux(&s, p)
		}
		scale := l.Flux(&up, 0)
		check := func(name string, by func(e float64) float64, got float64) {
			want := fd.Derivative(by, 0, &fd.Settings{Formula: fd.Central, Step: 1e-7})
			assert.InDelta(t, want, got, 2e-6*scale+1e-4*math.Abs(got), name)
		}
		check("volume", func(e float64) float64 { return at(up.V*(1+e), up.U, down) }, f.Gv*up.V)
		check("energy", func(e float64) float64 { return at(up.V, up.U*(1+e), down) }, f.Gu*up.U)
		// By the upstream pressure, not down: down may be nothing.
		check("downstream pressure", func(e float64) float64 { return at(up.V, up.U, down+e*up.P) }, f.Gp*up.P)
	})
}

// TestFluxAgreesWithFluxSlopes: the two ways to the flux are one to round-off,
// 3e-14 of the flux into a vacuum: the nozzle's powers and the polynomial in
// their stead agree to 2e-14.
func TestFluxAgreesWithFluxSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLaw(t)
		up, down := anyState(t, l.gas)
		var f flow.Flux
		l.FluxSlopes(&up, down, &f)
		assert.InDelta(t, l.Flux(&up, down), f.G, 3e-14*l.Flux(&up, 0))
		if _, is := l.Law.(*flow.Nozzle); is {
			assert.Equal(t, down/up.P <= flow.CriticalRatio(l.gas.Gamma), f.Choked)
		} else {
			assert.False(t, f.Choked, "this law does not choke")
		}
	})
}

// TestFluxIsMonotone: less back pressure never passes less, more upstream
// pressure at the same temperature never passes less, and nothing flows
// without a difference.
func TestFluxIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLaw(t)
		up, down := anyState(t, l.gas)
		g := l.Flux(&up, down)
		slack := 1e-13 * l.Flux(&up, 0)
		assert.Zero(t, l.Flux(&up, up.P))
		assert.GreaterOrEqual(t, g, 0.0)
		less := down * rapid.Float64Range(0, 1).Draw(t, "less")
		assert.GreaterOrEqual(t, l.Flux(&up, less), g-slack)
		more := stateOf(l.gas, up.P*rapid.Float64Range(1, 3).Draw(t, "more"), up.T)
		assert.GreaterOrEqual(t, l.Flux(&more, down), g-slack)
	})
}
