package explain_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

const bar = 1e5 // Pa

// command sets a parameter during a run.
type command struct {
	at   float64 // s
	path string
	text string
}

// described is a scenario's plant with parameters changed from the start.
func described(t testing.TB, scenario string, sets ...string) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	sc.Plant, err = scenarios.Set(sc.Plant, sets...)
	require.NoError(t, err)
	return sc
}

// ran runs a scenario until a time.
func ran(t testing.TB, sc *scenarios.Scenario, until float64, cmds ...command) *live.Run {
	t.Helper()
	for _, c := range cmds {
		prm, err := sc.Plant.Get(c.path)
		require.NoError(t, err)
		v, err := plant.ParseValue(prm, c.text)
		require.NoError(t, err)
		sc.Commands = append(sc.Commands, scenarios.Command{At: c.at, Path: c.path, Value: v})
	}
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// explained is the snapshot of a moment and what is said of it.
func explained(t *testing.T, r *live.Run, at float64) (*plant.ValveState, explain.Facts) {
	t.Helper()
	s, m, err := r.At(at)
	require.NoError(t, err)
	return &s.Valves[0], explain.Valve(m, s, 0, explain.PastOf(m, r.Sim.Events(), at, 0))
}

// model is a plant ready to run, and a snapshot of its start.
func model(t require.TestingT, p *plant.Plant) (*plant.Model, *plant.Snapshot) {
	m, err := plant.Build(p)
	require.NoError(t, err)
	s := m.Net.Start()
	return m, m.Snapshot(s.T, s.Y, s.Modes, s.Timers)
}

// loaded is the plant of a scenario.
func loaded(t require.TestingT, scenario string) *plant.Plant {
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	return sc.Plant
}
