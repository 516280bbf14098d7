package main

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The map of the reference valve: what is printed, and files that programs and
// people read.
func TestMap(t *testing.T) {
	inFolder(t)
	status, page, errs := call(t, t.Context(), "map", "spring-reference")
	require.Equal(t, exitGood, status, errs)
	assert.Regexp(t, `Pops at 40\.0\d bar from 60 um to 14\.0 mm, its stop`, page)
	assert.Regexp(t, `Shuts at 38\.\d\d bar, from 8\.9 mm: blowdown 4\.3 %`, page)
	assert.Contains(t, page, "prove zero energy", "the caution")
	assert.Equal(t, 1, strings.Count(page, "CAUTION"))

	status, said, errs := call(t, t.Context(), "map", "spring-reference", "--set", "safety.upper-ring.exit-height=16mm", "--out", "maps")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, said, "the maps are in maps")
	picture, err := os.ReadFile(filepath.Join("maps", "map-safety.svg"))
	require.NoError(t, err)
	assert.Contains(t, string(picture), "safety.upper-ring.exit-height=16mm")
	data, err := os.ReadFile(filepath.Join("maps", "map-safety.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 100)
	column := func(name string) int {
		for i, h := range rows[0] {
			if h == name {
				return i
			}
		}
		t.Fatalf("no column %s", name)
		return -1
	}
	folds := map[string]float64{}
	for _, r := range rows[1:] {
		x, err := strconv.ParseFloat(r[column("vessel_bar_gauge")], 64)
		require.NoError(t, err)
		if kind := r[column("fold")]; kind != "" {
			folds[kind] = x
		}
		assert.Equal(t, r[column("branch")] != "unstable", r[column("stable")] == "yes")
	}
	assert.InDelta(t, 40.00, folds["pop"], 0.02)
	assert.InDelta(t, 35.50, folds["reseat"], 0.1)
	for _, name := range []string{"map-safety.png", "map-safety.svg", "map-safety.txt", listName} {
		info, err := os.Stat(filepath.Join("maps", name))
		require.NoError(t, err)
		assert.Positive(t, info.Size(), name)
	}
	// Once more over its own files.
	status, _, errs = call(t, t.Context(), "map", "spring-reference", "--out", "maps")
	assert.Equal(t, exitGood, status, errs)
}

// Of several valves each has its own; a valve without a map is passed over, unless
// it was asked for.
func TestMapValves(t *testing.T) {
	inFolder(t)
	status, page, errs := call(t, t.Context(), "map", "boiler-plant-safeties")
	require.Equal(t, exitGood, status, errs)
	for _, head := range []string{"VALVE: STATIC MAP, ITS PILOT OPEN", "VALVE: STATIC MAP, ITS PILOT SHUT", "SAFETY-1: STATIC MAP", "SAFETY-2: STATIC MAP"} {
		assert.Contains(t, page, head)
	}
	assert.Contains(t, page, "the chamber holds the disc")
	status, page, errs = call(t, t.Context(), "map", "boiler-plant-safeties", "--set", "line.block-valve.opening=0")
	require.Equal(t, exitGood, status, errs)
	assert.NotContains(t, page, "VALVE: STATIC MAP")
	assert.Contains(t, page, "SAFETY-1: STATIC MAP")
	status, page, errs = call(t, t.Context(), "map", "boiler-plant-safeties", "--valve", "safety-2")
	require.Equal(t, exitGood, status, errs)
	assert.NotContains(t, page, "SAFETY-1")
}

func TestMapRefuses(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("taken", nil, 0o644))
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"map"}, "NAME|FILE"},
		{[]string{"map", "no-such"}, "no-such"},
		{[]string{"map", "spring-reference", "--valve", "safetie"}, `--valve: found "safetie", want one of its valves: safety`},
		{[]string{"map", "spring-reference", "--set", "safety.lower-ring.gap=4kg"}, "--set"},
		{[]string{"map", "boiler-plant", "--set", "line.block-valve.opening=0"}, "want its block valve open"},
		{[]string{"map", "boiler-plant", "--fault", "pilot-leaks@3s"}, "found a time"},
		{[]string{"map", "spring-reference", "--out", "taken"}, "want a folder"},
	} {
		status, out, errs := call(t, t.Context(), c.args...)
		assert.Equal(t, exitBadInput, status, "%v", c.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.says, "%v", c.args)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line")
	}
	status, _, errs := call(t, t.Context(), "hide", "gas-bench-plus", "--fault", "pilot-leaks=6mm2", "--code", "rain", "--out", "drill.yaml")
	require.Equal(t, exitGood, status, errs)
	status, out, errs := call(t, t.Context(), "map", "drill.yaml")
	assert.Equal(t, exitBadInput, status)
	assert.Empty(t, out)
	assert.Contains(t, errs, "want a scenario that hides none")
	ctx, stop := context.WithCancel(t.Context())
	stop()
	status, out, errs = call(t, ctx, "map", "spring-reference", "--out", "never")
	assert.Equal(t, exitInterrupted, status)
	assert.Empty(t, out)
	assert.Contains(t, errs, "nothing has been written")
	assert.NoDirExists(t, "never")
}
