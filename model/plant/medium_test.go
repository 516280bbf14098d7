package plant_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

// benchOf is the gas bench filled with another gas.
func benchOf(t *testing.T, kind string, spec any) *plant.Plant {
	t.Helper()
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	p := &plant.Plant{}
	for _, q := range sc.Plant.Parts {
		if q.Kind == "ideal-gas" {
			q = plant.Part{Name: q.Name, Kind: kind, Spec: spec}
		}
		p.Parts = append(p.Parts, q)
	}
	return p
}

// lift is when the disc first lifts and seats.
func lift(t *testing.T, p *plant.Plant) (lifts, seats float64) {
	t.Helper()
	m, err := plant.Build(p)
	require.NoError(t, err)
	r, err := sim.New(m.Net, m.Net.Start(), sim.Settings{RelTol: 1e-7})
	require.NoError(t, err)
	require.NoError(t, r.Finish(5))
	for _, e := range r.Events() {
		switch {
		case e.Name == "disc-lift" && lifts == 0:
			lifts = e.T
		case e.Name == "disc-seated":
			seats = e.T
		}
	}
	return lifts, seats
}

// TestBenchOfRealHeatCapacity: near room temperature air's heat capacity is that
// of the bench's gas to 0.4 %, and so the bench of either is the same to as much;
// in nitrogen, 3 % lighter, all goes faster, since flow in and out go with
// 1/sqrt(R) and the content with 1/R.
func TestBenchOfRealHeatCapacity(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	lifts, seats := lift(t, sc.Plant)
	airLifts, airSeats := lift(t, benchOf(t, "thermal-gas", &plant.ThermalGas{Substance: "air"}))
	t.Logf("lifts %.6f, seats %.6f; with varying heat capacity %.6f, %.6f", lifts, seats, airLifts, airSeats)
	assert.InEpsilon(t, lifts, airLifts, 5e-3)
	assert.InEpsilon(t, seats-lifts, airSeats-airLifts, 5e-3)
	assert.NotEqual(t, lifts, airLifts)

	nLifts, _ := lift(t, benchOf(t, "thermal-gas", &plant.ThermalGas{Substance: "nitrogen"}))
	// The vessel's rise of 0.5 bar takes (V dp)/(gamma R T W).
	assert.InEpsilon(t, lifts*287.05/fluid.Nitrogen().R, nLifts, 0.02)
}

// TestThrottleKeepsEnthalpy, of every fluid that a plant can have.
func TestThrottleKeepsEnthalpy(t *testing.T) {
	steam, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	gas, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	for name, p := range map[string]*plant.Plant{"gas": gas.Plant, "air": benchOf(t, "thermal-gas", &plant.ThermalGas{Substance: "air"}), "steam": steam.Plant} {
		m, err := plant.Build(p)
		require.NoError(t, err)
		s := m.Net.Start()
		snap := m.Snapshot(0, s.Y, s.Modes, s.Timers)
		body := m.NodeState(snap, m.Valves[0].Body)
		for _, share := range []float64{1, 0.8, 0.3, 0.05} {
			var down fluid.State
			m.Throttle(&body, share*body.P, &down)
			assert.InEpsilon(t, share*body.P, down.P, 1e-7, name)
			assert.InEpsilon(t, body.H, down.H, 1e-7, name)
			assert.False(t, math.IsNaN(down.T))
		}
	}
}

// TestNoStateNoWater: a bad start of a drum is one clear issue.
func TestNoStateNoWater(t *testing.T) {
	sc, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	set := func(path string, v float64) *plant.Plant {
		p, err := sc.Plant.With(path, plant.Value{Number: v})
		require.NoError(t, err)
		return p
	}
	for path, want := range map[string]struct {
		v    float64
		want string
	}{
		"drum.superheat": {10, "drum.superheat: 10 K in a drum that holds water; want 0 K, or no water in the drum"},
	} {
		issues := set(path, want.v).Check()
		require.Len(t, issues, 1)
		assert.Equal(t, want.want, issues[0].String())
	}
	p := set("drum.water-share", 1)
	q, err := p.With("drum.superheat", plant.Value{Number: -260})
	require.NoError(t, err)
	issues := q.Check()
	require.Len(t, issues, 1)
	assert.Contains(t, issues[0].String(), "drum.superheat")

	gas, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	mixed := &plant.Plant{Parts: append(append([]plant.Part{}, gas.Plant.Parts...), plant.Part{Name: "drum", Kind: "drum", Spec: &plant.Drum{Volume: 1, Pressure: 1e6, WaterShare: 0.5}})}
	issues = mixed.Check()
	require.Len(t, issues, 1)
	assert.Equal(t, "drum: a drum in a plant of ideal-gas; want a vessel, which holds a gas", issues[0].String())
}
