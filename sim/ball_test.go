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

// both are the methods that a hybrid test is made with.
var both = []sim.Choice{sim.Explicit, sim.Implicit}

// named picks the events of a name.
func named(events []sim.Event, name string) []sim.Event {
	var out []sim.Event
	for _, e := range events {
		if e.Name == name {
			out = append(out, e)
		}
	}
	return out
}

// The published ball: 10 m, 9.81 m/s2, restitution 0.8 (closed form; digits
// seen and reproduced). The solution of a flight is a parabola, which both
// methods follow without error, so that only the events can be wrong.
func TestBallAgainstPublishedValues(t *testing.T) {
	const firstImpact, rest, path = 1.427843123, 12.850588106, 45.555556
	b := simtest.NewBall(1e-9)
	assert.InDelta(t, firstImpact, b.FirstImpact(), 5e-10)
	assert.InDelta(t, rest, b.Rest(), 5e-10)
	assert.InDelta(t, path, b.Path(-1), 5e-7)
	for _, choice := range both {
		t.Run(fmt.Sprint("choice ", choice), func(t *testing.T) {
			r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-8, Methods: choice})
			require.NoError(t, err)
			require.NoError(t, r.Finish(13))
			bounces := named(r.Events(), "bounce")
			assert.InDelta(t, firstImpact, bounces[0].T, 1e-9)
			for k, e := range bounces {
				assert.InDelta(t, b.Impact(k+1), e.T, 1e-10, "impact %d", k+1)
			}
			stop := named(r.Events(), "rest")
			require.Len(t, stop, 1)
			assert.Equal(t, b.Impacts(), len(bounces)+1)
			assert.InDelta(t, rest, stop[0].T, 1e-8)
			assert.InDelta(t, path, r.State().Q[0], 1e-6)
			assert.Equal(t, []float64{0, 0}, r.State().Y)
		})
	}
}

// A ball that is held below a speed stays down at the impact that the speed
// selects; as the speed goes to zero the time goes to the published one,
// from below, in proportion to the speed.
func TestBallComesToRestAtTheHoldSpeed(t *testing.T) {
	for _, hold := range []float64{1, 0.1, 1e-2, 1e-3, 1e-5, 1e-7} {
		t.Run(fmt.Sprint("hold ", hold), func(t *testing.T) {
			b := simtest.NewBall(hold)
			r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-6})
			require.NoError(t, err)
			require.NoError(t, r.Finish(13))
			stop := named(r.Events(), "rest")
			require.Len(t, stop, 1)
			assert.InDelta(t, b.Impact(b.Impacts()), stop[0].T, 1e-10)
			assert.InDelta(t, b.Path(b.Impacts()), r.State().Q[0], 1e-9)
			// What is left out is at most the flights from the hold speed on.
			missing := b.Rest() - stop[0].T
			assert.Greater(t, missing, 0.0)
			assert.LessOrEqual(t, missing, 2*hold/b.Gravity/(1-b.Restitution)+1e-10)
		})
	}
}

// Restitution forces the sign of the velocity whatever it was before, so that
// a bounce never drives the ball into the floor.
func TestBounceForcesTheSign(t *testing.T) {
	b := simtest.NewBall(1e-6)
	r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish(13))
	for _, e := range named(r.Events(), "bounce") {
		assert.Less(t, e.Before[1], 0.0)
		assert.InEpsilon(t, -b.Restitution*e.Before[1], e.After[1], 1e-14)
		assert.InDelta(t, 0, e.Before[0], 1e-11)
		assert.Zero(t, e.After[0])
		assert.Equal(t, []sim.Mode{simtest.BallFalling}, e.From)
		assert.Equal(t, []sim.Mode{simtest.BallRising}, e.To)
	}
}

// Without an event at the top of a flight, the guard of the floor is exactly
// zero at its start and a step may be hundreds of flights long: every flight
// must be found all the same.
func TestShortFlightsAreNotMissed(t *testing.T) {
	for _, choice := range both {
		for _, e := range []float64{0.8, 0.3, 0.05} {
			t.Run(fmt.Sprintf("choice %d, restitution %g", choice, e), func(t *testing.T) {
				b := simtest.NewBall(1e-6)
				b.Apex, b.Restitution = false, e
				r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-4, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(13))
				bounces := named(r.Events(), "bounce")
				require.Equal(t, b.Impacts(), len(bounces)+1)
				for k, e := range bounces {
					assert.InDelta(t, b.Impact(k+1), e.T, 1e-10, "impact %d", k+1)
				}
				assert.Less(t, r.Stats().Rejected, 5, "the flights are found within the steps")
			})
		}
	}
}

// inOneStep starts a run whose first step tries the size h.
func inOneStep(t *testing.T, sys sim.System, s sim.State, h float64, choice sim.Choice) *sim.Run {
	t.Helper()
	ctl := sim.Control{H: h, Explicit: choice == sim.Explicit, Z: make([]float64, len(s.Y))}
	r, err := sim.Resume(sys, sim.Checkpoint{State: s, Control: ctl}, sim.Settings{RelTol: 1e-3, Methods: choice})
	require.NoError(t, err)
	return r
}

// A ball thrown up under a ceiling: within one long step it passes the ceiling
// and, were it not there, the floor later. The earlier crossing counts, though
// the wide samples of the step see only the later one.
func TestEarlierGuardOfOneStepWins(t *testing.T) {
	for _, choice := range both {
		t.Run(fmt.Sprint("choice ", choice), func(t *testing.T) {
			b := &simtest.Ball{Gravity: 9.81, Height: 0, Restitution: 0.5, Hold: 1e-3, Ceiling: 5}
			s := b.Start()
			s.Y[0], s.Y[1] = 0.001, 10.2
			s.Modes[0] = simtest.BallRising
			r := inOneStep(t, b, s, 10, choice)
			require.NoError(t, r.Finish(3))
			events := r.Events()
			require.Greater(t, len(events), 1)
			require.Equal(t, "ceiling", events[0].Name)
			// 0.001 + v t - g t^2/2 = 5.
			v, g := 10.2, 9.81
			assert.InDelta(t, (v-math.Sqrt(v*v-2*g*4.999))/g, events[0].T, 1e-12)
			assert.Equal(t, "bounce", events[1].Name)
		})
	}
}

// Endless bounces with no speed at which the ball is held pile up at the time
// of rest: the run ends with an error instead of not ending.
func TestEventsThatPileUpEndTheRun(t *testing.T) {
	b := simtest.NewBall(0)
	for _, apex := range []bool{true, false} {
		b.Apex = apex
		r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-6, NoPast: true})
		require.NoError(t, err)
		err = r.Finish(13)
		require.ErrorContains(t, err, "without end")
		assert.InDelta(t, b.Rest(), r.State().T, 1e-6)
	}
}

// A handler that does not turn its guard round would be called for ever.
func TestHandlerThatChangesNothingEndsTheRun(t *testing.T) {
	b := stubborn{simtest.NewBall(0)}
	r, err := sim.New(b, b.Start(), sim.Settings{RelTol: 1e-6, NoPast: true})
	require.NoError(t, err)
	require.ErrorContains(t, r.Finish(13), "without end (modes ball=0)")
	assert.InDelta(t, b.FirstImpact(), r.State().T, 1e-9)
}

type stubborn struct{ *simtest.Ball }

func (stubborn) Cross(int, *sim.State, sim.Report) {}
