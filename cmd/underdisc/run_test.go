package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
)

// mainVariable in the environment makes the test program the program itself.
const mainVariable = "UNDERDISC_TEST_AS_MAIN"

func TestMain(m *testing.M) {
	if os.Getenv(mainVariable) != "" {
		main()
	}
	os.Exit(m.Run())
}

// call runs the program and returns what it said.
func call(t *testing.T, ctx context.Context, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(ctx, args, &o, &e, environment{version: "v0.0.0-test"})
	return status, o.String(), e.String()
}

// inFolder makes a new folder the present one.
func inFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	t.Chdir(dir)
	return dir
}

// empty asserts that nothing lies in the folder but the given names.
func empty(t *testing.T, dir string, but ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if but == nil {
		but = []string{}
	}
	assert.Equal(t, but, names, "left in the folder")
}

func TestRunIntoAFolder(t *testing.T) {
	dir := inFolder(t)
	status, out, errs := call(t, t.Context(), "run", "gas-bench", "--out", "results/gas-bench")
	require.Equal(t, exitGood, status, errs)
	assert.Empty(t, errs)
	assert.Contains(t, out, "The valve lifted 11 times in 60 s.")
	folder := filepath.FromSlash("results/gas-bench")
	assert.Contains(t, out, "are in "+folder)
	for _, name := range []string{"trace.csv", "events.csv", "summary.json", "report.txt", "plot.png", "plot.svg", "first-lift.png", "first-lift.svg"} {
		assert.FileExists(t, filepath.Join(dir, folder, name))
	}
}

func TestRunWithoutFolderWritesNothing(t *testing.T) {
	dir := inFolder(t)
	status, out, errs := call(t, t.Context(), "run", "gas-bench", "--until", "5s")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "The valve lifted once in 5 s.")
	empty(t, dir)
}

// A bad argument ends with status 2 and one line, before anything has been
// written.
func TestBadArguments(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		says []string
	}{
		{"no such command", []string{"rum"}, []string{"rum", "--help"}},
		{"no such flag", []string{"run", "gas-bench", "--unti", "5s"}, []string{"--unti"}},
		{"no scenario", []string{"run"}, []string{"NAME|FILE"}},
		{"unknown scenario", []string{"run", "gas-bensh"}, []string{"gas-bensh", "nearest is gas-bench"}},
		{"until without unit", []string{"run", "gas-bench", "--until", "60"}, []string{"--until", `"60" has no unit`, "60"}},
		{"until of another dimension", []string{"run", "gas-bench", "--until", "60 mm"}, []string{"--until", "is a length", "a time such as"}},
		{"until zero", []string{"run", "gas-bench", "--until", "0s"}, []string{"--until", "more than 0 s"}},
		{"until negative", []string{"run", "gas-bench", "--until=-5s"}, []string{"--until", "more than 0 s"}},
		{"until too long", []string{"run", "gas-bench", "--until", "1e9s"}, []string{"--until", "at most"}},
		{"rtol no number", []string{"run", "gas-bench", "--rtol", "fine"}, []string{"--rtol", `"fine"`, "1e-6"}},
		{"rtol zero", []string{"run", "gas-bench", "--rtol", "0"}, []string{"--rtol", "1e-12"}},
		{"rtol negative", []string{"run", "gas-bench", "--rtol=-1e-6"}, []string{"--rtol"}},
		{"rtol too large", []string{"run", "gas-bench", "--rtol", "1"}, []string{"--rtol", "0.1"}},
		{"rtol not finite", []string{"run", "gas-bench", "--rtol", "NaN"}, []string{"--rtol"}},
		{"set without value", []string{"run", "gas-bench", "--set", "vessel.volume"}, []string{"--set", "path=value"}},
		{"set unknown path", []string{"run", "gas-bench", "--set", "vessel.volum=5m3"}, []string{"--set", "vessel.volum", "vessel.volume"}},
		{"set without unit", []string{"run", "gas-bench", "--set", "vessel.volume=5"}, []string{"--set", "vessel.volume", "has no unit", "a volume"}},
		{"set out of range", []string{"run", "gas-bench", "--set", "vessel.volume=-5m3"}, []string{"--set", "more than 0"}},
		{"set unsound together", []string{"run", "gas-bench", "--set", "valve.seat.diameter=80mm"}, []string{"--set", "valve.seat.diameter", "70 mm"}},
		{"set a gauge-less pressure", []string{"run", "gas-bench", "--set", "switch.set=12bar"}, []string{"--set", "gauge or absolute"}},
		{"unknown fault", []string{"run", "gas-bench", "--fault", "pilot-leeks"}, []string{"--fault", "pilot-leeks", "pilot-leaks"}},
		{"fault severity of another dimension", []string{"run", "gas-bench", "--fault", "pilot-leaks=6mm"}, []string{"--fault", "length"}},
		{"fault severity out of range", []string{"run", "gas-bench", "--fault", "pilot-leaks=-6mm2"}, []string{"--fault", "pilot-leaks"}},
		{"fault time without unit", []string{"run", "gas-bench", "--fault", "pilot-leaks@2"}, []string{"--fault", "has no unit"}},
		{"fault after the end", []string{"run", "gas-bench", "--fault", "pilot-leaks@2h"}, []string{"--fault", "after the end", "60 s"}},
		{"fault of a part that is not there", []string{"run", "gas-bench", "--fault", "pilot-leaks:north"}, []string{"--fault", "north", "valve"}},
		{"fault that the plant cannot have", []string{"run", "gas-bench", "--fault", "dump-restricted"}, []string{"dump-restricted", "dump-line"}},
		{"one fault twice", []string{"run", "gas-bench", "--fault", "pilot-leaks", "--fault", "pilot-leaks=1mm2"}, []string{"pilot-leaks", "twice"}},
		{"two faults on one parameter", []string{"run", "gas-bench", "--fault", "bleed-plugged", "--fault", "bleed-enlarged"}, []string{"bleed-plugged", "bleed-enlarged", "valve.bleed.area"}},
		{"fault on what was set unsound", []string{"run", "gas-bench", "--fault", "deadband-narrow=12.5bar abs"}, []string{"switch.reset"}},
		{"folder is a file", []string{"run", "gas-bench", "--out", "file"}, []string{"--out file", "not a directory"}},
		{"folder below a file", []string{"run", "gas-bench", "--out", "file/results"}, []string{"--out file", "folder"}},
		{"list of something else", []string{"list", "valves"}, []string{`"valves"`, "scenarios, faults, procedures or paths"}},
		{"list faults of a scenario", []string{"list", "faults", "gas-bench"}, []string{"paths"}},
		{"list paths of no scenario", []string{"list", "paths", "no-such"}, []string{"no-such"}},
		{"check nothing", []string{"check"}, []string{"FILE"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := inFolder(t)
			require.NoError(t, os.WriteFile("file", []byte("kept"), 0o600))
			args := c.args
			if args[0] == "run" && !strings.Contains(strings.Join(args, " "), "--out") {
				args = append(args, "--out", "results")
			}
			status, out, errs := call(t, t.Context(), args...)
			assert.Equal(t, exitBadInput, status, errs)
			assert.Empty(t, out)
			isOneLine(t, errs)
			for _, s := range c.says {
				assert.Contains(t, errs, s)
			}
			empty(t, dir, "file")
		})
	}
}

