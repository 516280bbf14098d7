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

// The published digits, at the tolerances that the program uses. The bounds on
// the relative error are multiples of the tolerance by what the problem
// amplifies; ROBER at 1e11 is the hardest, since its two small variables keep
// shrinking.
func TestPublishedStiffProblems(t *testing.T) {
	for _, c := range []struct {
		p       simtest.Problem
		amplify float64
	}{
		{simtest.Rober(40), 100},
		{simtest.Rober(1e11), 1000},
		{simtest.Hires(), 100},
		{simtest.Vdpol(), 1000},
	} {
		for _, choice := range []sim.Choice{sim.Auto, sim.Implicit} {
			for _, rtol := range []float64{1e-6, 1e-7, 1e-8, 1e-9} {
				name := fmt.Sprintf("%s to %g, choice %d, rtol %g", c.p.Name, c.p.End, choice, rtol)
				t.Run(name, func(t *testing.T) {
					r := finish(t, c.p, sim.Settings{RelTol: rtol, Methods: choice})
					e := simtest.RelativeError(r.State().Y, c.p.Want)
					t.Logf("error/rtol %.2g %+v", e/rtol, r.Stats())
					assert.Less(t, e, c.amplify*rtol, c.p.Source)
				})
			}
		}
	}
}
