package view_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// springSentences holds the sentence of the first spring-loaded valve to the limits of
// all sentences, with and without folds.
func springSentences(t *testing.T, m *plant.Model, s *plant.Snapshot, past explain.SpringPast, at float64) {
	t.Helper()
	f := explain.Spring(m, s, 0, past)
	folds := explain.SpringFolds{Pop: explain.Opt{Known: true, Value: 41.0156e5}, Reseat: explain.Opt{Known: true, Value: 39.2843e5}}
	for _, f := range []explain.SpringFacts{f, f.WithFolds(folds)} {
		for _, u := range unitSystems {
			u.Ambient = 1.01325e5
			said := view.SpringSentence(&f, &s.Springs[0], u)
			assert.LessOrEqual(t, utf8.RuneCountInString(said), 130, "%g s: %s", at, said)
			assert.True(t, strings.HasSuffix(said, ".") && !strings.HasSuffix(said, ".."), said)
			for _, wrong := range []string{"NaN", "Inf", "%!"} {
				assert.NotContains(t, said, wrong, "%g s", at)
			}
			assert.NotRegexp(t, negativeZero, said)
		}
	}
}

// In every state that the valve can be in the sentence keeps its limits.
func TestSpringSentencesOfEveryState(t *testing.T) {
	r := run(t, "spring-reference", 5)
	s, m, err := r.At(4.3)
	require.NoError(t, err)
	f := explain.Spring(m, s, 0, explain.SpringPastOf(m, r.Sim.Events(), 4.3, 0))
	f.Folds = explain.SpringFolds{Pop: explain.Opt{Known: true, Value: 41.0156e5}, Reseat: explain.Opt{Known: true, Value: 39.2843e5}}
	f.Every = explain.Opt{Known: true, Value: 0.0123}
	seen := map[string]bool{}
	for state := range explain.SpringStand(explain.SpringStands) {
		for _, stop := range []float64{0, 54} {
			f.State, f.Forces.Stop = state, stop
			for _, u := range unitSystems {
				u.Ambient = 1.01325e5
				said := view.SpringSentence(&f, &s.Springs[0], u)
				assert.LessOrEqual(t, utf8.RuneCountInString(said), 130, "%s: %s", state, said)
			}
			seen[view.SpringSentence(&f, &s.Springs[0], unitSystems[1])] = true
		}
	}
	assert.GreaterOrEqual(t, len(seen), explain.SpringStands, "each state has its own")
}

// The reference valve pops at 40.00 bar gauge and reseats 4.3 % below (the static folds
// of its published trial); the view gets both from the description alone, says how far
// the inlet is from them, and the run does it there.
func TestSpringViewKnowsItsFolds(t *testing.T) {
	r := run(t, "spring-reference", 8)
	v, err := view.At(r, 2, view.Options{})
	require.NoError(t, err)
	require.NotNil(t, v.Spring)
	assert.Equal(t, explain.SpringSimmering, v.Spring.State)
	pop, reseat := v.Spring.Folds.Pop, v.Spring.Folds.Reseat
	require.True(t, pop.Known && reseat.Known)
	assert.InDelta(t, 40.00, (pop.Value-1.01325e5)/1e5, 0.05)
	assert.InDelta(t, 4.3, 100*(pop.Value-reseat.Value)/40e5, 0.3)
	for _, e := range r.Sim.Events() {
		if e.Name == "pop" {
			s, _, err := r.At(e.T)
			require.NoError(t, err)
			assert.InEpsilon(t, pop.Value, s.Springs[0].Inlet, 0.005)
			break
		}
	}
	require.True(t, v.Spring.In.Known)
	assert.InDelta(t, (pop.Value-v.Spring.Inlet)/v.Spring.InletRate, v.Spring.In.Value, 0.3)
}

// The pins are those of the lift under way or of the last one: faces that bounce as
// they shut do not begin another.
func TestSpringPins(t *testing.T) {
	r := run(t, "spring-reference", 8)
	v, err := view.At(r, 7, view.Options{})
	require.NoError(t, err)
	require.Len(t, v.Pins, 6)
	last := 0.0
	for i, link := range []int{2, 3, 4, 5, 6, 2} {
		p := v.Pins[i]
		assert.True(t, p.Done, p.Name)
		assert.Equal(t, link, p.Link)
		assert.Equal(t, i > 2, p.Shut)
		assert.GreaterOrEqual(t, p.T, last, p.Name)
		last = p.T
	}
	v, err = view.At(r, 0.2, view.Options{})
	require.NoError(t, err)
	for _, p := range v.Pins {
		assert.False(t, p.Done)
	}
}

// The numbers of the valves: piloted ones first. Each has its own view, also beside
// each other in one plant.
func TestEveryValveOfAPlantHasItsView(t *testing.T) {
	r := run(t, "boiler-plant-safeties", 20)
	names := scene.ValveNames(r.Present())
	require.Equal(t, []string{"valve", "safety-1", "safety-2"}, names)
	for i, name := range names {
		v, err := view.At(r, 10, view.Options{Valve: i})
		require.NoError(t, err)
		assert.Equal(t, name, v.Named())
		assert.Equal(t, i > 0, v.Spring != nil)
		w, _, err := view.WhyAt(r, 10, i, scene.Units{Gauge: true})
		require.NoError(t, err)
		assert.NotEmpty(t, w.Answer)
		assert.Len(t, w.Rows, 6)
	}
	v, err := view.At(run(t, "spring-hood", 1), 1, view.Options{})
	require.NoError(t, err)
	assert.Empty(t, v.Named(), "the only one")
	assert.NotNil(t, v.Spring)
}

// While a fault is hidden a view of a spring-loaded valve holds only what is read,
// heard and felt outside: the same with another fault that cannot be told from it.
func TestSealedSpringViewHasOnlyTheOutside(t *testing.T) {
	sealed := func(entry string) *scene.View {
		sc, err := scenarios.Load("spring-reference")
		require.NoError(t, err)
		e, err := fault.ParseEntry(sc.Plant, entry)
		require.NoError(t, err)
		require.NoError(t, sc.Hide("a code", e))
		sc.Until = 2
		r, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, r.Finish())
		v, err := view.At(r, 0.4, view.Options{})
		require.NoError(t, err)
		w, _, err := view.WhyAt(r, 0.4, 0, scene.Units{})
		require.NoError(t, err)
		assert.True(t, w.Sealed)
		return v
	}
	one, two := sealed("gag-left-on@0s"), sealed("lower-ring-moved@0s")
	for _, v := range []*scene.View{one, two} {
		require.True(t, v.Sealed)
		st := &v.Snapshot.Springs[0]
		assert.Zero(t, st.Lift)
		assert.Zero(t, st.Huddle)
		assert.Zero(t, st.Spring)
		assert.Zero(t, st.Wear)
		assert.False(t, st.Gagged)
		assert.True(t, math.IsNaN(st.HandToLift))
		assert.False(t, v.Spring.Folds.Pop.Known)
		assert.Nil(t, v.Pins)
		for _, y := range [][]float64{v.Trace.Above, v.Trace.Huddle, v.Trace.Under, v.Trace.Lift, v.Trace.Flow, v.Trace.Wear, v.Trace.Up, v.Trace.Down} {
			for _, x := range y {
				require.True(t, math.IsNaN(x))
			}
		}
	}
	assert.Equal(t, one.Sentence, two.Sentence)
	assert.Equal(t, one.State, two.State)
}
