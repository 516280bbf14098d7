package live_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// springRun runs a scenario with settings to an end of its own.
func springRun(t testing.TB, name string, until float64, set ...string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	sc.Shows = nil
	if until > 0 {
		sc.Until = until
	}
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err, "%v", set)
	r, err := live.Start(sc, live.Options{RelTol: rtol})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// TestSpringLifts holds the list of lifts against the run it is read from, and on
// the reference valve against the equilibria that were computed for it elsewhere:
// it pops at 40.00 bar gauge and reseats 4.3 % below, the run 0.1 to 0.2 points
// later.
func TestSpringLifts(t *testing.T) {
	r := springRun(t, "spring-reference", 0)
	lifts := live.SpringLifts(r, "safety")
	require.NotEmpty(t, lifts)
	for i := range lifts {
		l := &lifts[i]
		require.True(t, l.Reseated || i == len(lifts)-1)
		if !l.Reseated {
			continue
		}
		gauge := func(p float64) float64 { return (p - l.Surroundings) / 1e5 }
		assert.InDelta(t, 40.00, gauge(l.Pop), 0.1, "lift %d pops", i)
		blowdown, ok := l.Blowdown()
		require.True(t, ok)
		assert.InDelta(t, 4.45, blowdown, 0.3, "lift %d", i)
		assert.InDelta(t, 100*(l.Pop-l.Reseat)/(l.Pop-l.Surroundings), blowdown, 1e-9)
		// Its faces part where (p - pb) As = F0 + m g - Fc, Fc the force between them.
		area := math.Pi / 4 * 0.0475 * 0.0475
		assert.InEpsilon(t, (7044+4*9.81-142)/area, l.Simmer-l.Surroundings, 1e-4)
		assert.Less(t, l.SimmerAt, l.PopAt)
		assert.Less(t, l.PopAt, l.FullAt)
		assert.Less(t, l.FullAt, l.ReseatAt)
		assert.Less(t, l.ReseatAt, l.TightAt)
		assert.InDelta(t, 0.014, l.Lift, 1e-9, "full lift")
		assert.GreaterOrEqual(t, l.Most, l.Pop)
		acc, ok := l.Accumulation()
		assert.True(t, ok && acc < 0.1, "a vessel this large does not accumulate: %g", acc)
		assert.Positive(t, l.Wear)
		assert.Positive(t, l.SeatImpact)
		assert.Positive(t, l.StopImpact)
		s, _, err := r.At(l.ReseatAt)
		require.NoError(t, err)
		assert.InDelta(t, s.Springs[0].Inlet, l.Reseat, 1)
		assert.Less(t, s.Springs[0].Lift, 0.021*0.014)
	}
	// Between lifts nothing wears: they cost all that there is, and simmer the rest.
	sum := 0.0
	for i := range lifts {
		sum += lifts[i].Wear
	}
	total := r.Now().Springs[0].Wear
	if n := len(lifts); lifts[n-1].Reseated {
		assert.InEpsilon(t, total, sum, 0.02)
	}
	assert.Empty(t, live.SpringLifts(r, "another"))
}

// TestHandLift: what the lever lifts is no lift of the valve's own.
func TestHandLift(t *testing.T) {
	sc, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	sc.Shows, sc.Until = nil, 12
	sc.Plant, err = scenarios.Set(sc.Plant, "vessel.pressure=31.01325 bar abs", "inflow.mass-flow=0 kg/s")
	require.NoError(t, err)
	for at, pull := range map[float64]float64{2: 1, 5: 0} {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: "safety.lever.pull", Value: plant.Value{Number: pull}}})
	}
	r, err := live.Start(sc, live.Options{RelTol: rtol})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	lifts := live.SpringLifts(r, "safety")
	require.Len(t, lifts, 1)
	l := &lifts[0]
	assert.True(t, l.Hand)
	_, ok := l.Blowdown()
	assert.False(t, ok)
	assert.True(t, l.Reseated && l.ReseatAt > 5 && l.ReseatAt < 5.5, "%g", l.ReseatAt)
	assert.InDelta(t, 2.15, l.PopAt, 0.2)
	assert.False(t, math.IsNaN(l.Wear) || l.Wear <= 0)
}

// TestSimmers: an inflow below the leak at which it would pop keeps it simmering.
func TestSimmers(t *testing.T) {
	r := springRun(t, "spring-reference", 0)
	simmers := live.Simmers(r, "safety")
	require.NotEmpty(t, simmers)
	assert.True(t, simmers[0].Lifted)
	lifts := live.SpringLifts(r, "safety")
	assert.InDelta(t, lifts[0].SimmerAt, simmers[0].From, 1e-12)
	assert.InDelta(t, lifts[0].PopAt, simmers[0].Until, 1e-12)
	assert.Positive(t, simmers[0].Wear)
}
