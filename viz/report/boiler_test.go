package report

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cellsOf is a column of a table by its name, as numbers.
func cellsOf(t *testing.T, table []byte, name string) (out []float64) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(string(table)), "\n")
	at := -1
	for i, n := range strings.Split(lines[0], ",") {
		if n == name {
			at = i
		}
	}
	require.GreaterOrEqual(t, at, 0, name)
	for _, l := range lines[1:] {
		x, err := strconv.ParseFloat(strings.Split(l, ",")[at], 64)
		require.NoError(t, err)
		out = append(out, x)
	}
	return out
}

// The boiler's tables, report and summary tell what boiler and operators did, by
// the snapshots; those of a plant without one have none of it.
func TestBoiler(t *testing.T) {
	rec := record(t, "boiler-plant", 80)
	text := textOf(t, rec)
	for _, part := range []string{"BOILER AND OPERATORS", "drum fire asked for, MW", "0.100 at 61.8 s", "The demand-lamp was lit for", "with the disc shut"} {
		says(t, text, part)
	}
	written := files(t, rec)
	table := written["trace.csv"]
	now := rec.Run.Now()
	for name, want := range map[string]float64{"drum.pressure_bar_abs": now.Drums[0].Pressure * bar, "drum.water_share": now.Drums[0].WaterShare,
		"drum.fire_MW": 1e-6 * now.Drums[0].Fire, "drum.feed_kg_per_s": now.Drums[0].Feed, "drum.load_kg_per_s": now.Drums[0].Load,
		"drum.load_open": 0.1, "valve.block_valve_open": 1, "demand-lamp.lit": 0} {
		column := cellsOf(t, table, name)
		assert.InDelta(t, want, column[len(column)-1], 1e-6*(1+want), name)
	}
	lit := 0
	for _, x := range cellsOf(t, table, "demand-lamp.lit") {
		if x == 1 {
			lit++
		}
	}
	assert.Positive(t, lit)

	var sum Summary
	require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
	require.NotNil(t, sum.Boiler)
	p := sum.Boiler.Reaches["drum.pressure_bar_abs"]
	assert.InDelta(t, 41, p.Most, 0.2)
	assert.InDelta(t, rec.Valves[0].Lifts[0].T, p.MostAt, 0.1, "highest where the valve lifts")
	assert.True(t, sum.Boiler.Told["operators"])
	require.NotEmpty(t, sum.Boiler.Lamps)
	assert.InDelta(t, 6, sum.Boiler.Lamps[0].Lit, 0.5)
	require.NotNil(t, sum.Boiler.Lamps[0].Wrong)
	assert.Less(t, *sum.Boiler.Lamps[0].Wrong, 0.5)

	steam := record(t, "steam-bench", 3)
	assert.NotContains(t, textOf(t, steam), "BOILER")
	written = files(t, steam)
	assert.NotContains(t, string(written["trace.csv"]), "drum.")
	assert.NotContains(t, string(written["summary.json"]), `"boiler"`)
}

// With a fault hidden the boiler is told, and of the lamps only what is seen.
func TestSealedBoiler(t *testing.T) {
	rec := sealed(t, "boiler-plant", 75, "seat-leaks=2mm2")
	text := textOf(t, rec)
	says(t, text, "BOILER AND OPERATORS")
	says(t, text, "The demand-lamp was lit for")
	for _, inside := range []string{"disc shut", "wired to"} {
		assert.NotContains(t, text, inside)
	}
	written := files(t, rec)
	column := cellsOf(t, written["trace.csv"], "drum.pressure_bar_abs")
	assert.InDelta(t, rec.Run.Now().Drums[0].Pressure*bar, column[len(column)-1], 1e-6)
	for _, inside := range []string{"cover_flow", "drain_flow"} {
		assert.NotContains(t, string(written["trace.csv"]), inside)
	}
	var sum SealedSummary
	require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
	require.NotNil(t, sum.Boiler)
	assert.Nil(t, sum.Boiler.Lamps[0].Wrong)
}

// A block valve on its way is told where it stands, not where it is going.
func TestBlockValveOnItsWay(t *testing.T) {
	rec := sealed(t, "testdata/block-valve-moves.yaml", 14, "seat-leaks=2mm2")
	assert.InDelta(t, 0.7, rec.outsideAtEnd(&rec.Valves[0]).block, 1e-3)
	says(t, textOf(t, rec), "70 % open")
}
