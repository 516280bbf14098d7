package sim_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/sim"
)

// A fork is the run that knew only what lies before it, whatever the run that it
// was taken from did afterwards; and so is a fork of a fork.
func TestForkIsExact(t *testing.T) {
	const until = 6.0
	for _, choice := range all {
		rapid.Check(t, func(t *rapid.T) {
			set := func(h *sim.History) sim.Settings { return sim.Settings{RelTol: 1e-7, Methods: choice, History: h} }
			h := &sim.History{Keep: rapid.IntRange(0, 2).Draw(t, "keep")}
			cmds := drawCommands(t, until)
			r := plantRun(t, set(h), cmds...)
			// Some commands come late.
			for range rapid.IntRange(0, 3).Draw(t, "late ones") {
				_, err := r.Advance(r.State().T+rapid.Float64Range(0, until/3).Draw(t, "further"), 0)
				require.NoError(t, err)
				from, to := r.Earliest(), r.State().T
				c := pour(from+rapid.Float64Range(1e-3, 1).Draw(t, "within the last step")*(to-from), 0.01)
				require.NoError(t, r.Insert(c))
			}
			_, err := r.Advance(until, 0)
			require.NoError(t, err)

			at := rapid.Float64Range(0, until).Draw(t, "at")
			if len(r.Events()) > 0 && rapid.Bool().Draw(t, "at an event") {
				at = min(rapid.SampledFrom(r.Events()).Draw(t, "event").T, until)
			}
			var before []sim.Command
			for _, c := range r.Commands() {
				if c.T <= at {
					before = append(before, c)
				}
			}
			knew := &sim.History{}
			want := plantRun(t, set(knew), before...)
			_, err = want.Advance(at, 0)
			require.NoError(t, err)

			forked := &sim.History{Keep: rapid.IntRange(0, 2).Draw(t, "keep of the fork")}
			got, err := h.Fork(at, forked)
			require.NoError(t, err)
			requireSame(t, want, got)
			require.Equal(t, segments(t, knew), segments(t, forked))

			// Both go their own way, and the fork can be forked.
			own := pour(at, 0.02)
			for _, r := range []*sim.Run{want, got} {
				require.NoError(t, r.Insert(own))
				_, err = r.Advance(until, 0)
				require.NoError(t, err)
			}
			requireSame(t, want, got)
			require.Equal(t, segments(t, knew), segments(t, forked))
			later := at + rapid.Float64Range(0, 1).Draw(t, "later")*(until-at)
			again := &sim.History{}
			twice, err := forked.Fork(later, again)
			require.NoError(t, err)
			knew = &sim.History{}
			want = plantRun(t, set(knew), slices.Concat(before, []sim.Command{own})...)
			_, err = want.Advance(later, 0)
			require.NoError(t, err)
			requireSame(t, want, twice)
			require.Equal(t, segments(t, knew), segments(t, again))
		})
	}
}

func TestForkRefuses(t *testing.T) {
	h := &sim.History{}
	_, err := h.Fork(0, &sim.History{})
	require.Error(t, err, "nothing is there yet")
	r := plantRun(t, sim.Settings{RelTol: 1e-6, History: h})
	_, err = r.Advance(1, 0)
	require.NoError(t, err)
	_, err = h.Fork(50, &sim.History{})
	require.Error(t, err)
	_, err = h.Fork(0.5, h)
	require.Error(t, err, "the history belongs to the run already")
}
