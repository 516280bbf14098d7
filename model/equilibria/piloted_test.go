package equilibria_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
)

func loaded(t testing.TB, name string, set ...string) *plant.Model {
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	p, err := scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	return built(t, p)
}

// TestPilotedShut: with its pilot shut and tight the chamber stands at the body's
// pressure, and the valve is shut at every pressure of the vessel.
func TestPilotedShut(t *testing.T) {
	m, err := equilibria.Of(loaded(t, "gas-bench"), "valve", equilibria.Options{Pilot: equilibria.Shut})
	require.NoError(t, err)
	require.Len(t, m.Branches, 1)
	assert.Equal(t, equilibria.Seated, m.Branches[0].Kind)
	assert.Empty(t, m.Folds)
	for _, p := range m.Branches[0].Points {
		assert.InEpsilon(t, p.Inlet, p.Chamber, 1e-9)
		assert.Less(t, p.Held, 0.0)
	}
	last := m.Branches[0].Points[len(m.Branches[0].Points)-1]
	assert.InEpsilon(t, m.Highest, last.Vessel, 1e-9)
}

// TestPilotedOpen: each point with the pilot open keeps the chamber's balance and
// the balance of the disc's forces, worked out here.
func TestPilotedOpen(t *testing.T) {
	model := loaded(t, "gas-bench")
	v := model.Valves[0].Spec
	m, err := equilibria.Of(model, "valve", equilibria.Options{Pilot: equilibria.Open})
	require.NoError(t, err)
	gas := fluid.Gas{Gamma: model.Gas.Gamma, R: model.Gas.R}
	law := flow.NewNozzle(&gas)
	temperature := model.Plant.OfKind("vessel")[0].Spec.(*plant.Vessel).Temperature
	flux := func(up, down float64) float64 {
		var s fluid.State
		gas.At(gas.Volume(up, temperature), gas.Energy(temperature), &s)
		return law.Flux(&s, down)
	}
	as, ag := area(v.Seat.Diameter), area(v.Disc.GuideDiameter)
	between := 0
	for _, b := range m.Branches {
		for _, p := range b.Points {
			into := v.Bleed.Coefficient * v.Bleed.Area * flux(p.Inlet, p.Chamber)
			outOf := v.Pilot.Coefficient * v.Pilot.Area * flux(p.Chamber, p.Outlet)
			if v.Guide == nil && v.Dump == nil {
				assert.InEpsilon(t, into, outOf, 1e-6)
			}
			r := 4 * p.Lift / v.Seat.Diameter
			phi := r * r / (1 + r*r)
			net := p.Inlet*(ag-as+phi*as) + p.Outlet*(1-phi)*as - p.Chamber*ag + v.Disc.Mass*model.Gravity - v.Spring.Preload - v.Spring.Rate*p.Lift
			assert.InDelta(t, p.Held, net, 1e-6*ag*p.Inlet)
			switch b.Kind {
			case equilibria.Stopped:
				assert.Greater(t, net, -1e-3)
				assert.Equal(t, v.Disc.Travel, p.Lift)
			case equilibria.Lifted, equilibria.Unstable:
				assert.InDelta(t, 0, net, 1e-6*ag*p.Inlet)
				between++
			}
		}
	}
	assert.Greater(t, between, 10)
	assert.Nil(t, v.Guide, "the test leaves it out")
}

// TestPilotLeaksSteam: on the boiler's plant the shut pilot's leak decides: a tight
// one leaves the disc on its seat, one of several square millimetres does not.
func TestPilotLeaksSteam(t *testing.T) {
	for _, c := range []struct {
		leak string
		open bool
	}{{"0mm2", false}, {"40mm2", true}} {
		m, err := equilibria.Of(loaded(t, "boiler-plant", "valve.pilot.leak-area="+c.leak), "valve", equilibria.Options{Pilot: equilibria.Shut})
		require.NoError(t, err)
		stands := m.Stands(38e5)
		require.NotEmpty(t, stands)
		assert.Equal(t, c.open, stands[len(stands)-1].Lift > 1e-3, "leak %s: %g mm", c.leak, stands[len(stands)-1].Lift*1e3)
	}
}

// TestIsolated: behind a shut block valve there is no map, and it says what would
// be right.
func TestIsolated(t *testing.T) {
	_, err := equilibria.Of(loaded(t, "boiler-plant", "line.block-valve.opening=0"), "valve", equilibria.Options{})
	assert.ErrorContains(t, err, "want its block valve open")
}

// TestSafetiesOnSteam: the boiler's safety valves pop where their springs are said
// to be set, and pop and reseat lie in the order in which they are staged.
func TestSafetiesOnSteam(t *testing.T) {
	model := loaded(t, "boiler-plant-safeties")
	var pops, reseats []float64
	for i, set := range []float64{42.5e5, 43.5e5} {
		m, err := equilibria.Of(model, model.Springs[i].Name, equilibria.Options{})
		require.NoError(t, err)
		require.NotNil(t, m.Pop)
		require.NotNil(t, m.Reseat)
		limits, err := equilibria.Thresholds(model, m.Valve)
		require.NoError(t, err)
		t.Logf("%s: pop %.3f bar abs, lands at %.2f mm, reseat %.3f, blowdown %.2f %%; with friction %.3f, %.3f", m.Valve, m.Pop.Vessel/1e5,
			m.Loop[0].To*1e3, m.Reseat.Vessel/1e5, 100*m.Blowdown(), limits.Pop.Vessel/1e5, limits.Reseat.Vessel/1e5)
		assert.InDelta(t, set, limits.Pop.Vessel, 0.15e5)
		pops, reseats = append(pops, m.Pop.Vessel), append(reseats, m.Reseat.Vessel)
	}
	assert.Less(t, pops[0], pops[1])
	assert.Less(t, reseats[0], reseats[1])
}

func BenchmarkSteam(b *testing.B) {
	m := loaded(b, "boiler-plant-safeties")
	for b.Loop() {
		if _, err := equilibria.Of(m, "safety-1", equilibria.Options{Plain: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPiloted(b *testing.B) {
	m := loaded(b, "boiler-plant")
	for b.Loop() {
		if _, err := equilibria.Of(m, "valve", equilibria.Options{Plain: true}); err != nil {
			b.Fatal(err)
		}
	}
}
