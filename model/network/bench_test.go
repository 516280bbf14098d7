package network_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
)

// gasBench is the reference configuration, and gasBenchPlus what a real valve
// has besides: block valve, guide clearance, a dump line with a wall, true
// sticking. The numbers are those of the scenarios of these names.
func gasBench() *plant.Plant {
	return &plant.Plant{Parts: []plant.Part{
		{Name: "gas", Kind: "ideal-gas", Spec: &plant.Gas{HeatCapacityRatio: 1.4, GasConstant: 287.05, Viscosity: 18.5e-6}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "surroundings", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: 101325, Temperature: 300}},
		{Name: "vessel", Kind: "vessel", Spec: &plant.Vessel{Volume: 5, Pressure: 11.5e5, Temperature: 300}},
		{Name: "inflow", Kind: "inflow", Spec: &plant.Inflow{Into: "vessel", MassFlow: 1, Temperature: 300}},
		{Name: "line", Kind: "line", Spec: &plant.Line{From: "vessel", To: "valve", Volume: 10e-3, Area: 5026.5e-6, Coefficient: 0.70}},
		{Name: "valve", Kind: "piloted-valve", Spec: gasBenchValve()},
		{Name: "tailpipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "surroundings", Volume: 24e-3, Area: 7854e-6, Coefficient: 0.9}},
		{Name: "sensor", Kind: "sensor", Spec: &plant.Sensor{On: "vessel", Lag: 0.05}},
		{Name: "switch", Kind: "pressure-switch", Spec: &plant.Switch{Sensor: "sensor", Set: 12e5, Reset: 11.3e5}},
		{Name: "relay", Kind: "relay", Spec: &plant.Relay{Switch: "switch", Valve: "valve", PickUp: 0.01, DropOut: 0.01, Supply: 125}},
	}}
}

func gasBenchValve() *plant.PilotedValve {
	return &plant.PilotedValve{
		Outlet: "tailpipe",
		Seat:   plant.Seat{Diameter: 0.05, Coefficient: 0.85, Face: "small-drop"},
		Disc: plant.Disc{GuideDiameter: 0.07, Mass: 1.5, Travel: 0.015, Damping: 20, Friction: 20, StickFriction: 20,
			FrictionLaw: "smoothed", FrictionSpeed: 0.01, Restitution: 0.3, HoldSpeed: 1e-3},
		Spring:  plant.Spring{Rate: 20e3, Preload: 200},
		Chamber: plant.Chamber{Volume: 0.3e-3},
		Bleed:   plant.Bleed{Area: 4e-6, Coefficient: 0.8},
		Pilot:   plant.Pilot{Area: 80e-6, Coefficient: 0.8},
		Plunger: plant.Plunger{Mass: 0.1, Stroke: 3e-3, SpringRate: 2e3, Preload: 20, Damping: 20, Restitution: 0.1, HoldSpeed: 0.01},
		Coil:    plant.Coil{Inductance: 2, Resistance: 50, PullFactor: 160, Gap: 3e-3, Law: "constant"},
	}
}

func gasBenchPlus() *plant.Plant {
	p := gasBench()
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.Line:
			s.BlockValve = &plant.BlockValve{Area: 7854e-6, Coefficient: 0.9, Opening: 1}
		case *plant.PilotedValve:
			s.Disc.FrictionLaw, s.Disc.StickFriction = "sticking", 30
			s.Bleed.Area = 3.3e-6
			s.Guide = &plant.Guide{Clearance: 18e-6, Length: 0.03}
			s.Dump = &plant.DumpLine{Volume: 0.15e-3, Area: 100e-6, Coefficient: 0.8,
				Wall: &plant.PipeWall{HeatCapacity: 430, Inside: 5.7, Outside: 0.5}}
		case *plant.Relay:
			s.Selector = &plant.Selector{Position: "auto"}
		}
	}
	return p
}

var benches = []struct {
	name  string
	plant func() *plant.Plant
}{
	{"gas-bench", gasBench},
	{"gas-bench-plus", gasBenchPlus},
	{"steam-bench", steamBench},
	{"boiler-plant", boilerPlant},
	{"alternating", alternating},
	{"springs", springBench},
	{"boiler with springs", boilerSprings},
}

// change sets parameters of a plant.
func change(t *testing.T, p *plant.Plant, values map[string]float64) *plant.Plant {
	t.Helper()
	for path, v := range values {
		q, err := p.With(path, plant.Value{Number: v})
		require.NoError(t, err)
		p = q
	}
	return p
}

func build(t testing.TB, p *plant.Plant) *plant.Model {
	t.Helper()
	m, err := plant.Build(p)
	require.NoError(t, err)
	return m
}
