package live_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// doing are things that can be done to the bench, in any order.
func doing(t *testing.T, r *rand.Rand, k int) scenarios.Action {
	t.Helper()
	set := func(path string, v plant.Value) scenarios.Action {
		return scenarios.Action{Command: &scenarios.Command{Path: path, Value: v}}
	}
	befall := func(name string, severity float64, hidden bool) scenarios.Action {
		return scenarios.Action{Fault: &fault.Entry{Name: name, Severity: &severity}, Hidden: hidden}
	}
	switch k {
	case 0:
		return befall("pilot-leaks", 5e-6*r.Float64(), false)
	case 1:
		return befall("spring-weak", 50+50*r.Float64(), true)
	}
	return []scenarios.Action{
		set("line.block-valve.opening", plant.Value{Number: 0.2 + 0.8*r.Float64()}),
		set("relay.selector.position", plant.Value{Word: []string{"auto", "open", "off"}[r.IntN(3)]}),
		set("switch.set", plant.Value{Number: 12e5 + 0.4e5*r.Float64()}),
	}[r.IntN(3)]
}

// What is done while the run goes on gives the same run, bit for bit, as if it
// had been known from the start, however the run was cut into pieces.
func TestDoingIsKnowing(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 1))
		sc, err := scenarios.Load("gas-bench-plus")
		require.NoError(t, err)
		planned := 0
		if seed%2 == 1 { // something is to come from the start
			planned = 1
			sc.Commands = []scenarios.Command{number(9, "valve.coil.resistance", 9)}
		}
		doer, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		now := 0.0
		for k := range 8 {
			a := doing(t, r, k)
			if k != 4 { // the fifth comes at the moment of the fourth
				now += 2.5 * r.Float64()
			}
			for r.IntN(3) > 0 { // in pieces
				_, err = doer.Sim.Advance(now*r.Float64(), 0)
				require.NoError(t, err)
			}
			_, err = doer.Sim.Advance(now, 0)
			require.NoError(t, err)
			if a.Command != nil {
				a.Command.At = now
			} else {
				a.Fault.At = now
			}
			done, err := doer.Do(a)
			require.NoError(t, err)
			assert.InDelta(t, now, done.At(), 2e-9)
			now = done.At()
		}
		require.NoError(t, doer.Sim.Finish(now+1))
		assert.Len(t, doer.Scenario.Hidden.Faults, 1)
		assert.Nil(t, sc.Hidden, "the scenario that was given is left as it was")
		assert.Len(t, sc.Commands, planned)

		knower, err := live.Start(doer.Scenario, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, knower.Sim.Finish(now+1))
		assert.Equal(t, knower.Sim.Events(), doer.Sim.Events())
		assert.Equal(t, knower.Sim.State(), doer.Sim.State())
		assert.Equal(t, knower.Changes, doer.Changes)
		for k := range 100 {
			at := (now + 1) * float64(k) / 100
			a, _, err := doer.At(at)
			require.NoError(t, err)
			b, _, err := knower.At(at)
			require.NoError(t, err)
			assert.Equal(t, b, a)
		}
	}
}

// A fork is the run that was told only what was done before it.
func TestForkIsKnowing(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 3))
		sc, err := scenarios.Load("gas-bench-plus")
		require.NoError(t, err)
		sc.Commands = []scenarios.Command{number(11, "valve.coil.resistance", 9)}
		first, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		var did []scenarios.Action
		for k := range 6 {
			a := doing(t, r, k)
			at := first.Sim.State().T + 2*r.Float64()
			_, err = first.Sim.Advance(at, 0)
			require.NoError(t, err)
			if a.Command != nil {
				a.Command.At = at
			} else {
				a.Fault.At = at
			}
			a, err = first.Do(a)
			require.NoError(t, err)
			did = append(did, a)
		}
		_, err = first.Sim.Advance(12, 0)
		require.NoError(t, err)

		at := 12 * r.Float64()
		own := *sc
		for _, a := range did {
			if a.At() <= at {
				own.Record(a)
			}
		}
		fork, err := first.Fork(at, &own, 1)
		require.NoError(t, err)
		fresh, err := live.Start(&own, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		_, err = fresh.Sim.Advance(at, 0)
		require.NoError(t, err)
		for _, run := range []*live.Run{fork, fresh} {
			_, err = run.Do(scenarios.Action{Fault: &fault.Entry{Name: "bleed-plugged", At: at}})
			require.NoError(t, err)
			require.NoError(t, run.Sim.Finish(14))
		}
		assert.Equal(t, fresh.Sim.Events(), fork.Sim.Events())
		assert.Equal(t, fresh.Sim.State(), fork.Sim.State())
		assert.Equal(t, fresh.Changes, fork.Changes)
		for k := range 50 {
			a, _, err := fork.At(14 * float64(k) / 50)
			require.NoError(t, err)
			b, _, err := fresh.At(14 * float64(k) / 50)
			require.NoError(t, err)
			assert.Equal(t, b, a)
		}
	}
}

// What does not fit is refused, and changes nothing.
func TestDoRefuses(t *testing.T) {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	_, err = r.Sim.Advance(3, 0)
	require.NoError(t, err)
	do := func(at float64, a scenarios.Action) error {
		if a.Command != nil {
			a.Command.At = at
		} else {
			a.Fault.At = at
		}
		_, err := r.Do(a)
		return err
	}
	command := func(path string, v plant.Value) scenarios.Action {
		return scenarios.Action{Command: &scenarios.Command{Path: path, Value: v}}
	}
	befall := func(name string, hidden bool) scenarios.Action {
		return scenarios.Action{Fault: &fault.Entry{Name: name}, Hidden: hidden}
	}
	assert.ErrorContains(t, do(1, command("switch.set", plant.Value{Number: 12.1e5})), "too late")
	assert.Error(t, do(3, command("switch.reset", plant.Value{Number: 13e5})), "above its set")
	assert.Error(t, do(3, command("no.such", plant.Value{})))
	require.NoError(t, do(3, befall("bleed-plugged", true)))
	err = do(3, befall("bleed-enlarged", false))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "plugged", "a hidden fault stays unsaid")
	assert.Len(t, r.Sim.Commands(), 1)
	assert.Empty(t, r.Scenario.Commands)
	assert.Empty(t, r.Changes)
	require.NoError(t, r.Sim.Finish(8))
}
