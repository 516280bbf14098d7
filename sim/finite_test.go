package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

var all = []sim.Choice{sim.Auto, sim.Explicit, sim.Implicit}

// A trial that asks for the root of a negative mass is refused, and the run
// goes on to the right answer.
func TestTrialOutsideTheDomainIsRefused(t *testing.T) {
	for _, choice := range all {
		t.Run(fmt.Sprint("choice ", choice), func(t *testing.T) {
			p := simtest.Draining()
			// The first step tries to go far beyond the empty tank.
			r := inOneStep(t, p.System, p.Start, 3, choice)
			require.NoError(t, r.Finish(p.End))
			assert.NotZero(t, r.Stats().Rejected)
			assert.InDelta(t, p.Want[0], r.State().Y[0], 1e-3)
		})
	}
}

// Where the solution itself leaves the domain or the numbers, the run ends
// with an error that says when, what and in which modes.
func TestSolutionThatLeavesTheNumbers(t *testing.T) {
	nowhere := simtest.Line(1)
	nowhere.F = func(_ float64, y, dy, _ []float64) { dy[0] = 1 + math.Log(2-y[0])*0 }
	wall := simtest.Line(1)
	wall.F = func(_ float64, y, dy, _ []float64) {
		dy[0] = 1
		if y[0] > 2 {
			dy[0] = math.NaN()
		}
	}
	for _, c := range []struct {
		name       string
		sys        sim.System
		variable   string
		at         float64
		derivative bool
	}{
		{"logarithm of nothing", nowhere, "y", 2, true},
		{"not a number beyond a wall", wall, "y", 2, true},
	} {
		for _, choice := range all {
			t.Run(fmt.Sprintf("%s, choice %d", c.name, choice), func(t *testing.T) {
				w := simtest.Watch(c.sys, func(float64, []float64) float64 { return 1 })
				r, err := sim.New(w, w.Layout().NewState(0), sim.Settings{RelTol: 1e-6, Methods: choice})
				require.NoError(t, err)
				err = r.Finish(10)
				var bad *sim.NonFinite
				require.ErrorAs(t, err, &bad)
				assert.Equal(t, c.variable, bad.Var)
				assert.Equal(t, c.derivative, bad.Derivative)
				assert.InDelta(t, c.at, bad.T, 1e-9)
				assert.Contains(t, err.Error(), "the derivative of y became NaN at 2")
				assert.Contains(t, err.Error(), "modes spent 0=0")
				assert.LessOrEqual(t, r.State().T, c.at+1e-12, "the last state is a good one")
			})
		}
	}
}

// y' = y^2 reaches infinity at t = 1: no step size helps.
func TestBlowUpEndsTheRun(t *testing.T) {
	for _, choice := range all {
		p := simtest.BlowUp()
		r, err := sim.New(p.System, p.Start, sim.Settings{RelTol: 1e-6, Methods: choice})
		require.NoError(t, err)
		require.Error(t, r.Finish(p.End))
		assert.InDelta(t, 1, r.State().T, 1e-6)
	}
}

func TestBadStartIsRefused(t *testing.T) {
	p := simtest.Draining()
	p.Start.Y[0] = -1
	_, err := sim.New(p.System, p.Start, sim.Settings{RelTol: 1e-6})
	var bad *sim.NonFinite
	require.ErrorAs(t, err, &bad)
	assert.Equal(t, "m", bad.Var)

	p = simtest.Draining()
	for _, rtol := range []float64{0, -1, 0.2, math.NaN()} {
		_, err = sim.New(p.System, p.Start, sim.Settings{RelTol: rtol})
		assert.ErrorContains(t, err, "relative tolerance")
	}
	_, err = sim.New(p.System, sim.State{Y: []float64{1, 2}}, sim.Settings{RelTol: 1e-6})
	assert.ErrorContains(t, err, "layout's sizes (1 variables")
}

// A quadrature that leaves the numbers ends the run too, although nothing
// depends on it.
func TestLedgerThatLeavesTheNumbers(t *testing.T) {
	sys := simtest.Line(1)
	sys.Lay.Ledger = []string{"heat"}
	sys.F = func(_ float64, y, dy, dq []float64) { dy[0], dq[0] = 1, math.Sqrt(2-y[0]) }
	for _, choice := range all {
		r, err := sim.New(sys, sys.Lay.NewState(0), sim.Settings{RelTol: 1e-6, Methods: choice})
		require.NoError(t, err)
		var bad *sim.NonFinite
		require.ErrorAs(t, r.Finish(10), &bad)
		assert.Equal(t, "heat", bad.Var)
	}
}
