package runlog_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
)

// What a person waits for when something is done: the line is on the disk.
func BenchmarkDid(b *testing.B) {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(b, err)
	w, err := runlog.Create(filepath.Join(b.TempDir(), "log.yaml"), sc)
	require.NoError(b, err)
	t := 0.0
	for b.Loop() {
		t += 0.01
		require.NoError(b, w.Did(at(t, set("inflow.mass-flow", 1/t))))
	}
	require.NoError(b, w.Close())
}
