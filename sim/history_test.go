package sim_test

import (
	"fmt"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// A history that keeps two blocks gives back the same segments, bit for bit,
// as one that keeps all, with commands, stops and events inside and in
// whatever order it is asked.
func TestBoundedHistoryIsExact(t *testing.T) {
	const until = 9.0
	for _, choice := range all {
		rapid.Check(t, func(t *rapid.T) {
			cmds := drawCommands(t, until)
			stops := rapid.SliceOfN(rapid.Float64Range(1e-9, until), 0, 4).Draw(t, "stops")
			late := rapid.Float64Range(1e-3, 1).Draw(t, "late command within the last step")
			drive := func(keep int) *sim.History {
				h := &sim.History{Keep: keep}
				r := plantRun(t, sim.Settings{RelTol: 1e-7, Methods: choice, History: h}, cmds...)
				for _, at := range stops {
					if at > r.State().T {
						require.NoError(t, r.Finish(at))
					}
				}
				from, to := r.Earliest(), r.State().T
				require.NoError(t, r.Insert(pour(from+late*(to-from), 0.01)))
				require.NoError(t, r.Finish(until))
				return h
			}
			every, few := drive(0), drive(2)
			want := segments(t, every)
			require.Greater(t, len(want), 3*256)
			require.Equal(t, want, segments(t, few))
			for range 3 {
				at := rapid.Float64Range(0, until).Draw(t, "at")
				a, err := every.At(at)
				require.NoError(t, err)
				b, err := few.At(at)
				require.NoError(t, err)
				require.Equal(t, a, b)
			}
		})
	}
}

// Segments join: each starts where the one before ended, its dense output has
// the state after the event at its start and the state before it at its end.
func TestSegmentsMeetTheEvents(t *testing.T) {
	for _, keep := range []int{0, 1} {
		t.Run(fmt.Sprint("keep ", keep), func(t *testing.T) {
			h := &sim.History{Keep: keep}
			b := simtest.NewBall(1e-3)
			r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-6, History: h})
			require.NoError(t, err)
			require.NoError(t, r.Finish(13))
			from, to := h.Span()
			assert.Equal(t, 0.0, from)
			assert.Equal(t, 13.0, to)

			all := segments(t, h)
			for i := range all[1:] {
				assert.Equal(t, all[i].T1, all[i+1].T0)
				assert.Less(t, all[i].T0, all[i].T1)
			}
			y := make([]float64, 2)
			ends := map[float64]sim.Segment{}
			for _, g := range all {
				ends[g.T1] = g
			}
			for _, e := range r.Events() {
				g, err := h.At(e.T)
				require.NoError(t, err)
				assert.Equal(t, e.T, g.T0)
				g.Eval(e.T, y)
				assert.Equal(t, e.After, y, "%s at %g", e.Name, e.T)
				before := ends[e.T]
				before.End(y)
				assert.InDeltaSlice(t, e.Before, y, 1e-14, "%s at %g", e.Name, e.T)
				assert.Equal(t, e.From, before.Modes)
				assert.Equal(t, e.To, g.Modes)
			}
			// In between it is the parabola.
			g, err := h.At(1)
			require.NoError(t, err)
			g.Eval(1, y)
			assert.InDeltaSlice(t, []float64{10 - 9.81/2, -9.81}, y, 1e-11)
			assert.Equal(t, b, h.System(g.Interval))

			last, err := h.At(13)
			require.NoError(t, err)
			assert.Equal(t, 13.0, last.T1)
		})
	}
}

func TestHistoryRefuses(t *testing.T) {
	h := &sim.History{}
	_, err := h.At(0)
	require.Error(t, err, "nothing is there yet")
	b := simtest.NewBall(1e-3)
	set := sim.Settings{RelTol: 1e-6, History: h}
	r, err := sim.New(b, b.Start(), set)
	require.NoError(t, err)
	require.NoError(t, r.Finish(2))
	for _, at := range []float64{-0.1, 2.1} {
		_, err := h.At(at)
		require.ErrorContains(t, err, "reaches from 0 to 2 s")
	}
	_, err = sim.Resume(b, r.Checkpoint(), set)
	require.ErrorContains(t, err, "another run")
	stop := fmt.Errorf("enough")
	require.Equal(t, stop, h.Each(func(*sim.Segment) error { return stop }))
}

// Nothing is allocated for a step away from events, with and without a
// history; with a bounded one only the checkpoint of each block.
func TestStepsDoNotAllocate(t *testing.T) {
	for _, choice := range all {
		for _, c := range []struct {
			name string
			hist *sim.History
		}{{"no history", nil}, {"bounded history", &sim.History{Keep: 2}}} {
			t.Run(fmt.Sprintf("%s, choice %d", c.name, choice), func(t *testing.T) {
				p := simtest.NewPlant()
				p.Inflow = 1e-3 // so little that nothing happens for long
				s := p.Start()
				s.Y[1], s.Y[5] = 0.9, 1.1
				r, err := sim.New(p, s, sim.Settings{RelTol: 1e-10, Methods: choice, History: c.hist})
				require.NoError(t, err)
				// Past the first plans, into reused blocks, just behind the
				// start of one.
				_, err = r.Advance(1e9, 4*256+10)
				require.NoError(t, err)
				perStep := testing.AllocsPerRun(100, func() {
					if _, err := r.Advance(1e9, 1); err != nil {
						panic(err)
					}
				})
				assert.Zero(t, perStep)
				require.Empty(t, r.Events())
			})
		}
	}
}

// The memory of a long run with a bounded history grows by the checkpoints
// alone: less than a tenth of what the steps would need.
func TestMemoryIsBounded(t *testing.T) {
	p := simtest.NewPlant()
	h := &sim.History{Keep: 2}
	r, err := sim.New(p, p.Start(), sim.Settings{RelTol: 1e-6, Methods: sim.Explicit, History: h, NoPast: true})
	require.NoError(t, err)
	_, err = r.Advance(1, 0)
	require.NoError(t, err)
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc)
	}
	before, steps := heap(), r.Stats().Steps
	_, err = r.Advance(20, 0)
	require.NoError(t, err)
	grown := heap() - before
	bytes := float64(r.Stats().Steps-steps) * (5*6 + 2 + 1) * 8
	require.Greater(t, bytes, 1e7)
	assert.Less(t, grown, 0.1*bytes)
	runtime.KeepAlive(h)
}
