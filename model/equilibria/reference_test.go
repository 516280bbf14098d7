package equilibria_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReferenceTables: the equilibria of the reference valve on an ideal gas, as
// an independent trial in another language had them (pop and blowdown by scanning
// the lift; its numbers are those of this project's notes, computed). Blowdown is
// pop less reseat over 40 bar. The lower ring's gap, then the upper's height.
func TestReferenceTables(t *testing.T) {
	for _, c := range []struct{ gap, height, simmer, pop, blowdown float64 }{
		{0.3, 26, 1.36, 39.89, 8.3},
		{1.0, 26, 1.55, 39.97, 6.1},
		{2.5, 26, 1.63, 40.00, 4.3},
		{4.0, 26, 1.74, 40.04, 3.6},
		{6.0, 26, 1.93, 40.12, 3.2},
		{10, 26, 2.59, 40.39, 3.1},
		{2.5, 16, 1.63, 40.00, 11.3},
		{2.5, 20, 1.63, 40.00, 7.5},
		{2.5, 24, 1.63, 40.00, 5.1},
		{2.5, 30, 1.63, 40.00, 3.2},
		{2.5, 45, 1.63, 40.00, 2.2},
	} {
		t.Run(fmt.Sprintf("gap %g height %g mm", c.gap, c.height), func(t *testing.T) {
			m := mapOf(t, twoRing(c.gap*1e-3, c.height*1e-3))
			require.NotNil(t, m.Pop)
			require.NotNil(t, m.Reseat)
			pop, blowdown, simmer := barg(m.Pop.Vessel), share(m.Pop.Vessel-m.Reseat.Vessel), share(m.Pop.Vessel-m.Simmer)
			j, _ := m.Landing()
			t.Logf("simmer %.2f %% pop %.3f bar at %.4f mm, to %.2f mm, reseat %.3f at %.2f mm, blowdown %.2f %%; %d folds, %d branches",
				simmer, pop, m.Pop.Lift*1e3, j.To*1e3, barg(m.Reseat.Vessel), m.Reseat.Lift*1e3, blowdown, len(m.Folds), len(m.Branches))
			assert.InDelta(t, c.pop, pop, 0.02)
			assert.InDelta(t, c.blowdown, blowdown, 0.1)
			assert.InDelta(t, c.simmer, simmer, 0.1)
		})
	}
}
