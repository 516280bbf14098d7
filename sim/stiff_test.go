package sim_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// finish runs a problem to its end.
func finish(t *testing.T, p simtest.Problem, set sim.Settings) *sim.Run {
	t.Helper()
	r, err := sim.New(p.System, p.Start, set)
	require.NoError(t, err)
	require.NoError(t, r.Finish(p.End))
	require.Equal(t, p.End, r.State().T)
	return r
}

// The published digits, at the tolerances that the program uses: the relative
// error at the end stays within a few times the tolerance of a step.
func TestPublishedStiffProblems(t *testing.T) {
	for _, p := range []simtest.Problem{simtest.Rober(40), simtest.Rober(1e11), simtest.Hires(), simtest.Vdpol()} {
		for _, choice := range []sim.Choice{sim.Auto, sim.Implicit} {
			for _, rtol := range []float64{1e-6, 1e-7, 1e-8, 1e-9} {
				t.Run(fmt.Sprintf("%s to %g, choice %d, rtol %g", p.Name, p.End, choice, rtol), func(t *testing.T) {
					r := finish(t, p, sim.Settings{RelTol: rtol, Methods: choice})
					assert.Less(t, simtest.RelativeError(r.State().Y, p.Want), 5*rtol, p.Source)
				})
			}
		}
	}
}

// The choice of method is free to go to and fro, but must end where the
// problem belongs, whatever the tolerance.
func TestAutoFindsTheMethod(t *testing.T) {
	kepler := simtest.Kepler()
	kepler.End = 100
	for _, rtol := range []float64{1e-3, 1e-6, 1e-9} {
		t.Run(fmt.Sprint("rtol ", rtol), func(t *testing.T) {
			r := finish(t, simtest.Rober(1e11), sim.Settings{RelTol: rtol})
			st := r.Stats()
			assert.False(t, r.Checkpoint().Control.Explicit)
			assert.Less(t, st.Explicit, st.Steps/5+60, "explicit steps on ROBER")
			r = finish(t, kepler, sim.Settings{RelTol: rtol})
			st = r.Stats()
			assert.True(t, r.Checkpoint().Control.Explicit)
			assert.Greater(t, st.Explicit, st.Steps*9/10, "explicit steps on the orbit")
		})
	}
}

// The work that the controls of step and method have been brought down to, in
// evaluations of the derivative and in refused steps, with a quarter to spare.
func TestWork(t *testing.T) {
	plant := simtest.NewPlant()
	hybrid := simtest.Problem{Name: "plant", System: plant, Start: plant.Start(), End: 5}
	for _, c := range []struct {
		p                     simtest.Problem
		rtol                  float64
		derivatives, rejected int
	}{
		{simtest.Rober(1e11), 1e-6, 2760, 2},
		{simtest.Hires(), 1e-6, 2920, 5},
		{simtest.Vdpol(), 1e-6, 5200, 19},
		{simtest.Kepler(), 1e-6, 123, 0},
		{hybrid, 1e-4, 1830, 10},
		{hybrid, 1e-6, 3980, 45},
		{hybrid, 1e-8, 14400, 306},
	} {
		t.Run(fmt.Sprintf("%s, rtol %g", c.p.Name, c.rtol), func(t *testing.T) {
			st := finish(t, c.p, sim.Settings{RelTol: c.rtol}).Stats()
			assert.Less(t, st.Derivatives, c.derivatives*5/4)
			assert.Less(t, st.Rejected, c.rejected*5/4+3)
		})
	}
}
