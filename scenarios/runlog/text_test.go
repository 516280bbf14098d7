package runlog_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
)

// A log that was read can be written again, the same.
func TestTextOfALog(t *testing.T) {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	var b bytes.Buffer
	w, err := runlog.New(&b, sc, runlog.Tolerance(1e-7))
	require.NoError(t, err)
	require.NoError(t, w.Did(at(1.5, set("inflow.mass-flow", 1.25))))
	require.NoError(t, w.Reached(4.5))
	require.NoError(t, w.Close())
	read, err := runlog.Parse(b.Bytes(), "a.yaml")
	require.NoError(t, err)
	text, err := runlog.Text(read)
	require.NoError(t, err)
	assert.Equal(t, b.String(), string(text))

	text, err = runlog.Text(sc)
	require.NoError(t, err)
	assert.Equal(t, sc.Text(), string(text))
}
