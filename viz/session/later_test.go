package session_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/viz/session"
)

// Where two runs are more than can be computed in time, no moment is shown that
// one of them has not reached.
func TestTwoRunsBehind(t *testing.T) {
	s := start(t, "boiler-plant", session.Options{})
	s.SlowByItself(false)
	s.SetRate(100)
	require.NoError(t, s.WhatIf(command("line.block-valve.opening", 0)))
	s.Go()
	behind := false
	for range 60 {
		require.NoError(t, s.Tick(time.Second)) // far more than a tick computes
		behind = behind || s.Pace().Behind
		for _, l := range s.Lanes() {
			assert.GreaterOrEqual(t, l.Run.Sim.State().T, s.T())
		}
	}
	assert.True(t, behind)
	assert.Positive(t, s.T())
}

// What has been decided for later happens in time, though the engine's steps are
// long: what was shown of the moments after it is not taken back, by a clock that
// runs or by one that seeks the next event.
func TestWhatIsToComeHappensInTime(t *testing.T) {
	for _, seeks := range []bool{false, true} {
		s := start(t, "boiler-plant", session.Options{})
		s.SlowByItself(false)
		s.SetRate(20)
		at := 32.0
		later := command("relay.selector.position", 0)
		later.Command.At, later.Command.Value = at, plant.Value{Word: "open"}
		require.NoError(t, s.WhatIf(later))
		if seeks {
			require.NoError(t, s.Do(command("line.block-valve.opening", 0))) // in both, and shut after 30 s
			for range 3 {
				require.NoError(t, s.NextEvent())
				for s.Pace().Seeks {
					require.NoError(t, s.Tick(frame))
				}
			}
			assert.InDelta(t, at, s.T(), 0.2, "the coil is switched on")
			continue
		}
		s.Go()
		for s.T() < 36 {
			require.NoError(t, s.Tick(frame))
			if s.T() < at+0.2 {
				continue
			}
			b, _, err := s.Lanes()[1].Run.At(s.T())
			require.NoError(t, err)
			require.True(t, b.Valves[0].Control.RelayOn, "at %g s", s.T())
		}
	}
}
