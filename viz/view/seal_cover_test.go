package view_test

import (
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/view"
)

// While something is hidden, a leak at the cover's joint is told, for it is seen
// and heard; a galled disc, which hangs open as well, has none. The outlet's
// gauge is true: behind a blocked header it is high at rest.
func TestSealedCoverAndOutlet(t *testing.T) {
	for _, c := range []struct {
		fault string
		says  bool
	}{{"cover-leaks=4mm2", true}, {"disc-stuck-open", false}, {"outlet-throttled:header", false}} {
		t.Run(c.fault, func(t *testing.T) {
			sc, err := scenarios.Load("boiler-plant")
			require.NoError(t, err)
			e, err := fault.ParseEntry(sc.Plant, c.fault)
			require.NoError(t, err)
			require.NoError(t, sc.Hide("a code", e))
			sc.Plant, err = sc.Plant.With("neighbour.opening", plant.Value{Number: 0.5})
			require.NoError(t, err)
			sc.Until = 6
			r, err := live.Start(sc, live.Options{RelTol: 1e-6})
			require.NoError(t, err)
			require.NoError(t, r.Finish())
			for _, u := range unitSystems {
				v, err := view.At(r, 5, view.Options{Units: u})
				require.NoError(t, err)
				require.True(t, v.Sealed)
				assert.LessOrEqual(t, utf8.RuneCountInString(v.Sentence), 130, v.Sentence)
				if c.says {
					assert.Contains(t, v.Sentence, "Steam at the cover's joint; the coil is dead, and")
				} else {
					assert.NotContains(t, v.Sentence, "joint")
				}
				s, _, err := r.At(5)
				require.NoError(t, err)
				assert.Equal(t, s.Valves[0].Outlet, v.Snapshot.Valves[0].Outlet)
				if e.Name == "outlet-throttled" {
					assert.Greater(t, v.Snapshot.Valves[0].Outlet, 20e5)
				}
			}
		})
	}
}
