package network_test

import "underdisc/model/plant"

// twoRings is a spring-loaded valve with two rings; numbers are of the size of
// the scenario's.
func twoRings(on, draws, outlet string) *plant.SpringValve {
	return &plant.SpringValve{On: on, Draws: draws, Outlet: outlet,
		Nozzle: plant.Nozzle{Bore: 0.045, Coefficient: 0.975, Momentum: 0.7},
		Seat: plant.SpringSeat{Diameter: 0.0475, Coefficient: 0.85, Force: 142, Length: 4e-6, Restitution: 0.3, LeakArea: 1e-7,
			Debris: &plant.Debris{Size: 3e-6, Washes: "yes"}},
		LowerRing: &plant.LowerRing{Diameter: 0.052, Gap: 2.5e-3, Notches: 15e-6, Coefficient: 0.88, Carried: 0.72, CarryLift: 5.5e-3, Pitch: 5e-5},
		UpperRing: &plant.UpperRing{Diameter: 0.062, Height: 0.026, Coefficient: 0.9, Pitch: 5e-5},
		Disc:      plant.SpringDisc{Mass: 4, Travel: 0.014, Damping: 60, Friction: 10, StickFriction: 15, Restitution: 0.3, HoldSpeed: 1e-3},
		Spring:    plant.Spring{Rate: 180e3, Preload: 7044},
		Lever:     &plant.Lever{Ratio: 10, Force: 300, Pull: 0.2, Time: 0.3},
		Gag:       &plant.Gag{Leaves: 1}}
}

// springBench has a two-ring valve behind an inlet pipe, and one with a hood and
// bellows, beside the piloted valve on a vessel of gas.
func springBench() *plant.Plant {
	p := gasBenchPlus()
	first := twoRings("vessel", "all", "second-pipe")
	first.Inlet = &plant.Run{Length: 1, Bore: 0.08, Friction: 0.02, Cells: 3}
	second := twoRings("vessel", "all", "surroundings")
	second.UpperRing, second.Hood, second.Disc.StickFriction, second.Disc.Friction = nil, &plant.Hood{Diameter: 0.056, Turned: 0.7, Angle: 0.25}, 0, 0
	second.Bellows = &plant.Bellows{Diameter: 0.04, Vent: "surroundings"}
	p.Parts = append(p.Parts,
		plant.Part{Name: "second-pipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "surroundings", Volume: 24e-3, Area: 7854e-6, Coefficient: 0.9}},
		plant.Part{Name: "safety-1", Kind: "spring-valve", Spec: first},
		plant.Part{Name: "safety-2", Kind: "spring-valve", Spec: second})
	return p
}

// boilerSprings has two spring-loaded valves on the boiler's drum, one for its
// water.
func boilerSprings() *plant.Plant {
	p := boilerPlant()
	relief := twoRings("vessel", "water", "header")
	relief.LowerRing, relief.UpperRing, relief.Plug = nil, nil, &plant.Plug{Angle: 0.1}
	p.Parts = append(p.Parts,
		plant.Part{Name: "safety-1", Kind: "spring-valve", Spec: twoRings("vessel", "steam", "header")},
		plant.Part{Name: "relief", Kind: "spring-valve", Spec: relief})
	return p
}
