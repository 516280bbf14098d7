package session_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
	"underdisc/viz/session"
)

// A log that is opened again is the same run, with its tolerance; it goes on
// from where it came to, and before that can be left for another.
func TestReopen(t *testing.T) {
	var texts [4]bytes.Buffer
	n := 0
	log := func(_ int, sc *scenarios.Scenario, relTol float64) (session.Recorder, error) {
		n++
		return runlog.New(&texts[n-1], sc, runlog.Tolerance(relTol))
	}
	s := start(t, "gas-bench-plus", session.Options{RelTol: 1e-7, Log: log})
	s.SlowByItself(false)
	run(t, s, 3*time.Second)
	require.NoError(t, s.Do(befall("bleed-plugged", 2e-7)))
	run(t, s, 2*time.Second)
	head, first := s.T(), s.Lanes()[0].Run
	require.NoError(t, s.Close())

	sc, err := runlog.Parse(texts[0].Bytes(), "first.yaml")
	require.NoError(t, err)
	again, err := session.New(sc, session.Options{Log: log})
	require.NoError(t, err)
	assert.Equal(t, head, again.Head())
	assert.Zero(t, again.T())
	assert.Equal(t, seen(first, head), seen(again.Lanes()[0].Run, head))
	require.NoError(t, again.Seek(head))
	require.NoError(t, again.Do(command("line.block-valve.opening", 0.5)))
	require.Len(t, again.Lanes(), 1, "it goes on")
	require.NoError(t, again.Seek(1))
	require.NoError(t, again.WhatIf(befall("spring-weak", 60)))
	assert.Len(t, again.Lanes()[0].Did, 2)
	assert.Len(t, again.Lanes()[1].Did, 1, "what came later is not in it")
	require.NoError(t, again.Close())

	for i, did := range []int{1, 2, 1} {
		sc, err := runlog.Parse(texts[i].Bytes(), "again.yaml")
		require.NoError(t, err)
		assert.Len(t, sc.Log.Did, did)
		assert.Equal(t, 1e-7, sc.Log.RelTol)
	}
}
