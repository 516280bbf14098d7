package fault

import (
	"underdisc/model/plant"
)

// boiler is a plant of steam that has what the bench lacks.
func boiler() *plant.Plant {
	v := valve("tailpipe", &plant.DumpLine{Volume: 0.15e-3, Area: 100e-6, Coefficient: 0.8})
	v.Seat.Face, v.Disc.Bond, v.Guide = "continuity", &plant.Bond{}, &plant.Guide{Clearance: 20e-6, Length: 0.03}
	v.Bleed.Area, v.Pilot.Area = 2e-6, 30e-6
	v.Chamber.Cover, v.Chamber.Condensate = &plant.Cover{Coefficient: 0.7}, &plant.Condensate{}
	v.Plunger.Adjust = &plant.Adjust{}
	v.Coil.Winding = &plant.Winding{HeatCapacity: 1200, Conductance: 5, Around: 323.15}
	v.Coil.AC = &plant.Alternating{Frequency: 50}
	leg := func() *plant.SensingLine { return &plant.SensingLine{Root: 1, FallLag: 0.05, Leg: 4, Expected: 4} }
	return &plant.Plant{Parts: []plant.Part{
		{Name: "fluid", Kind: "water", Spec: &plant.Water{}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "air", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: 101325, Temperature: 293.15}},
		{Name: "drum", Kind: "drum", Spec: &plant.Drum{Volume: 10, Pressure: 38e5, WaterShare: 0.5}},
		{Name: "firing", Kind: "heat-input", Spec: &plant.HeatInput{Into: "drum", Power: 18.9e6,
			Control: &plant.FireControl{Mode: "automatic", Sensor: "sensor", Hold: 38e5, Band: 3e5, Reset: 120, Least: 2e6, Most: 24e6, Lag: 15}}},
		{Name: "line", Kind: "line", Spec: &plant.Line{From: "drum", To: "valve", Volume: 0.01, Area: 5026.5e-6, Coefficient: 0.7,
			BlockValve: &plant.BlockValve{Area: 5026.5e-6, Coefficient: 0.9, Opening: 1, Motion: &plant.Motion{TravelTime: 30}},
			Run:        &plant.Run{Length: 6, Bore: 0.08, Friction: 0.018, Cells: 4}}},
		{Name: "valve", Kind: "piloted-valve", Spec: v},
		{Name: "tailpipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "air", Volume: 0.053, Area: 17671e-6, Coefficient: 0.9,
			Drain: &plant.Drain{Area: 80e-6, Coefficient: 0.6}, Low: &plant.LowPoint{HeatCapacity: 3400, Inside: 700, Outside: 1.8, Surface: 0.045}}},
		{Name: "neighbour", Kind: "neighbour", Spec: &plant.Neighbour{Into: "tailpipe", Pressure: 40e5, Area: 5000e-6, Coefficient: 0.85}},
		{Name: "sensor", Kind: "sensor", Spec: &plant.Sensor{On: "drum", Lag: 0.05, Line: leg()}},
		{Name: "switch", Kind: "pressure-switch", Spec: &plant.Switch{Sensor: "sensor", Set: 41e5, Reset: 39.5e5, Contact: &plant.SwitchContact{State: "sound"}}},
		{Name: "relay", Kind: "relay", Spec: &plant.Relay{Switch: "switch", Valve: "valve", PickUp: 0.01, DropOut: 0.01, Supply: 125,
			Selector: &plant.Selector{Position: "auto"},
			Circuit:  &plant.Circuit{Contact: "sound", Earth: "clear", Fuse: &plant.Fuse{State: "in", Rating: 4, Lag: 5}}}},
		{Name: "lamp", Kind: "lamp", Spec: &plant.Lamp{Valve: "valve", Shows: "disc"}},
	}}
}

// home is the bench for a fault that can befall it, otherwise the boiler or the
// vessel with a spring-loaded valve.
func home(f Fault) *plant.Plant {
	for _, p := range []*plant.Plant{bench(), boiler()} {
		if len(f.Befalls(p)) > 0 {
			return p
		}
	}
	return sprung()
}
