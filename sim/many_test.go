package sim_test

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

func TestManyRunsAll(t *testing.T) {
	for _, n := range []int{0, 1, 7, 100} {
		done := make([]int32, n)
		require.NoError(t, sim.Many(context.Background(), n, func(i int) error {
			atomic.AddInt32(&done[i], 1)
			return nil
		}))
		for i, d := range done {
			assert.Equal(t, int32(1), d, "call %d of %d", i, n)
		}
	}
}

// Work is handed out in order, so that the error of the lowest failing call is
// known whichever failed first.
func TestManyReturnsTheLowestError(t *testing.T) {
	for range 20 {
		err := sim.Many(context.Background(), 100, func(i int) error {
			if i == 17 {
				time.Sleep(time.Millisecond)
			}
			if i >= 17 {
				return fmt.Errorf("call %d", i)
			}
			return nil
		})
		require.EqualError(t, err, "call 17")
	}
}

func TestManyStopsHandingOut(t *testing.T) {
	var calls atomic.Int32
	require.Error(t, sim.Many(context.Background(), 100000, func(int) error {
		calls.Add(1)
		return fmt.Errorf("at once")
	}))
	assert.Less(t, calls.Load(), int32(1000))

	ctx, cancel := context.WithCancel(context.Background())
	calls.Store(0)
	err := sim.Many(ctx, 100000, func(i int) error {
		calls.Add(1)
		cancel()
		return nil
	})
	require.ErrorIs(t, err, context.Canceled)
	assert.Less(t, calls.Load(), int32(1000))
}

// Runs on several processors give what one after the other gives.
func TestManyRunsAreIndependent(t *testing.T) {
	const n = 16
	run := func(i int) (sim.State, error) {
		p := simtest.NewPlant()
		p.Inflow = 1 + 0.05*float64(i)
		r, err := sim.New(p, p.Start(), sim.Settings{RelTol: 1e-5})
		if err != nil {
			return sim.State{}, err
		}
		return *r.State(), r.Finish(2)
	}
	got := make([]sim.State, n)
	require.NoError(t, sim.Many(context.Background(), n, func(i int) (err error) {
		got[i], err = run(i)
		return err
	}))
	for i := range got {
		want, err := run(i)
		require.NoError(t, err)
		assert.Equal(t, want, got[i])
	}
}
