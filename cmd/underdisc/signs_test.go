package main

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The table of one fault: printed, and as files that programs read.
func TestSignsTable(t *testing.T) {
	inFolder(t)
	status, page, errs := call(t, t.Context(), "signs", "--fault", "pilot-leaks=3mm2")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, page, "# Signs of the faults on boiler-plant")
	assert.Contains(t, page, "prove zero energy, again if it can build up again", "the caution")
	assert.Regexp(t, `(?m)^\| pilot-leaks +\| 3 mm2 +\|.*\*\*0\.8\d*\*\*`, page, "a share that differs stands out")
	assert.Regexp(t, `(?m)^\| none, boiler-plant`, page)
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "|") {
			assert.Greater(t, strings.Count(line, "|"), 4)
		}
	}

	status, said, errs := call(t, t.Context(), "signs", "boiler-plant", "--fault", "header-heated", "--out", "table")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, said, "2 runs; the table is in table")
	data, err := os.ReadFile(filepath.Join("table", "signs.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []string{"plant", "fault", "part", "severity"}, rows[0][:4])
	assert.Contains(t, rows[0], "rest_tail_K")
	assert.Equal(t, "header-heated", rows[2][1])
	written, err := os.ReadFile(filepath.Join("table", "signs.md"))
	require.NoError(t, err)
	assert.Contains(t, string(written), "header-heated")
}

func TestSignsRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"signs", "gas-bench"}, "want one of each, as in boiler-plant"},
		{[]string{"signs", "no-such"}, "no-such"},
		{[]string{"signs", "--fault", "pilot-leek"}, "pilot-leaks"},
		{[]string{"signs", "--fault", "contact-welded=3mm2"}, "sound, open or welded"},
		{[]string{"signs", "--fault", "pilot-leaks@3s"}, "found a time"},
		{[]string{"signs", "--fault", "sensing-slow"}, "several parts"},
		{[]string{"signs", "--fault", "plunger-not-seated"}, "coil.alternating"},
	} {
		status, out, errs := call(t, t.Context(), c.args...)
		assert.Equal(t, exitBadInput, status, "%v", c.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.says, "%v", c.args)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line")
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	status, out, errs := call(t, ctx, "signs", "--out", filepath.Join(t.TempDir(), "never"))
	assert.Equal(t, exitInterrupted, status)
	assert.Empty(t, out)
	assert.Contains(t, errs, "nothing has been written")
}
