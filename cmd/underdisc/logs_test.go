package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
)

// A log takes a sealed run and what is hidden during it; run, check and print
// take the log.
func TestLogs(t *testing.T) {
	inFolder(t)
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	severity := 6.1739e-6
	require.NoError(t, sc.Hide("first", fault.Entry{Name: "pilot-leaks", Severity: &severity, At: 1}))
	w, err := runlog.Create("sealed.log.yaml", sc, runlog.Tolerance(1e-7))
	require.NoError(t, err)
	require.NoError(t, w.Did(scenarios.Action{Command: &scenarios.Command{At: 1.25, Path: "inflow.mass-flow", Value: plant.Value{Number: 1.5}}}))
	weak := 87.6543
	require.NoError(t, w.Did(scenarios.Action{Fault: &fault.Entry{Name: "spring-weak", Severity: &weak, At: 4}, Hidden: true, Code: "second"}))
	require.NoError(t, w.Reached(6.5))
	require.NoError(t, w.Close())
	s := secret{traces: []string{"pilot-leaks", "6.1739", "spring-weak", "87.6543"}}
	data, err := os.ReadFile("sealed.log.yaml")
	require.NoError(t, err)
	s.silent(t, "the log", string(data))
	_, out, _ := call(t, t.Context(), "check", "sealed.log.yaml")
	assert.Contains(t, out, "is sound: the log of gas-bench-plus, 11 parts, 0 faults, 1 commands, 6.5 s to run, and something that is hidden")
	status, out, errs := call(t, t.Context(), "run", "sealed.log.yaml")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "scenario gas-bench-plus, 6.5 s")
	assert.Contains(t, out, "command at 1.25 s: inflow.mass-flow set to 1.5 kg/s")
	s.silent(t, "its report", out)
	status, _, errs = call(t, t.Context(), "print", "sealed.log.yaml", "--at", "5s", "--out", "a.svg")
	require.Equal(t, exitGood, status, errs)
	picture, err := os.ReadFile("a.svg")
	require.NoError(t, err)
	s.silent(t, "its picture", svgTexts(string(picture)))

	_, out, _ = call(t, t.Context(), "run", "sealed.log.yaml", "--code", "second")
	assert.Contains(t, out, "Something is hidden", "the first word is missing")
	_, coarse, _ := call(t, t.Context(), "run", "sealed.log.yaml", "--code", "second,first", "--rtol", "1e-4", "--json")
	_, own, _ := call(t, t.Context(), "run", "sealed.log.yaml", "--code", "second,first", "--json")
	_, same, _ := call(t, t.Context(), "run", "sealed.log.yaml", "--code", "second,first", "--rtol", "1e-7", "--json")
	assert.Equal(t, summary(t, own), summary(t, same), "the log's own tolerance holds")
	assert.NotEqual(t, summary(t, own), summary(t, coarse))
	for _, word := range []string{"pilot-leaks", "spring-weak", `"until_s": 6.5`} {
		assert.Contains(t, own, word)
	}
	status, _, errs = call(t, t.Context(), "run", "sealed.log.yaml", "--until", "9s")
	assert.Equal(t, exitGood, status, errs)
}
