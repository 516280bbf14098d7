package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/sim"
)

// index finds a name; a test that asks for one that is not there is wrong.
func index(t *testing.T, names []string, name string) int {
	t.Helper()
	i := slices.Index(names, name)
	require.GreaterOrEqual(t, i, 0, name)
	return i
}

// A loss that is put in by hand comes out as the share of its part's size that
// the description of Account promises.
func TestResidualsAreSharesOfTheirPart(t *testing.T) {
	m := build(t, gasBenchPlus())
	n := m.Net
	lay := n.Layout()
	start := n.Start()
	content := func(name string) float64 { return start.Y[index(t, lay.Vars, name)] }
	for _, c := range []struct {
		name       string
		change     map[string]float64 // of variables
		booked     map[string]float64 // on quadratures
		part, kind string
		want       float64
	}{
		{"mass lost from the chamber, by its content", map[string]float64{"valve.chamber.mass": -1e-6}, nil,
			"valve.chamber", network.Mass, 1e-6 / content("valve.chamber.mass")},
		{"the same after the chamber has passed ten kilograms", map[string]float64{"valve.chamber.mass": -1e-6},
			map[string]float64{"valve.bleed.mass": 5, "valve.pilot.mass": 5},
			"valve.chamber", network.Mass, 1e-6 / 10},
		{"energy lost from the body", map[string]float64{"valve.body.energy": -3}, nil,
			"valve.body", network.Energy, 3 / content("valve.body.energy")},
		{"work missing from the energy of the chamber", nil, map[string]float64{"valve.chamber on valve.disc": 0.5},
			"valve.chamber", network.Energy, 0.5 / content("valve.chamber.energy")},
		{"heat lost from the wall, by the heat of one kelvin", map[string]float64{"valve.dump-line-wall.temperature": -0.1}, nil,
			"valve.dump-line-wall", network.Energy, 0.1},
		{"heat lost from the wall, by what it has passed on", map[string]float64{"valve.dump-line-wall.temperature": -0.1},
			map[string]float64{"valve.dump-line-wall.heat-in": 4300, "valve.dump-line-wall.heat-out": 4300},
			"valve.dump-line-wall", network.Energy, 43. / 8600},
		{"impact lost, by the work on the disc", nil,
			map[string]float64{"valve.body on valve.disc": 60, "valve.chamber on valve.disc": -55, "valve.disc.damping": 2},
			"valve.disc", network.Work, 3. / 117},
		{"fault not booked", map[string]float64{"valve.disc.position": 0.01}, map[string]float64{"valve.disc.friction": 1},
			"valve.disc", network.Work, 200*0.01 + 0.5*20e3*1e-4 - 1.5*9.81*0.01 + 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			end := start.Clone()
			for name, d := range c.change {
				end.Y[index(t, lay.Vars, name)] += d
			}
			for name, d := range c.booked {
				end.Q[index(t, lay.Ledger, name)] += d
			}
			a, ok := network.ByStateOnly(n, n, start, end).Find(c.part, c.kind)
			require.True(t, ok)
			assert.InEpsilon(t, c.want, a.ByState, 1e-9)
			assert.True(t, math.IsNaN(a.ByFlow), "no trajectory was given")
		})
	}
}

// Without any change there is no residual, even where nothing was turned over.
func TestNothingHappenedNothingLost(t *testing.T) {
	n := build(t, gasBenchPlus()).Net
	a := network.ByStateOnly(n, n, n.Start(), n.Start())
	assert.Zero(t, a.MassByState())
	assert.Zero(t, a.EnergyByState())
	assert.Zero(t, a.DiscWorkByState())
	assert.True(t, math.IsNaN(a.MassByFlow()), "a figure that was not worked out must not pass for a good one")
	kinds := map[string]int{}
	for _, c := range a.Accounts {
		kinds[c.Kind]++
	}
	assert.Equal(t, map[string]int{network.Mass: 5, network.Energy: 6, network.Work: 2}, kinds, "every volume, wall and moving part")
}

// The energy that a change of parameters gives or takes stands in the ledger.
func TestChangeIsBooked(t *testing.T) {
	before := build(t, gasBenchPlus())
	after := build(t, change(t, gasBenchPlus(), map[string]float64{
		"valve.spring.preload": 50, "valve.spring.rate": 5e3, "valve.disc.mass": 2, "valve.disc.travel": 0.012,
		"valve.dump-line.wall.heat-capacity": 500}))
	lay := before.Net.Layout()
	s := before.Net.Start()
	s.Y[index(t, lay.Vars, "valve.disc.position")] = 0.015
	s.Modes[index(t, lay.Modes, "valve.disc")] = network.HeldHigh
	start := s.Clone()
	after.Net.BookChange(before.Net, &s)
	after.Net.Begin(&s, func(string, string) {})
	assert.Equal(t, 0.012, s.Y[index(t, lay.Vars, "valve.disc.position")], "a stop takes along what rests on it")
	assert.InDelta(t, 70*300, s.Q[index(t, lay.Ledger, "valve.dump-line-wall.fault")], 1e-6)
	stored := func(preload, rate, mass, x float64) float64 { return preload*x + rate*x*x/2 - mass*9.81*x }
	assert.InDelta(t, stored(50, 5e3, 2, 0.012)-stored(200, 20e3, 1.5, 0.015), s.Q[index(t, lay.Ledger, "valve.disc.fault")], 1e-12)
	a := network.ByStateOnly(before.Net, after.Net, start, s)
	assert.Less(t, a.EnergyByState(), 1e-12)
	assert.Less(t, a.DiscWorkByState(), 1e-12)
}

// bare is a System without a network.
type bare struct{ sim.System }

func TestAuditNeedsNetworksAndEvents(t *testing.T) {
	n := build(t, gasBench()).Net
	start := n.Start()
	h := &sim.History{}
	r, err := sim.New(n, start, sim.Settings{RelTol: 1e-6, History: h, NoPast: true})
	require.NoError(t, err)
	require.NoError(t, r.Finish(2.3))
	_, err = network.AuditRun(h, r.Events(), r.Systems(), start, *r.State())
	assert.ErrorContains(t, err, "carry no variables")
	_, err = network.AuditRun(h, nil, []sim.System{bare{n}}, start, *r.State())
	assert.ErrorContains(t, err, "no network to audit")
	_, err = network.AuditRun(h, nil, nil, start, *r.State())
	assert.ErrorContains(t, err, "without a system")
}
