package view

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// Cells that are put together of smaller ones, again and again, are those that
// are sampled at once: also where so much happens in one that not all of it is
// kept.
func TestCellsJoin(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	run, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, run.Sim.Finish(5))

	const finest, end = -8, 4.7
	joined := NewLens(run, 0).grid
	busy, sampled := 0, 0
	for level := finest; level <= -2; level++ {
		once := NewLens(run, 0).grid
		for at := range int64(1 << 4 << -min(level, 0)) {
			first := &cell{level: level, at: at}
			if first.begins() >= end {
				break
			}
			a, err := once.cell(level, at, end)
			require.NoError(t, err)
			b, err := joined.cell(level, at, end)
			require.NoError(t, err)
			require.Equal(t, a.upTo, b.upTo)
			require.Equal(t, a.events, b.events, "level %d, %g s", level, a.begins())
			require.Equal(t, len(a.rest), len(b.rest))
			for i := range a.rest {
				require.Equal(t, a.rest[i].t, b.rest[i].t, "level %d, %g s", level, a.begins())
				require.Equal(t, a.rest[i].y[:followed], b.rest[i].y[:followed])
				require.Equal(t, a.rest[i].event, b.rest[i].event)
			}
			require.Equal(t, a.line.y[:followed], b.line.y[:followed])
			if a.events > fewEvents {
				busy++
				assert.LessOrEqual(t, len(a.rest), 2*followed+2)
			}
			sampled++
		}
	}
	assert.GreaterOrEqual(t, busy, 2)
	assert.Greater(t, sampled, 1000)
}

// Once its cells have room, the trace costs no memory, though the window moves
// into what has not been sampled.
func TestTraceDoesNotAllocate(t *testing.T) {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	run, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, run.Sim.Finish(30))
	l := NewLens(run, 0)
	at := 0.5
	step := func() {
		at += 1. / 60
		w := window{}.spanning(quiet, at)
		_, err := l.take(at)
		require.NoError(t, err)
		require.NoError(t, l.grid.fill(&l.view.Trace, w, at, at, l.grid.probeOf(at, &l.snap)))
	}
	for at < 20 { // through several lifts
		step()
	}
	assert.Less(t, testing.AllocsPerRun(400, step), 0.05)
	assert.Greater(t, len(l.view.Trace.T), leastCells)
}
