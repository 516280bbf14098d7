package sim_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

type guard = func(t float64, y []float64) float64

// watch runs a system with watching guards in steps that start at size h and
// returns the names and times of the events.
func watch(t *testing.T, sys *simtest.ODE, y []float64, until, h float64, choice sim.Choice, guards ...guard) (names []string, times []float64) {
	t.Helper()
	w := simtest.Watch(sys, guards...)
	s := w.Layout().NewState(0)
	copy(s.Y, y)
	r := inOneStep(t, w, s, h, choice)
	require.NoError(t, r.Finish(until))
	for _, e := range r.Events() {
		names, times = append(names, e.Name), append(times, e.T)
	}
	return names, times
}

// Guards of a straight line y = t, all within one step of size 10.
func TestGuardsWithinOneStep(t *testing.T) {
	at := func(when float64) guard { return func(_ float64, y []float64) float64 { return when - y[0] } }
	parabola := func(from, to float64) guard { // negative between the two
		return func(_ float64, y []float64) float64 { return (y[0] - from) * (y[0] - to) }
	}
	cases := []struct {
		name   string
		guards []guard
		names  []string
		times  []float64
	}{
		{"one", []guard{at(3)}, []string{"0"}, []float64{3}},
		{"in order", []guard{at(3), at(7)}, []string{"0", "1"}, []float64{3, 7}},
		{"against the order", []guard{at(7), at(3)}, []string{"1", "0"}, []float64{3, 7}},
		{"in the same half", []guard{at(4), at(1), at(2), at(3)}, []string{"1", "2", "3", "0"}, []float64{1, 2, 3, 4}},
		{"at the same instant", []guard{at(3), at(3)}, []string{"0", "1"}, []float64{3, 3}},
		{"all but the same instant", []guard{at(3 + 1e-14), at(3)}, []string{"1", "0"}, []float64{3, 3}},
		{"close together", []guard{at(3 + 1e-9), at(3)}, []string{"1", "0"}, []float64{3, 3 + 1e-9}},
		{"right at the start", []guard{at(0)}, []string{"0"}, []float64{0}},
		{"just after the start", []guard{at(1e-13)}, []string{"0"}, []float64{1e-13}},
		{"at the end of the step", []guard{at(10)}, []string{"0"}, []float64{10}},
		{"beyond", []guard{at(20.5)}, nil, nil},
		{"there and back around the middle", []guard{parabola(4, 6)}, []string{"0"}, []float64{4}},
		{"there and back in the first quarter", []guard{parabola(1, 1.1)}, []string{"0"}, []float64{1}},
		{"there and back in the last quarter", []guard{parabola(9, 9.01)}, []string{"0"}, []float64{9}},
		{"down and up before another one", []guard{at(3), parabola(1, 1.01)}, []string{"1", "0"}, []float64{1, 3}},
		{"down and up, seen only when another one has cut the step", []guard{at(3), func(_ float64, y []float64) float64 {
			return (y[0] - 1) * (y[0] - 1.6) / (1 + y[0]*y[0])
		}}, []string{"1", "0"}, []float64{1, 3}},
		{"zero at the start, above until the end", []guard{parabola(0, -1)}, nil, nil},
		{"zero at the start, then below", []guard{parabola(0, 1)}, []string{"0"}, []float64{0}},
		{"zero at the start, then below for good", []guard{parabola(0, 30)}, []string{"0"}, []float64{0}},
		{"zero throughout", []guard{func(float64, []float64) float64 { return 0 }}, nil, nil},
		{"zero at the start, a short flight", []guard{func(_ float64, y []float64) float64 { return y[0] * (1e-5 - y[0]) }}, []string{"0"}, []float64{1e-5}},
		{"of the time alone", []guard{func(t float64, _ []float64) float64 { return 2 - t }}, []string{"0"}, []float64{2}},
		{"a step", []guard{func(_ float64, y []float64) float64 { return 1 - 2*math.Floor(y[0]/2) }}, []string{"0"}, []float64{2}},
		{"below zero at the start", []guard{at(-1)}, []string{"0"}, []float64{0}},
	}
	for _, choice := range both {
		for _, c := range cases {
			t.Run(fmt.Sprintf("%s, choice %d", c.name, choice), func(t *testing.T) {
				names, times := watch(t, simtest.Line(1), []float64{0}, 10.25, 10, choice, c.guards...)
				require.Equal(t, c.names, names)
				for i, want := range c.times {
					assert.InDelta(t, want, times[i], 1e-12)
				}
			})
		}
	}
}

