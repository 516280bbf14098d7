package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWithoutAPilotedValve: every command takes a plant whose valves have springs.
func TestWithoutAPilotedValve(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"spring-reference", "spring-hood", "spring-liquid"} {
		t.Run(name, func(t *testing.T) {
			status, out, errs := call(t, t.Context(), "check", name)
			require.Equal(t, exitGood, status, errs)
			assert.Contains(t, out, "is sound")
			status, out, errs = call(t, t.Context(), "run", name, "--out", name)
			require.Equal(t, exitGood, status, errs)
			assert.Contains(t, out, "WEAR OF THE SEATS")
			assert.NotContains(t, out, "MEANT TO BE SEEN, AND WAS NOT")
			for _, file := range []string{"trace.csv", "events.csv", "summary.json", "report.txt", "plot.png", "plot.svg", "first-lift.png"} {
				assert.FileExists(t, name+"/"+file)
			}
			table, err := os.ReadFile(name + "/events.csv")
			require.NoError(t, err)
			head, _, _ := strings.Cut(string(table), "\n")
			for _, line := range strings.Split(strings.TrimSpace(string(table)), "\n") {
				assert.Equal(t, strings.Count(head, ","), strings.Count(line, ","), line)
			}
			status, out, errs = call(t, t.Context(), "explain", name, "--at", "5s")
			require.Equal(t, exitGood, status, errs)
			assert.Contains(t, out, "WHY ")
			assert.Contains(t, out, "FORCES ON DISC AND SPINDLE")
			assert.Contains(t, out, "Before anyone touches a")
			status, out, errs = call(t, t.Context(), "list", "paths", name)
			require.Equal(t, exitGood, status, errs)
			assert.Contains(t, out, ".seat.contact-force")
		})
	}
}

// TestExplainPicksAValve: by name; without one the piloted valve answers and the
// others are named.
func TestExplainPicksAValve(t *testing.T) {
	status, out, errs := call(t, t.Context(), "explain", "boiler-plant-safeties", "--at", "5s", "--valve", "safety-2", "--json")
	require.Equal(t, exitGood, status, errs)
	var answer struct {
		Valves  []struct{} `json:"valves"`
		Springs []struct {
			Name   string             `json:"name"`
			State  string             `json:"state"`
			Forces map[string]float64 `json:"forces_N"`
		} `json:"spring_valves"`
		Others []struct {
			Name string `json:"name"`
		} `json:"others"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &answer))
	assert.Empty(t, answer.Valves)
	require.Len(t, answer.Springs, 1)
	assert.Equal(t, []string{"safety-2", "tight"}, []string{answer.Springs[0].Name, answer.Springs[0].State})
	assert.InDelta(t, -4797, answer.Springs[0].Forces["spring"], 5)
	require.Len(t, answer.Others, 2)
	assert.Equal(t, []string{"valve", "safety-1"}, []string{answer.Others[0].Name, answer.Others[1].Name})

	status, out, errs = call(t, t.Context(), "explain", "boiler-plant-safeties", "--at", "5s")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "THE SIX LINKS")
	assert.Contains(t, out, "safety-1: tight")

	status, _, errs = call(t, t.Context(), "explain", "boiler-plant-safeties", "--at", "5s", "--valve", "safety-9")
	assert.Equal(t, exitBadInput, status)
	assert.Contains(t, errs, `--valve: found "safety-9", want one of the valves of boiler-plant-safeties: valve, safety-1, safety-2`)
}
