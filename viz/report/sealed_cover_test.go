package report

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A cover that leaks is seen and heard at its joint, a disc that is galled is not:
// text, summary and trace of a sealed run tell them apart. None of them says what
// the solver did, whose steps are those of the inside.
func TestSealedCoverAndSolver(t *testing.T) {
	for _, c := range []struct {
		fault string
		leaks bool
	}{{"cover-leaks=4mm2", true}, {"disc-stuck-open", false}} {
		t.Run(c.fault, func(t *testing.T) {
			rec := sealed(t, "boiler-plant", 5, c.fault)
			got := textOf(t, rec)
			assert.NotContains(t, got, "SOLVER")
			assert.NotContains(t, got, "evaluations")
			if c.leaks {
				says(t, got, "A wisp blows out at the cover's joint.")
			} else {
				assert.NotContains(t, got, "joint")
			}
			written := files(t, rec)
			var raw map[string]any
			require.NoError(t, json.Unmarshal(written["summary.json"], &raw))
			assert.NotContains(t, raw, "solver")
			var sum SealedSummary
			require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
			assert.Equal(t, c.leaks, sum.Valves[0].Joint)
			assert.Contains(t, string(written["trace.csv"]), "blows_at_cover_joint")
		})
	}
}