func isOneLine(t *testing.T, errs string) {
	t.Helper()
	assert.True(t, strings.HasPrefix(errs, "underdisc: "), "the line names the program: %q", errs)
	assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %q", errs)
	assert.True(t, strings.HasSuffix(errs, "\n"))
}

// full is an output that takes nothing more.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// An output that cannot be written fails the run.
func TestOutputFails(t *testing.T) {
	for _, args := range [][]string{{"run", "gas-bench", "--until", "1s"}, {"list"}, {"schema"}, {"version"}, {"check", "gas-bench"}} {
		var errs bytes.Buffer
		assert.Equal(t, exitFailed, run(t.Context(), args, full{}, &errs, environment{}))
		isOneLine(t, errs.String())
		assert.Contains(t, errs.String(), "no space left")
	}
}

func TestHelp(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"run", "--help"}, {"list", "--help"}} {
		status, out, errs := call(t, t.Context(), args...)
		assert.Equal(t, exitGood, status)
		assert.Empty(t, errs)
		assert.Contains(t, out, "Usage: underdisc")
	}
}

func TestVersion(t *testing.T) {
	status, out, _ := call(t, t.Context(), "version")
	assert.Equal(t, exitGood, status)
	assert.Contains(t, out, "underdisc v0.0.0-test, go1.")
	assert.NotEmpty(t, version())
}

func TestSchema(t *testing.T) {
	status, out, _ := call(t, t.Context(), "schema")
	want, err := scenarios.Schema()
	require.NoError(t, err)
	assert.Equal(t, exitGood, status)
	assert.JSONEq(t, string(want), out)
}

func TestCheck(t *testing.T) {
	for _, name := range scenarios.Names() {
		status, out, errs := call(t, t.Context(), "check", name)
		assert.Equal(t, exitGood, status, errs)
		assert.Contains(t, out, name+" is sound")
	}
}

// Every scenario, every fault with its typical severity, every path with its
// value is listed.
func TestList(t *testing.T) {
	status, out, errs := call(t, t.Context(), "list")
	require.Equal(t, exitGood, status, errs)
	for _, name := range scenarios.Names() {
		assert.Regexp(t, `(?m)^    `+name+` +\S`, out)
	}
	for _, f := range fault.All() {
		assert.Regexp(t, `(?m)^  `+f.Name+` .* typically \S`, out)
		assert.Contains(t, out, f.About)
	}
	for line, want := range map[string]string{
		"valve.bleed.area":        "4 mm2",
		"valve.disc.friction-law": "smoothed (smoothed, sticking)",
		"inflow.into":             "vessel (name of a vessel or drum)",
		"switch.set":              "12 bar abs",
	} {
		assert.Regexp(t, `(?m)^  `+regexpQuote(line)+` +`+regexpQuote(want), out)
	}
	_, paths, _ := call(t, t.Context(), "list", "paths", "gas-bench-plus")
	assert.Contains(t, paths, "line.block-valve.opening")
	assert.NotContains(t, paths, "Faults")
	_, faults, _ := call(t, t.Context(), "list", "faults")
	assert.NotContains(t, faults, "Paths of")
	_, names, _ := call(t, t.Context(), "list", "scenarios")
	assert.Equal(t, len(scenarios.Names()), strings.Count(names, "\n    "), "each once")
	last := -1
	for _, g := range groups {
		at := strings.Index(names, "\n  "+g.title+"\n")
		require.Greater(t, at, last, g.title)
		last = at
	}
	bench, plant, _ := strings.Cut(names, "Faults and mistakes")
	assert.Contains(t, plant, "plant-selector-left")
	assert.Contains(t, bench, "leaking-seat-steam")
}
