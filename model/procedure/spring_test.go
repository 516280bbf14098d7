package procedure_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// TestHandLiftIsWhatItSays: operators first, where there are any; fully up before
// the two and a half seconds begin; over when the hand has let go.
func TestHandLiftIsWhatItSays(t *testing.T) {
	d, valve, err := procedure.Parse("hand-lift:safety-2")
	require.NoError(t, err)
	sc, err := scenarios.Load("boiler-plant-safeties")
	require.NoError(t, err)
	takes := 0.3 // s, the lever's
	got, err := d.On(sc.Plant, valve, 10)
	require.NoError(t, err)
	assert.Equal(t, []procedure.Setting{
		{At: 10, Path: "operators.told", Value: plant.Value{Word: "yes"}},
		{At: 15, Path: "safety-2.lever.pull", Value: plant.Value{Number: 1}},
		{At: 15 + 2.5 + takes, Path: "safety-2.lever.pull", Value: plant.Value{}},
	}, got)
	lasts, err := d.Lasts(sc.Plant, valve)
	require.NoError(t, err)
	assert.InDelta(t, 5+2.5+2*takes, lasts, 1e-12)

	bench, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	got, err = d.On(bench.Plant, "", 0)
	require.NoError(t, err)
	require.Len(t, got, 2, "nobody to tell")
	assert.Equal(t, "safety.lever.pull", got[0].Path)
	assert.Equal(t, 5.0, got[0].At)
}

// TestEachKindHasItsProcedures: what is done at one kind of valve is refused at
// the other, in words that say which valves there are.
func TestEachKindHasItsProcedures(t *testing.T) {
	sc, err := scenarios.Load("boiler-plant-safeties")
	require.NoError(t, err)
	for _, c := range []struct{ do, on, scenario, want string }{
		{"hand-lift", "valve", "", `procedure hand-lift: "valve", which is none of them; want the name of a spring-loaded valve: safety-1, safety-2`},
		{"hand-lift", "", "", "procedure hand-lift: this plant has several spring-loaded valves; want the name of a spring-loaded valve: safety-1, safety-2"},
		{"stroke", "safety-1", "", `procedure stroke: "safety-1", which is none of them; want the name of a piloted valve: valve`},
		{"gag", "", "boiler-plant", "procedure gag: this plant has no spring-loaded valve; want a plant that has one"},
		{"isolate", "", "spring-reference", "procedure isolate: this plant has no piloted valve; want a plant that has one"},
	} {
		p := sc.Plant
		if c.scenario != "" {
			other, err := scenarios.Load(c.scenario)
			require.NoError(t, err)
			p = other.Plant
		}
		d, ok := procedure.Find(c.do)
		require.True(t, ok)
		_, err := d.On(p, c.on, 0)
		assert.EqualError(t, err, c.want)
	}
	stroke, _ := procedure.Find("stroke")
	assert.Equal(t, []string{"valve"}, stroke.Valves(sc.Plant))
	lift, _ := procedure.Find("hand-lift")
	assert.Equal(t, []string{"safety-1", "safety-2"}, lift.Valves(sc.Plant))

	bare, err := scenarios.Load("spring-reference")
	require.NoError(t, err)
	v, _ := plant.Spec[plant.SpringValve](bare.Plant, "safety")
	v.Lever = nil
	_, err = lift.On(bare.Plant, "", 0)
	assert.EqualError(t, err, "procedure hand-lift: safety has no lever.pull; want a plant that has it, such as boiler-plant-safeties")
	assert.Empty(t, lift.Valves(bare.Plant))
}

// TestHandLift: at three quarters of the set pressure a hand lifts the valve fully,
// for as long as it holds, and lets it snap shut; gagged, it lifts nothing until
// the gag is off.
func TestHandLift(t *testing.T) {
	run := func(until float64, at map[string]float64) *live.Run {
		sc, err := scenarios.Load("spring-reference")
		require.NoError(t, err)
		sc.Shows, sc.Until = nil, until
		sc.Plant, err = scenarios.Set(sc.Plant, "vessel.pressure=31 bar abs", "inflow.mass-flow=0 kg/s")
		require.NoError(t, err)
		for name, t0 := range at {
			d, ok := procedure.Find(name)
			require.True(t, ok)
			settings, err := d.On(sc.Plant, "", t0)
			require.NoError(t, err)
			for _, s := range settings {
				sc.Record(scenarios.Action{Command: &scenarios.Command{At: s.At, Path: s.Path, Value: s.Value}})
			}
		}
		run, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, run.Finish())
		return run
	}
	names := func(r *live.Run) (out []string) {
		for _, e := range r.Sim.Events() {
			if slices.Contains([]string{"lever-moves", "lever-pulled", "lever-let-go", "pop", "full-lift", "reseat"}, e.Name) && !slices.Contains(out, e.Name) {
				out = append(out, e.Name)
			}
		}
		return out
	}
	lifted := run(12, map[string]float64{"hand-lift": 0})
	got := names(lifted)
	require.Contains(t, got, "pop")
	require.Contains(t, got, "full-lift")
	for _, e := range lifted.Sim.Events() {
		if e.Name == "reseat" {
			assert.Greater(t, e.T, 5+0.3+2.5, "it stays up while the lever is held")
			assert.Less(t, e.T, 5+0.3+2.5+0.5, "and falls shut as the hand lets go")
		}
	}
	require.Contains(t, got, "reseat")
	v := &lifted.Now().Springs[0]
	assert.Equal(t, plant.Tight, v.Pop)
	assert.Less(t, v.Inlet, 30.9e5, "the pressure has dipped")

	gagged := run(12, map[string]float64{"gag": 0, "hand-lift": 0})
	assert.NotContains(t, names(gagged), "pop")
	freed := run(24, map[string]float64{"gag": 0, "ungag": 10, "hand-lift": 12})
	assert.Contains(t, names(freed), "full-lift")
}
