package live_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// The tolerance at which the limits of the ledger hold.
const rtol = 1e-6

// What the ledger must close to: mass and energy to rounding by state, since
// what leaves one volume is by construction what enters another; work no
// better than the integration. By flow, as good as the recorded trajectory is
// between its steps.
var limits = map[string]struct{ byState, byFlow float64 }{
	network.Mass:   {1e-11, 1e-5},
	network.Energy: {1e-11, 1e-5},
	network.Work:   {10 * rtol, 1e-5},
}

// load reads a scenario and adds commands to it.
func load(t *testing.T, name string, until float64, cmds ...scenarios.Command) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	sc.Until = until
	sc.Commands = append(sc.Commands, cmds...)
	return sc
}

// number is a command that sets a parameter.
func number(at float64, path string, value float64) scenarios.Command {
	return scenarios.Command{At: at, Path: path, Value: plant.Value{Number: value}}
}

func TestLedgerCloses(t *testing.T) {
	for _, c := range []struct {
		name, base string
		until      float64
		cmds       []scenarios.Command
		faulted    string // the quadrature that must have booked the change
	}{
		{"gas-bench", "gas-bench", 60, nil, ""},
		{"gas-bench-plus", "gas-bench-plus", 60, nil, ""},
		// The disc stands at its stop from 2.2142 to 3.7628 s and falls shut
		// until 3.7933 s.
		{"spring breaks with the disc open", "gas-bench", 10, []scenarios.Command{
			number(3, "valve.spring.preload", 0), number(3, "valve.spring.rate", 0)}, "valve.disc.fault"},
		{"spring breaks with the disc falling", "gas-bench", 10, []scenarios.Command{
			number(3.78, "valve.spring.rate", 5000), number(3.78, "valve.spring.preload", 50)}, "valve.disc.fault"},
		{"spring stiffens with the disc stuck", "gas-bench-plus", 10, []scenarios.Command{
			number(2.5, "valve.disc.stick-friction", 3000), number(2.5, "valve.disc.friction", 2000),
			number(6, "valve.spring.rate", 25000)}, "valve.disc.fault"},
		{"stop moves under the disc", "gas-bench", 10, []scenarios.Command{
			number(3, "valve.disc.travel", 0.012), number(8.5, "valve.disc.travel", 0.014)}, "valve.disc.fault"},
		{"mass of the disc changes in flight", "gas-bench", 10, []scenarios.Command{
			number(2.205, "valve.disc.mass", 2)}, "valve.disc.fault"},
		{"wall grows thicker", "gas-bench-plus", 10, []scenarios.Command{
			number(4, "valve.dump-line.wall.heat-capacity", 600)}, "valve.dump-line-wall.fault"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r, err := live.Start(load(t, c.base, c.until, c.cmds...), live.Options{RelTol: rtol})
			require.NoError(t, err)
			start := r.Sim.State().Clone()
			require.NoError(t, r.Finish())
			end := r.Sim.State()
			a, err := network.AuditRun(r.History, r.Sim.Events(), r.Sim.Systems(), start, *end)
			require.NoError(t, err)
			for _, b := range a.Accounts {
				limit := limits[b.Kind]
				assert.Less(t, b.ByState, limit.byState, "%s of %s by state", b.Kind, b.Part)
				assert.Less(t, b.ByFlow, limit.byFlow, "%s of %s by flow", b.Kind, b.Part)
			}
			t.Logf("by state: mass %.1e energy %.1e work %.1e", a.MassByState(), a.EnergyByState(), a.DiscWorkByState())
			t.Logf("by flow:  mass %.1e energy %.1e work %.1e", a.MassByFlow(), a.EnergyByFlow(), a.DiscWorkByForce())
			lay := r.Present().Net.Layout()
			for i, name := range lay.Ledger {
				if name == c.faulted {
					assert.NotZero(t, end.Q[i], name)
				}
			}
		})
	}
}

// A history that has let its steps go and computes them again audits to the
// same figures.
func TestAuditOfShortMemory(t *testing.T) {
	audit := func(keep int) *network.Audit {
		r, err := live.Start(load(t, "gas-bench", 25, number(3, "valve.spring.rate", 18000)), live.Options{RelTol: rtol, Keep: keep})
		require.NoError(t, err)
		start := r.Sim.State().Clone()
		require.NoError(t, r.Finish())
		require.Greater(t, r.Sim.Stats().Steps, 2*256, "more than two blocks of steps")
		a, err := network.AuditRun(r.History, r.Sim.Events(), r.Sim.Systems(), start, *r.Sim.State())
		require.NoError(t, err)
		return a
	}
	assert.Equal(t, audit(0), audit(1))
}
