package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/sim"
)

// A history of one block must stand a cut right after a block has filled,
// which lets the full one go and then drops the new one: every end in a scan
// over several blocks gives the segments of a history that keeps all.
func TestCutBehindAFullBlock(t *testing.T) {
	run := func(keep int, until float64) *sim.History {
		h := &sim.History{Keep: keep}
		r := plantRun(t, sim.Settings{RelTol: 1e-9, History: h})
		require.NoError(t, r.Finish(until))
		return h
	}
	longest := len(segments(t, run(0, 4)))
	require.Greater(t, longest, 2*256)
	whole := segments(t, run(0, 4))
	// Ends within the step that fills a block, and in the ones beside it.
	for k := 256; k+2 < len(whole); k += 256 {
		for _, g := range whole[k-2 : k+2] {
			until := g.T0 + 0.5*(g.T1-g.T0)
			require.Equal(t, segments(t, run(0, until)), segments(t, run(1, until)), "end at %g s", until)
		}
	}
}
