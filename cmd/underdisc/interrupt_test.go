package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/report"
)

// endless is a run that no test waits for.
var endless = []string{"run", "gas-bench", "--until", "1e7s", "--out", "a/results"}

func TestInterruptedWhileRunning(t *testing.T) {
	dir := inFolder(t)
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	status, out, errs := call(t, ctx, endless...)
	assert.Equal(t, exitInterrupted, status)
	assert.Empty(t, out)
	isOneLine(t, errs)
	assert.Contains(t, errs, "nothing has been written")
	empty(t, dir)
}

func TestInterruptedWhileWriting(t *testing.T) {
	dir := inFolder(t)
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	sc.Until = 9
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	rec, err := report.NewRecord(r, time.Millisecond)
	require.NoError(t, err)
	t.Run("before the first file", func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		into, err := openFolder("a/results", report.IsFile)
		require.NoError(t, err)
		assert.ErrorIs(t, (&runCmd{}).save(&program{ctx: ctx, err: &bytes.Buffer{}}, rec, into), errInterrupted)
		empty(t, dir)
	})
	t.Run("in the tables", func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		defer cancel()
		into, err := openFolder("a/results", report.IsFile)
		require.NoError(t, err)
		seen := 0
		err = rec.Files(ctx, "", func(float64) {
			if seen++; seen == 100 {
				cancel()
			}
		}, into.add)
		assert.ErrorIs(t, err, context.Canceled)
		into.abandon()
		empty(t, dir)
	})
}

// A real interruption of the real program.
func TestInterruptSignal(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an interruption cannot be sent to another process there")
	}
	dir := inFolder(t)
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, endless...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), mainVariable+"=1")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	require.NoError(t, cmd.Start())
	time.Sleep(500 * time.Millisecond)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	err = cmd.Wait()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	assert.Equal(t, exitInterrupted, exit.ExitCode())
	assert.Empty(t, out.String())
	isOneLine(t, errs.String())
	empty(t, dir)
}

// The bar appears on a terminal, on long runs, and goes again.
func TestBar(t *testing.T) {
	var w bytes.Buffer
	b := newBar(&w, true, "computing", 10)
	b.at(5)
	assert.Empty(t, w.String(), "a short run needs none")
	b.began = b.began.Add(-time.Minute)
	b.at(5)
	assert.Contains(t, w.String(), "computing")
	assert.Contains(t, w.String(), "50%")
	b.clear()

	w.Reset()
	b = newBar(&w, false, "computing", 10)
	b.began = b.began.Add(-time.Minute)
	b.at(5)
	b.clear()
	assert.Empty(t, w.String(), "no terminal, no bar")
}
