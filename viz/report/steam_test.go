package report

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A steam plant's tables, report and summary tell what its valve holds and how
// warm its metal is; those of a gas plant have the walls there are, and no more.
func TestSteam(t *testing.T) {
	rec := record(t, "steam-bench", 9)
	for _, part := range []string{"STEAM, WATER AND METAL", "wall of", "tailpipe", "measured, not touched"} {
		says(t, textOf(t, rec), part)
	}
	written := files(t, rec)
	head, rest, _ := strings.Cut(string(written["trace.csv"]), "\n")
	for _, name := range []string{"body", "chamber", "dump", "tailpipe"} {
		assert.Contains(t, head, "valve."+name+"_degC,valve."+name+"_quality,valve."+name+"_water_mL")
		assert.Contains(t, head, "valve."+name+"_wall_degC")
	}
	row, _, _ := strings.Cut(rest, "\n")
	assert.Equal(t, strings.Count(head, ","), strings.Count(row, ","))
	var sum Summary
	require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
	now := &rec.Run.Now().Valves[0]
	require.NotNil(t, sum.Valves[0].Steam)
	assert.Len(t, sum.Valves[0].Steam.Holds, 4)
	assert.InDelta(t, now.OutletWall.T-273.15, sum.Valves[0].Steam.Walls["tailpipe"], 1e-9)
	assert.InDelta(t, now.BelowFluid.Quality, sum.Valves[0].Steam.Holds["chamber"].Quality, 1e-12)

	gas := record(t, "gas-bench", 3)
	assert.NotContains(t, textOf(t, gas), "STEAM")
	written = files(t, gas)
	assert.NotContains(t, string(written["trace.csv"]), "degC")
	assert.NotContains(t, string(written["summary.json"]), "steam")
}

// With a fault hidden the walls outside are told, and nothing of what is inside.
func TestSealedSteam(t *testing.T) {
	rec := sealed(t, "steam-bench", 9, "seat-leaks=2mm2")
	text := textOf(t, rec)
	says(t, text, "wall of the dump line")
	says(t, text, "wall of the tailpipe")
	assert.NotContains(t, text, "STEAM, WATER")
	written := files(t, rec)
	head, _, _ := strings.Cut(string(written["trace.csv"]), "\n")
	assert.Contains(t, head, "valve.dump_wall_degC")
	assert.Contains(t, head, "valve.tailpipe_wall_degC")
	for name, data := range written {
		if strings.HasSuffix(name, ".png") || strings.HasSuffix(name, ".svg") {
			continue
		}
		for _, inside := range []string{"quality", "chamber_", "body_", "chamber wall"} {
			assert.NotContains(t, string(data), inside, name)
		}
	}
	var sum SealedSummary
	require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
	require.NotNil(t, sum.Valves[0].TailWall)
	assert.InDelta(t, rec.Run.Now().Valves[0].OutletWall.T-273.15, *sum.Valves[0].TailWall, 1e-9)
}
