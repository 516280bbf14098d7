package sim_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// inflow is a command that sets the plant's inflow.
func inflow(at, to float64) sim.Command {
	return sim.Command{T: at, Name: "inflow", Do: func(_ *sim.State, in sim.System) (sim.System, error) {
		p := *in.(*simtest.Plant)
		p.Inflow = to
		return &p, nil
	}}
}

// pour is a command that changes the state and keeps the system.
func pour(at, amount float64) sim.Command {
	return sim.Command{T: at, Name: "pour", Do: func(s *sim.State, _ sim.System) (sim.System, error) {
		s.Y[0] += amount
		s.Q[0] += amount
		return nil, nil
	}}
}

// mark is a command that changes nothing.
func mark(at float64) sim.Command {
	return sim.Command{T: at, Name: "mark", Do: func(*sim.State, sim.System) (sim.System, error) { return nil, nil }}
}

// segments copies a history.
func segments(t require.TestingT, h *sim.History) []sim.Segment {
	var out []sim.Segment
	require.NoError(t, h.Each(func(g *sim.Segment) error {
		c := *g
		c.C, c.Q, c.Modes, c.Timers = slices.Clone(g.C), slices.Clone(g.Q), slices.Clone(g.Modes), slices.Clone(g.Timers)
		out = append(out, c)
		return nil
	}))
	return out
}

// requireSame asserts that two runs are the same bit for bit.
func requireSame(t require.TestingT, want, got *sim.Run) {
	require.Equal(t, want.Checkpoint(), got.Checkpoint())
	require.Equal(t, want.Events(), got.Events())
}

// A run of the plant and the moments that are worth a command: anywhere, at
// the time of an event, and close to each other.
func plantRun(t require.TestingT, set sim.Settings, cmds ...sim.Command) *sim.Run {
	p := simtest.NewPlant()
	p.E = 0.02 // less stiff, for the sake of explicit steps
	r, err := sim.New(p, p.Start(), set, cmds...)
	require.NoError(t, err)
	return r
}

// moments are the times from 0 on, but for those so near it that a step to them
// would underflow.
func moments(until float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-9, until))
}

func drawCommands(t *rapid.T, until float64) []sim.Command {
	plain := plantRun(t, sim.Settings{RelTol: 1e-4, NoPast: true})
	require.NoError(t, plain.Finish(until))
	anywhere := moments(until)
	event := rapid.Map(rapid.IntRange(0, len(plain.Events())-1), func(i int) float64 { return plain.Events()[i].T })
	var cmds []sim.Command
	for range rapid.IntRange(1, 6).Draw(t, "commands") {
		at := rapid.OneOf(anywhere, event).Draw(t, "at")
		for range rapid.IntRange(1, 3).Draw(t, "close together") {
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				cmds = append(cmds, inflow(at, rapid.Float64Range(0.5, 2).Draw(t, "to")))
			case 1:
				cmds = append(cmds, pour(at, rapid.Float64Range(-0.1, 0.5).Draw(t, "amount")))
			default:
				cmds = append(cmds, mark(at))
			}
			at = min(until, at+rapid.SampledFrom([]float64{0, 1e-9, 1e-4}).Draw(t, "apart"))
		}
	}
	slices.SortStableFunc(cmds, func(a, b sim.Command) int {
		switch {
		case a.T < b.T:
			return -1
		case a.T > b.T:
			return 1
		}
		return 0
	})
	return cmds
}

// A live run, in ticks of any length with commands given at the tick, and its
// replay from the list of commands make the same steps bit for bit, however
// the replay is driven.
func TestReplayIsExact(t *testing.T) {
	const until = 3.0
	for _, choice := range all {
		rapid.Check(t, func(t *rapid.T) {
			cmds := drawCommands(t, until)
			tick := rapid.Float64Range(1e-4, 0.3).Draw(t, "tick")
			set := func(keep int) sim.Settings {
				return sim.Settings{RelTol: 1e-4, Methods: choice, History: &sim.History{Keep: keep}}
			}

			liveSet := set(0)
			live := plantRun(t, liveSet)
			next := 0
			for at := 0.0; at < until; {
				at = min(at+tick, until)
				if next < len(cmds) {
					at = min(at, cmds[next].T)
				}
				_, err := live.Advance(at, 0)
				require.NoError(t, err)
				for next < len(cmds) && cmds[next].T == at {
					require.NoError(t, live.Insert(cmds[next]))
					next++
				}
			}
			_, err := live.Advance(until, 0)
			require.NoError(t, err)

			replaySet := set(0)
			replay := plantRun(t, replaySet, cmds...)
			_, err = replay.Advance(until, 0)
			require.NoError(t, err)
			requireSame(t, live, replay)
			kept := segments(t, liveSet.History)
			require.Equal(t, kept, segments(t, replaySet.History))

			// In portions of a few steps, with little memory.
			portionSet := set(2)
			portions := plantRun(t, portionSet, cmds...)
			budget := rapid.IntRange(1, 50).Draw(t, "budget")
			for done := false; !done; {
				done, err = portions.Advance(until, budget)
				require.NoError(t, err)
			}
			requireSame(t, live, portions)
			require.Equal(t, kept, segments(t, portionSet.History))
		})
	}
}

