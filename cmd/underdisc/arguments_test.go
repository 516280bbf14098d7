package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHelpAsACommand(t *testing.T) {
	_, want, _ := call(t, t.Context(), "--help")
	status, out, errs := call(t, t.Context(), "help")
	assert.Equal(t, exitGood, status, errs)
	assert.Equal(t, want, out)
	_, want, _ = call(t, t.Context(), "explain", "--help")
	status, out, errs = call(t, t.Context(), "help", "explain")
	assert.Equal(t, exitGood, status, errs)
	assert.Equal(t, want, out)
	assert.Contains(t, out, "--at")
}

// What is mistyped gets one line that says what was found and what would be right.
func TestMistyped(t *testing.T) {
	dir := inFolder(t)
	for _, c := range []struct {
		args []string
		says []string
		not  string
	}{
		{[]string{"expalin", "gas-bench"}, []string{"expalin: found no such command", "nearest is explain"}, "argument"},
		{[]string{"help", "nothing"}, []string{"nothing: found no such command", "one of show, run"}, "argument"},
		{[]string{"gas-bench"}, []string{"found a scenario and no command", "run gas-bench"}, "argument"},
		{[]string{"run", "gas-bnch"}, []string{"gas-bnch: found no scenario", "nearest is gas-bench", "list scenarios"}, "plant-seat-leaks"},
		{[]string{"explain", "x"}, []string{"x: found no scenario", "list scenarios"}, "nearest"},
		{[]string{"print", "gas-bench", "--at", "-1s", "--out", "x.png"}, []string{`--at: found "-1s"`, "want 0 s to"}, "flag"},
		{[]string{"explain", "gas-bench", "--at", "-.5s"}, []string{`--at: found "-.5s"`}, "flag"},
		{[]string{"run", "gas-bench", "--until", "-5s"}, []string{`--until: found "-5s"`, "more than 0 s"}, "flag"},
		{[]string{"explain", "gas-bench", "--units", "celsius"}, []string{`found "celsius", want any of bar, psi`}, "want of"},
	} {
		status, out, errs := call(t, t.Context(), c.args...)
		assert.Equal(t, exitBadInput, status, "%v: %s", c.args, errs)
		assert.Empty(t, out)
		isOneLine(t, errs)
		for _, s := range c.says {
			assert.Contains(t, errs, s)
		}
		assert.NotContains(t, errs, c.not)
		assert.Less(t, len(errs), 300, "no list of all scenarios")
	}
	empty(t, dir)
}

func TestPartThatIsNot(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mine.yaml", []byte(goodHead+"plant: {line: {to: valv}}\n"), 0o600))
	status, _, errs := call(t, t.Context(), "check", "./mine.yaml")
	assert.Equal(t, exitBadInput, status)
	assert.Contains(t, errs, `line.to: found no part named "valv", want a piloted-valve: valve`)
}

// A moment past the end of a scenario is drawn and explained, and said to be so.
func TestPastTheEnd(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mine.yaml", []byte(goodHead+"until: 1 s\n"), 0o600))
	for _, args := range [][]string{{"print", "./mine.yaml", "--out", "x.png"}, {"explain", "./mine.yaml"}} {
		status, _, errs := call(t, t.Context(), append(args, "--at", "1.5s")...)
		assert.Equal(t, exitGood, status, errs)
		assert.Contains(t, errs, "mine ends at 1 s; up to 1.5 s")
		status, _, errs = call(t, t.Context(), append(args, "--at", "0.5s")...)
		assert.Equal(t, exitGood, status, errs)
		assert.Empty(t, errs)
	}
}

// What a scenario says must be seen and was not is said, of a run as the file has it.
func TestMeantToBeSeen(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mine.yaml", []byte(goodHead+"until: 1 s\nshows: {lifts: {exactly: 3}, seated-at-end: true}\n"), 0o600))
	status, out, errs := call(t, t.Context(), "run", "./mine.yaml")
	assert.Equal(t, exitGood, status, errs)
	_, unmet, ok := strings.Cut(out, "MEANT TO BE SEEN, AND WAS NOT\n")
	require.True(t, ok, out)
	assert.True(t, strings.HasPrefix(unmet, "  - 0 lifts; want exactly 3\n\n"), unmet[:80])
	assert.Equal(t, []string{"0 lifts; want exactly 3"}, summaryOf(t, "./mine.yaml").Unmet)

	_, out, _ = call(t, t.Context(), "run", "./mine.yaml", "--until", "0.5s")
	assert.NotContains(t, out, "MEANT TO BE SEEN", "the run was given another end")
	assert.Empty(t, summaryOf(t, "gas-bench", "--rtol", "1e-5").Unmet)
}
