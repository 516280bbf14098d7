package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/viz/report"
)

var update = flag.Bool("update", false, "write golden files anew")

// The keys of the summary and what stands behind them are promised: they may
// become more, but never others.
func TestSummaryKeys(t *testing.T) {
	golden := "testdata/summary-keys.txt"
	status, out, errs := call(t, t.Context(), "run", "gas-bench", "--json", "--until", "9s", "--fault", "seat-leaks@1s", "--fault", "supply-low=110 V")
	require.Equal(t, exitGood, status, errs)
	var whole any
	require.NoError(t, json.Unmarshal([]byte(out), &whole))
	keys := map[string]bool{}
	shape(keys, "", whole)
	got := strings.Join(slices.Sorted(maps.Keys(keys)), "\n") + "\n"
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// shape collects paths with the kind of value at their ends.
func shape(keys map[string]bool, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, e := range v {
			shape(keys, path+"/"+k, e)
		}
	case []any:
		for _, e := range v {
			shape(keys, path+"[]", e)
		}
	default:
		keys[fmt.Sprintf("%s %T", path, v)] = true
	}
}

func summaryOf(t *testing.T, args ...string) report.Summary {
	t.Helper()
	status, out, errs := call(t, t.Context(), append([]string{"run"}, append(args, "--json")...)...)
	require.Equal(t, exitGood, status, errs)
	assert.Empty(t, errs)
	var s report.Summary
	d := json.NewDecoder(strings.NewReader(out))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&s))
	assert.False(t, d.More(), "one object and nothing else")
	return s
}

func TestSummaryOfTheBench(t *testing.T) {
	s := summaryOf(t, "gas-bench")
	assert.Equal(t, "gas-bench", s.Scenario)
	assert.Equal(t, 60.0, s.Until)
	assert.Empty(t, s.Faults)
	assert.Equal(t, "v0.0.0-test", s.Version)
	require.Len(t, s.Valves, 1)
	v := s.Valves[0]
	assert.Equal(t, "valve", v.Name)
	assert.True(t, v.SeatedAtEnd)
	require.Len(t, v.Lifts, 11)
	first := v.Lifts[0]
	assert.InDelta(t, 2.199331, first.T, 1e-5)
	require.NotNil(t, first.Reseat)
	assert.InDelta(t, 11.136, *first.Reseat, 1e-3)
	require.NotNil(t, first.Blowdown)
	assert.InDelta(t, 100*(first.Lift-*first.Reseat)/(first.Lift-1.01325), *first.Blowdown, 1e-9)
	assert.Equal(t, report.SummaryEvent{T: s.Events[0].T, Name: "switch-made", Part: "switch"}, s.Events[0])
	for _, e := range s.Events {
		assert.Contains(t, scenarios.Events(), e.Name)
	}
	for _, key := range []string{"vessel.mass_kg", "vessel.energy_J", "valve.disc.position_m", "valve.disc.speed_m_per_s", "valve.coil.current_A", "sensor.reading_Pa"} {
		assert.Contains(t, s.Final, key)
	}
	assert.Less(t, *s.Ledger.MassByState, 1e-9)
	assert.Less(t, *s.Ledger.EnergyByState, 1e-9)
	assert.Less(t, *s.Ledger.MassByFlow, 1e-5)
	assert.Less(t, *s.Ledger.EnergyByFlow, 1e-5)
	assert.Less(t, *s.Ledger.WorkByForce, 1e-3)
	assert.Positive(t, s.Solver.Steps)
	assert.InDelta(t, 60/s.Solver.Wall, s.Solver.TimesRealTime, 1e-6*s.Solver.TimesRealTime)
}

func TestSummaryOfFaults(t *testing.T) {
	s := summaryOf(t, "gas-bench", "--until", "20s", "--fault", "pilot-leaks@10s", "--fault", "supply-low=110V")
	require.Len(t, s.Faults, 2)
	at := map[string]report.SummaryFault{}
	for _, f := range s.Faults {
		at[f.Name] = f
	}
	assert.Equal(t, report.SummaryFault{Name: "supply-low", Part: "relay", Path: "relay.supply", Value: 110.0, Unit: "V"}, at["supply-low"])
	assert.Equal(t, report.SummaryFault{Name: "pilot-leaks", Part: "valve", Path: "valve.pilot.leak-area", Value: 6e-6, Unit: "m2", At: 10, Typical: true}, at["pilot-leaks"])
	last := s.Valves[0].Lifts[len(s.Valves[0].Lifts)-1]
	assert.Nil(t, last.Reseat, "it hangs open")
	assert.Nil(t, last.Blowdown)
	assert.False(t, s.Valves[0].SeatedAtEnd)
}

// What has no lift has an empty list, not null, and no number anywhere that is
// not one.
func TestSummaryWithoutLifts(t *testing.T) {
	status, out, _ := call(t, t.Context(), "run", "gas-bench", "--until", "1ms", "--json")
	require.Equal(t, exitGood, status)
	assert.Contains(t, out, `"lifts": []`)
	assert.Contains(t, out, `"events": []`)
	assert.Contains(t, out, `"faults": []`)
	for _, word := range []string{"NaN", "Inf"} {
		assert.NotContains(t, out, word)
	}
}

// The report says what was set.
func TestReportOfSettings(t *testing.T) {
	status, out, errs := call(t, t.Context(), "run", "gas-bench", "--until", "1s", "--set", "inflow.mass-flow=1200 g/s")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "set from the start: inflow.mass-flow 1.2 kg/s (was 1 kg/s)")
	// The scenario's own words are about the unchanged plant.
	assert.NotContains(t, out, "A healthy valve")
	assert.Contains(t, out, "Scenario gas-bench with changes")
	assert.Contains(t, out, "WHAT THE UNCHANGED SCENARIO DOES")
}

// --set and --until reach the run.
func TestSettings(t *testing.T) {
	s := summaryOf(t, "gas-bench", "--set", "vessel.pressure=12.5 bar abs", "--set", "vessel.volume=2 m3", "--until", "1s", "--rtol", "1e-8")
	assert.Equal(t, 1.0, s.Until)
	require.Len(t, s.Settings, 2)
	assert.Equal(t, report.SummarySetting{Path: "vessel.volume", Value: "2 m3", Was: "5 m3"}, s.Settings[0])
	assert.Contains(t, s.Caution, "prove zero energy")
	require.NotEmpty(t, s.Valves[0].Lifts)
	assert.Greater(t, s.Valves[0].Lifts[0].Lift, 12.4)
	mass := 12.5e5 * 2 / (287.05 * 300)
	assert.InDelta(t, mass, s.Final["vessel.mass_kg"], 0.2*mass)
	assert.False(t, math.IsNaN(s.Final["vessel.energy_J"]))
}