// A budget of steps is kept.
func TestBudget(t *testing.T) {
	r := plantRun(t, sim.Settings{RelTol: 1e-6})
	before := r.Stats().Steps
	done, err := r.Advance(3, 7)
	require.NoError(t, err)
	assert.False(t, done)
	assert.LessOrEqual(t, r.Stats().Steps-before, 7)
}

// A run that is taken up from a checkpoint goes on bit for bit as if it had
// not been interrupted, commands included; a run that is finished is at a
// moment of its own and is taken up from there in the same way.
func TestResumeIsExact(t *testing.T) {
	const until = 3.0
	for _, choice := range all {
		rapid.Check(t, func(t *rapid.T) {
			cmds := drawCommands(t, until)
			r := plantRun(t, sim.Settings{RelTol: 1e-4, Methods: choice}, cmds...)
			at := moments(until).Draw(t, "checkpoint")
			if rapid.Bool().Draw(t, "finish") {
				require.NoError(t, r.Finish(at))
			} else {
				_, err := r.Advance(at, 0)
				require.NoError(t, err)
			}
			cp := r.Checkpoint()
			again, err := sim.Resume(r.System(), cp, sim.Settings{RelTol: 1e-4, Methods: choice}, cmds...)
			require.NoError(t, err)
			for _, run := range []*sim.Run{r, again} {
				_, err := run.Advance(until, 0)
				require.NoError(t, err)
			}
			require.Equal(t, r.Checkpoint(), again.Checkpoint())
			// The events of a step that was taken back are in both.
			later := again.Events()
			if len(later) > 0 {
				require.Equal(t, r.Events()[len(r.Events())-len(later):], later)
			}
			for _, e := range r.Events()[:len(r.Events())-len(later)] {
				require.LessOrEqual(t, e.T, cp.State.T)
			}
			require.Len(t, again.Systems(), len(r.Systems()))
		})
	}
}

// The same where the right side depends on every bit of the time: the moment at
// which a run is finished is the one that its derivatives belong to.
func TestResumeIsExactInTime(t *testing.T) {
	for _, choice := range all {
		rapid.Check(t, func(t *rapid.T) {
			p := simtest.Forced()
			set := sim.Settings{RelTol: 1e-6, Methods: choice}
			r, err := sim.New(p.System, p.Start, set)
			require.NoError(t, err)
			require.NoError(t, r.Finish(rapid.Float64Range(1e-9, 0.3).Draw(t, "finish")))
			again, err := sim.Resume(p.System, r.Checkpoint(), set)
			require.NoError(t, err)
			for _, run := range []*sim.Run{r, again} {
				_, err := run.Advance(p.End, 0)
				require.NoError(t, err)
			}
			require.Equal(t, r.Checkpoint(), again.Checkpoint())
		})
	}
}

// A fork at a command that changes nothing cuts a step and starts anew, and so
// differs from the run that had no command, but within the tolerance.
func TestForkWithoutAChange(t *testing.T) {
	const until = 5.0
	for _, choice := range all {
		for _, rtol := range []float64{1e-5, 1e-8} {
			set := sim.Settings{RelTol: rtol, Methods: choice}
			plain, forked := plantRun(t, set), plantRun(t, set, mark(0.7), mark(1.1), mark(1.12))
			for _, r := range []*sim.Run{plain, forked} {
				require.NoError(t, r.Finish(until))
			}
			a, b := named(plain.Events(), "made"), named(forked.Events(), "made")
			require.Equal(t, len(a), len(b))
			for i := range a {
				assert.InDelta(t, a[i].T, b[i].T, 2*rtol)
			}
			assert.InDeltaSlice(t, plain.State().Y, forked.State().Y, 100*rtol)
		}
	}
}