// A guard that comes down to zero and stays there has crossed when it arrived.
// There is no slope to polish by: the time is the interpolant's.
func TestGuardThatStaysAtZero(t *testing.T) {
	for _, choice := range both {
		names, times := watch(t, simtest.Line(1), []float64{0}, 10, 10, choice, func(_ float64, y []float64) float64 { return max(0, 3-y[0]) })
		require.Equal(t, []string{"0"}, names)
		assert.InDelta(t, 3, times[0], 1e-5)
	}
}

// A sine that comes near, touches or just passes a level: the guard is
// sin t - (level), whose lowest point is 1 below its mean. Found or not, the
// answer must be right down to excursions comparable with the tolerance.
func TestNearlyTangentCrossing(t *testing.T) {
	for _, choice := range both {
		for _, c := range []struct {
			depth float64 // how far the guard goes below zero at t = 3 pi/2
			found bool
		}{
			{-1e-2, false}, {-1e-4, false}, {-1e-6, false},
			{1e-6, true}, {1e-4, true}, {1e-2, true}, {1, true},
		} {
			t.Run(fmt.Sprintf("depth %g, choice %d", c.depth, choice), func(t *testing.T) {
				w := simtest.Watch(simtest.Rotor(1), func(_ float64, y []float64) float64 { return 1 - c.depth + y[0] })
				s := w.Layout().NewState(0)
				s.Y[1] = 1
				r, err := sim.New(w, s, sim.Settings{RelTol: 1e-9, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(6))
				if !c.found {
					require.Empty(t, r.Events())
					return
				}
				require.Len(t, r.Events(), 1)
				// Where a curve of depth d crosses, an error e of its value
				// moves the crossing by e/sqrt(2 d).
				want := math.Pi + math.Asin(1-c.depth)
				assert.InDelta(t, want, r.Events()[0].T, 1e-7/math.Sqrt(2*c.depth))
			})
		}
	}
}

// Where the guard touches to within the error of a step, both answers are
// right. The run must give one of them and go on; a moment that it names must
// be the one of the touch, to what an error of the value moves it by.
func TestTouchingCrossing(t *testing.T) {
	for _, choice := range both {
		for _, rtol := range []float64{1e-2, 1e-3, 1e-4, 1e-6} {
			for _, depth := range []float64{-3, -1, -0.3, -0.1, -0.03, 0, 0.03, 0.1, 0.3, 1, 3} {
				w := simtest.Watch(simtest.Rotor(1), func(_ float64, y []float64) float64 { return 1 - depth*rtol + y[0] })
				s := w.Layout().NewState(0)
				s.Y[1] = 1
				r, err := sim.New(w, s, sim.Settings{RelTol: rtol, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(6))
				for _, e := range r.Events() {
					assert.InDelta(t, 1.5*math.Pi, e.T, 6*math.Sqrt(rtol), "depth %g, rtol %g, choice %d", depth, rtol, choice)
				}
			}
		}
	}
}

// The way to a crossing may be barred where the longer step found it open: the
// stages of a step of size 1 pass by a gap in the domain that those of the step
// to the crossing at 0.6 fall into. Shorter steps get there.
func TestWayToTheCrossingIsBarred(t *testing.T) {
	gap := map[sim.Choice]float64{sim.Explicit: 0.8 * 0.6, sim.Implicit: 0.63 * 0.6} // a stage of each
	for _, choice := range both {
		sys := simtest.Line(1)
		sys.F = func(t float64, _, dy, _ []float64) {
			dy[0] = 1
			if math.Abs(t-gap[choice]) < 1e-3 {
				dy[0] = math.NaN()
			}
		}
		w := simtest.Watch(sys, func(_ float64, y []float64) float64 { return 0.6 - y[0] })
		r := inOneStep(t, w, w.Layout().NewState(0), 1, choice)
		require.NoError(t, r.Finish(1))
		require.Len(t, r.Events(), 1)
		assert.InDelta(t, 0.6, r.Events()[0].T, 1e-12)
		assert.NotZero(t, r.Stats().Rejected)
	}
}

// Curved guards that cross within billionths of a second of each other, in
// every order of their numbers: the interpolant cannot tell which is first,
// the stepped solution can.
func TestOrderOfCloseCrossings(t *testing.T) {
	// Guard k crosses where the sine is 1/2 + k 1e-9.
	curves := []func(x float64) float64{
		func(x float64) float64 { return x },
		func(x float64) float64 { return x * x },
		func(x float64) float64 { return math.Exp(-3*x) * -1 },
		math.Sqrt,
	}
	smooth := func(k int) guard {
		level := curves[k](0.5 + 1e-9*float64(k))
		return func(_ float64, y []float64) float64 { return level - curves[k](max(y[0], 0)) }
	}
	jump := func(k int) guard {
		return func(_ float64, y []float64) float64 { return math.Copysign(1, 0.5+1e-9*float64(k)-y[0]) }
	}
	for _, choice := range both {
		permute(4, func(order []int) {
			guards, want := []guard{}, []string{"", "", "", ""}
			for i, k := range order {
				make := smooth
				if i%2 == 1 {
					make = jump
				}
				guards = append(guards, make(k))
				want[k] = fmt.Sprint(i)
			}
			names, times := watch(t, simtest.Rotor(1), []float64{0, 1}, 1, 0.7, choice, guards...)
			require.Equal(t, want, names, "order %v, choice %d", order, choice)
			for k := range 3 {
				assert.InDelta(t, 1e-9/math.Cos(math.Asin(0.5)), times[k+1]-times[k], 1e-12)
			}
		})
	}
}

// permute calls do with every order of 0..n-1.
func permute(n int, do func([]int)) {
	var fill func(order []int)
	fill = func(order []int) {
		if len(order) == n {
			do(order)
			return
		}
		for k := range n {
			if !slices.Contains(order, k) {
				fill(append(slices.Clone(order), k))
			}
		}
	}
	fill(nil)
}

// A part that leaves its stop along a tangent, in a step so long that the
// interpolant dips through the stop: it has not run into it.
func TestLeavingAlongATangent(t *testing.T) {
	for _, choice := range both {
		for _, rate := range []float64{1, 1e3, 1e4} {
			for _, h := range []float64{1e-2, 0.1, 1} {
				names, _ := watch(t, simtest.Pushed(rate), []float64{0, 0, 0}, 2, h, choice, func(_ float64, y []float64) float64 { return y[0] })
				require.Empty(t, names, "rate %g, first step %g, choice %d", rate, h, choice)
			}
		}
	}
}

// A guard 1 - y that has gone below zero by one rounding of y has not crossed,
// by more it has.
func TestRoundingIsNoCrossing(t *testing.T) {
	for _, choice := range both {
		for _, c := range []struct {
			until float64
			names []string
		}{{0.9e-10, nil}, {1, []string{"0"}}} {
			names, _ := watch(t, simtest.Line(1.5e-6), []float64{1}, c.until, c.until, choice,
				func(_ float64, y []float64) float64 { return 1 - y[0] })
			require.Equal(t, c.names, names)
		}
	}
}

// The times of smooth crossings converge with the tolerance.
func TestCrossingTimesConverge(t *testing.T) {
	for _, choice := range both {
		t.Run(fmt.Sprint("choice ", choice), func(t *testing.T) {
			previous := math.Inf(1)
			for _, rtol := range []float64{1e-4, 1e-6, 1e-8, 1e-10} {
				w := simtest.Watch(simtest.Rotor(2*math.Pi),
					func(_ float64, y []float64) float64 { return 0.3 + y[0] },
					func(_ float64, y []float64) float64 { return 0.99 - y[0]*y[1]*2 })
				s := w.Layout().NewState(0)
				s.Y[1] = 1
				r, err := sim.New(w, s, sim.Settings{RelTol: rtol, Methods: choice})
				require.NoError(t, err)
				require.NoError(t, r.Finish(1))
				require.Len(t, r.Events(), 2)
				worst := max(math.Abs(r.Events()[0].T-math.Asin(0.99)/(4*math.Pi)),
					math.Abs(r.Events()[1].T-(0.5+math.Asin(0.3)/(2*math.Pi))))
				assert.Less(t, worst, 10*rtol, "rtol %g", rtol)
				assert.Less(t, worst, 0.2*previous, "rtol %g", rtol)
				previous = worst
			}
		})
	}
}

// A guard that turns out not to be a number is not silently passed over.
func TestGuardThatIsNotANumber(t *testing.T) {
	w := simtest.Watch(simtest.Line(1), func(_ float64, y []float64) float64 { return math.Sqrt(2-y[0]) + 1 })
	r, err := sim.New(w, w.Layout().NewState(0), sim.Settings{RelTol: 1e-3})
	require.NoError(t, err)
	var bad *sim.NonFinite
	require.ErrorAs(t, r.Finish(10), &bad)
	assert.Equal(t, "guard 0", bad.Var)
	assert.InDelta(t, 2, bad.T, 1e-9)
}
