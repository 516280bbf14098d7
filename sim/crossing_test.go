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
		{"zero at the start, above until the end", []guard{parabola(0, -1)}, nil, nil},
		{"zero at the start, then below", []guard{parabola(0, 1)}, []string{"0"}, []float64{0}},
		{"zero at the start, then below for good", []guard{parabola(0, 30)}, []string{"0"}, []float64{0}},
		{"zero throughout", []guard{func(float64, []float64) float64 { return 0 }}, nil, nil},
		{"zero at the start, below by rounding", []guard{func(_ float64, y []float64) float64 { return -math.Abs(1 + y[0] - 1 - y[0]) }}, nil, nil},
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

// Two curved guards that cross within a billionth of a second of each other:
// the interpolant cannot tell their order, the stepped solution can.
func TestOrderOfCloseCrossings(t *testing.T) {
	linear := func(_ float64, y []float64) float64 { return 0.5 + 1e-9 - y[0] }
	square := func(_ float64, y []float64) float64 { return 0.25 - y[0]*y[0] }
	for _, choice := range both {
		names, times := watch(t, simtest.Rotor(1), []float64{0, 1}, 1, 0.7, choice, linear, square)
		require.Equal(t, []string{"1", "0"}, names)
		assert.InDelta(t, 1e-9/math.Cos(math.Asin(0.5)), times[1]-times[0], 1e-12)
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