// Commands act at their own time, in order of time and, at equal times, in the
// order given; the state before and after is that moment's.
func TestCommandsActAtTheirTime(t *testing.T) {
	var seen []float64
	note := func(at float64) sim.Command {
		return sim.Command{T: at, Name: "note", Do: func(s *sim.State, _ sim.System) (sim.System, error) {
			seen = append(seen, s.T)
			assert.InDelta(t, at, s.Y[0], 1e-12)
			return nil, nil
		}}
	}
	line := simtest.Line(1)
	// The first step is longer than all of it.
	ctl := sim.Control{H: 10, Explicit: true, Z: []float64{0}}
	r, err := sim.Resume(line, sim.Checkpoint{State: line.Lay.NewState(0), Control: ctl}, sim.Settings{RelTol: 1e-3, Methods: sim.Explicit},
		note(0.75), note(0.5), note(0), note(0.5), note(2))
	require.NoError(t, err)
	require.NoError(t, r.Finish(1))
	assert.Equal(t, []float64{0, 0.5, 0.5, 0.75}, seen)
	require.NoError(t, r.Finish(3))
	assert.Equal(t, []float64{0, 0.5, 0.5, 0.75, 2}, seen)
	assert.Equal(t, 3.0, r.State().T)
	assert.InDelta(t, 3, r.State().Y[0], 1e-12)
}

// A command that puts the state past a guard sets off its event at once.
func TestCommandSetsOffAnEvent(t *testing.T) {
	p := simtest.NewPump()
	r, err := sim.New(p, p.Start(), sim.Settings{RelTol: 1e-6}, sim.Command{T: 1, Name: "pour", Do: func(s *sim.State, _ sim.System) (sim.System, error) {
		s.Y[0] = 4
		return nil, nil
	}})
	require.NoError(t, err)
	require.NoError(t, r.Finish(1.2))
	require.Len(t, r.Events(), 2)
	assert.Equal(t, "switch-made", r.Events()[0].Name)
	assert.Equal(t, 1.0, r.Events()[0].T)
	assert.Equal(t, 1+p.On, r.Events()[1].T)
}

// A stop of Finish ends the step exactly and can be gone back behind as long
// as the step lasts.
func TestFinishThenInsert(t *testing.T) {
	whole := plantRun(t, sim.Settings{RelTol: 1e-6}, pour(0.5, 0.1))
	_, err := whole.Advance(0.9, 0)
	require.NoError(t, err)

	r := plantRun(t, sim.Settings{RelTol: 1e-6})
	_, err = r.Advance(0.5, 0)
	require.NoError(t, err)
	before := r.Earliest()
	require.NoError(t, r.Finish(0.5))
	assert.Equal(t, 0.5, r.State().T)
	require.Equal(t, before, r.Earliest(), "the cut is made in one step")
	require.NoError(t, r.Insert(pour(0.5, 0.1)))
	_, err = r.Advance(0.9, 0)
	require.NoError(t, err)
	requireSame(t, whole, r)
}

func TestBadCommandsAreRefused(t *testing.T) {
	r := plantRun(t, sim.Settings{RelTol: 1e-6})
	require.NoError(t, r.Finish(1))
	require.ErrorContains(t, r.Insert(mark(0.5)), "too late")
	require.ErrorContains(t, r.Insert(mark(r.Earliest()-1e-9)), "too late")
	require.NoError(t, r.Insert(mark(r.Earliest())))
	nan := 0.0
	nan /= nan
	require.Error(t, r.Insert(mark(nan)))
	require.ErrorContains(t, r.Insert(sim.Command{T: 2, Name: "void"}), "does nothing")
	require.ErrorContains(t, r.Finish(0.2), "cannot go back")
	_, err := r.Advance(nan, 0)
	require.Error(t, err)

	p := simtest.NewPlant()
	_, err = sim.New(p, p.Start(), sim.Settings{RelTol: 1e-6}, mark(-1))
	require.ErrorContains(t, err, "too late")

	broken := errors.New("broken")
	for name, do := range map[string]func(*sim.State, sim.System) (sim.System, error){
		"broken":         func(*sim.State, sim.System) (sim.System, error) { return nil, broken },
		"another layout": func(*sim.State, sim.System) (sim.System, error) { return simtest.NewPump(), nil },
	} {
		r := plantRun(t, sim.Settings{RelTol: 1e-6}, sim.Command{T: 0.1, Name: "wrench", Do: do})
		err := r.Finish(1)
		require.ErrorContains(t, err, name)
		require.ErrorContains(t, err, "at 0.1 s, wrench")
	}
}
