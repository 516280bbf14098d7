package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// m 1, k 100, c 2, step force 10 (closed form; digits seen and reproduced).
func TestOscillatorAgainstPublishedValues(t *testing.T) {
	const peak, peakTime, atOne = 0.172924761, 0.315741942, 0.133685168
	o := simtest.NewOscillator()
	assert.InDelta(t, peakTime, o.Reversal(1), 5e-10)
	assert.InDelta(t, peak, o.Position(o.Reversal(1)), 5e-10)
	assert.InDelta(t, atOne, o.Position(1), 5e-10)
	for _, choice := range both {
		previous := math.Inf(1)
		for _, rtol := range []float64{1e-4, 1e-6, 1e-8, 1e-10} {
			t.Run(fmt.Sprintf("choice %d, rtol %g", choice, rtol), func(t *testing.T) {
				r, err := sim.New(o, o.Start(), sim.Settings{RelTol: rtol, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(1))
				require.Len(t, r.Events(), 3, "reversals before 1 s")
				top := r.Events()[0]
				worst := max(math.Abs(top.T-peakTime), math.Abs(top.After[0]-peak), math.Abs(r.State().Y[0]-atOne))
				assert.Less(t, worst, 20*rtol+6e-10)
				for k, e := range r.Events() {
					worst = max(worst, math.Abs(e.T-o.Reversal(k+1)))
				}
				assert.Less(t, worst, 0.3*previous+6e-10)
				previous = worst
				// Work in equals energy held and dissipated, to the error of
				// the step.
				y, q := r.State().Y, r.State().Q
				assert.InDelta(t, q[1], o.Energy(y)+q[0], 20*rtol)
			})
		}
	}
}

// L/R 10 ms, pick 60 %, drop 15 % of the full current (CHECK values computed
// from the closed forms; inputs invented).
func TestCoilPicksUpAndDropsOut(t *testing.T) {
	const pick, drop = 9.163e-3, 18.971e-3
	c := simtest.NewCoil()
	assert.InDelta(t, pick, c.PickUp(), 5e-7)
	assert.InDelta(t, drop, c.DropOut(), 5e-7)
	for _, choice := range both {
		for _, rtol := range []float64{1e-4, 1e-6, 1e-8, 1e-10} {
			t.Run(fmt.Sprintf("choice %d, rtol %g", choice, rtol), func(t *testing.T) {
				r, err := sim.New(c, c.Start(), sim.Settings{RelTol: rtol, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(1))
				var names []string
				for _, e := range r.Events() {
					names = append(names, e.Name)
				}
				require.Equal(t, []string{"pick-up", "off", "drop-out"}, names)
				times := r.Events()
				assert.InDelta(t, c.PickUp(), times[0].T, 0.02*rtol)
				assert.Equal(t, c.Off, times[1].T, "a timer is hit exactly")
				assert.InDelta(t, c.Off+c.DropOut(), times[2].T, 0.1*rtol)
			})
		}
	}
}

// Everything about the pump is piecewise linear: every time must come out to
// the rounding, cycle after cycle, and the relay exactly its delay after the
// switch.
func TestPumpKeepsItsTimes(t *testing.T) {
	p := simtest.NewPump()
	for _, choice := range both {
		t.Run(fmt.Sprint("choice ", choice), func(t *testing.T) {
			r, err := sim.New(p, p.Start(), sim.Settings{RelTol: 1e-3, Methods: choice})
			require.NoError(t, err)
			made, _, _, _ := p.Times(20)
			require.NoError(t, r.Finish(made-0.1))
			require.Len(t, r.Events(), 80)
			for k := range 20 {
				made, on, reset, off := p.Times(k)
				for i, want := range []struct {
					name string
					t    float64
				}{{"switch-made", made}, {"relay-on", on}, {"switch-reset", reset}, {"relay-off", off}} {
					e := r.Events()[4*k+i]
					assert.Equal(t, want.name, e.Name)
					assert.InDelta(t, want.t, e.T, 1e-10)
				}
				e := r.Events()[4*k:]
				assert.Equal(t, e[0].T+p.On, e[1].T)
				assert.Equal(t, e[2].T+p.Off, e[3].T)
			}
		})
	}
}

// A timer that is a little beyond the end of a step is reached by stretching
// it, or in two equal halves, never by a tiny rest.
func TestNoTinyStepBeforeATimer(t *testing.T) {
	for _, c := range []struct {
		name string
		h    float64
		want []float64 // ends of the steps to the timer at 0.5
	}{
		{"beyond the timer", 0.7, []float64{0.5}},
		{"to the timer", 0.5, []float64{0.5}},
		{"just short of it", 0.48, []float64{0.5}},
		{"short of it", 0.45, []float64{0.25, 0.5}},
		{"half way", 0.26, []float64{0.25, 0.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := simtest.NewPump()
			s := p.Start()
			s.Modes[0], s.Timers[0] = 1, 0.5
			s.Y[0] = 5
			h := &sim.History{}
			r, err := sim.Resume(p, sim.Checkpoint{State: s, Control: sim.Control{H: c.h, Explicit: true, Z: []float64{0}}},
				sim.Settings{RelTol: 1e-3, Methods: sim.Explicit, History: h})
			require.NoError(t, err)
			_, err = r.Advance(0.5, 0)
			require.NoError(t, err)
			var ends []float64
			require.NoError(t, h.Each(func(g *sim.Segment) error { ends = append(ends, g.T1); return nil }))
			assert.Equal(t, c.want, ends)
		})
	}
}
