package sim_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// The two methods and the choice between them agree on the plant's events, the
// better the smaller the tolerance, and keep its balance to the rounding. The
// reference is the implicit method at 1e-11, which explicit steps confirm.
func TestPlantAgreesWithItself(t *testing.T) {
	p := simtest.NewPlant()
	start := p.Start()
	run := func(t *testing.T, choice sim.Choice, rtol float64) *sim.Run {
		r, err := sim.New(p, start, sim.Settings{RelTol: rtol, Methods: choice})
		require.NoError(t, err)
		require.NoError(t, r.Finish(5))
		assert.InDelta(t, p.Balance(&start), p.Balance(r.State()), 1e-12)
		return r
	}
	ref := run(t, sim.Implicit, 1e-11)
	require.Len(t, named(ref.Events(), "lifts"), 3)
	for _, choice := range all {
		for _, rtol := range []float64{1e-4, 1e-6, 1e-8, 1e-10} {
			t.Run(fmt.Sprintf("choice %d, rtol %g", choice, rtol), func(t *testing.T) {
				r := run(t, choice, rtol)
				// The number of bounces may depend on the tolerance; the rest
				// may not.
				for _, name := range []string{"made", "reset", "on", "off", "lifts", "drops", "open", "shut"} {
					a, b := named(r.Events(), name), named(ref.Events(), name)
					require.Equal(t, len(b), len(a), name)
					for i := range a {
						assert.InDelta(t, b[i].T, a[i].T, 2*rtol+1e-11, "%s %d", name, i)
					}
				}
			})
		}
	}
}
