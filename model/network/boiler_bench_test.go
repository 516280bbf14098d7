package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/sim"
)

// boilerPlant is the steam bench with everything that controls and disturbs it:
// fire and feed by controllers, operators, a load, a block valve that travels, a
// sensing line, a header with a neighbour, fuse and warm copper.
func boilerPlant() *plant.Plant {
	p := steamBench()
	for i, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.HeatInput:
			s.Control = &plant.FireControl{Mode: "automatic", Sensor: "fire-sensor", Hold: 38e5, Band: 3e5, Reset: 120, Least: 2e6, Most: 24e6, Lag: 15}
		case *plant.Line:
			s.Return = &plant.Drain{Area: 8e-5, Coefficient: 0.6, Fall: 0.3}
			s.BlockValve = &plant.BlockValve{Area: 5e-3, Coefficient: 0.9, Opening: 1, Motion: &plant.Motion{TravelTime: 30, LeakArea: 1e-6}}
		case *plant.PilotedValve:
			s.Drain = &plant.BodyDrain{Area: 1e-4, Coefficient: 0.6, Opening: 0.2, Fall: 0.3}
			s.Chamber.Cover = &plant.Cover{LeakArea: 2e-7, Coefficient: 0.7}
			s.Chamber.Condensate = &plant.Condensate{Share: 0.1}
			s.Disc.Bond = &plant.Bond{Shut: 10, Open: 20}
			s.Plunger.Adjust = &plant.Adjust{Lost: 0.2e-3}
			s.Coil.Winding = &plant.Winding{HeatCapacity: 1200, Conductance: 5, Around: 323, Shorted: 0.1}
		case *plant.Tailpipe:
			s.To = "header"
		case *plant.Sensor:
			s.Line = &plant.SensingLine{Root: 0.7, FallLag: 0.2, Leg: 4, Expected: 3, Error: 1e4}
		case *plant.Relay:
			s.Circuit = &plant.Circuit{Contact: "sound", Earth: "one", Fuse: &plant.Fuse{State: "in", Rating: 4, Lag: 5}}
		}
		p.Parts[i] = q
	}
	add := func(name, kind string, spec any) {
		p.Parts = append(p.Parts, plant.Part{Name: name, Kind: kind, Spec: spec})
	}
	add("fire-sensor", "sensor", &plant.Sensor{On: "vessel", Lag: 0.5})
	add("gauge", "sensor", &plant.Sensor{On: "line", Lag: 1})
	add("feedwater", "inflow", &plant.Inflow{Into: "vessel", MassFlow: 8, Temperature: 378,
		Control: &plant.LevelControl{Hold: 0.5, Band: 1, Reset: 300, Most: 14, Lag: 5}})
	add("load", "load", &plant.Load{From: "vessel", To: "surroundings", Area: 2.3e-3, Coefficient: 0.8, Opening: 0.8, TravelTime: 2.5})
	add("header", "tailpipe", &plant.Tailpipe{To: "surroundings", Volume: 0.49, Area: 49e-3, Coefficient: 0.9})
	add("neighbour", "neighbour", &plant.Neighbour{Into: "header", Pressure: 40e5, Area: 2e-3, Coefficient: 0.85, Opening: 0.1})
	add("operators", "operators", &plant.Operators{Fire: "firing", Gauge: "gauge", Told: "no", Hold: 38e5, Delay: 20, Band: 20e5, Most: 6e6})
	add("lamp", "lamp", &plant.Lamp{Valve: "valve", Shows: "disc"})
	return p
}

// alternating is the boiler's plant with an alternating supply.
func alternating() *plant.Plant {
	p := boilerPlant()
	for _, q := range p.Parts {
		if s, ok := q.Spec.(*plant.PilotedValve); ok {
			s.Coil.AC = &plant.Alternating{Frequency: 50}
		}
	}
	return p
}

// drawControl draws what controls the plant.
func drawControl(t *rapid.T, n *network.Network, s *sim.State) {
	lay := n.Layout()
	set := func(name string, v float64) {
		k := slices.Index(lay.Vars, name)
		if k < 0 {
			t.Fatalf("no variable %s", name)
		}
		s.Y[k] = v
	}
	within := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	if len(n.Regulators) == 0 {
		return
	}
	for i := range n.Sensors {
		set(n.Sensors[i].Name+".reading", 38e5+1e5*within(-10, 10, "reading"))
	}
	for i := range n.Coils {
		if n.Coils[i].Copper > 0 {
			set(n.Coils[i].Name+".temperature", within(280, 420, "copper"))
		}
	}
	for i := range n.Fuses {
		set(n.Fuses[i].Name+".heat", within(0, 0.9, "fuse"))
		s.Modes[slices.Index(lay.Modes, n.Fuses[i].Name)] = rapid.SampledFrom([]int8{int8(network.FuseIn), int8(network.FuseBlown)}).Draw(t, "fuse")
	}
	for i := range n.Actuators {
		set(n.Actuators[i].Name+".opening", within(0.05, 0.95, "opening"))
		s.Modes[slices.Index(lay.Modes, n.Actuators[i].Name)] = rapid.SampledFrom([]int8{network.ActuatorStill, network.ActuatorOpens, network.ActuatorShuts}).Draw(t, "actuator")
	}
	for i := range n.Watchers {
		for k := range 4 {
			set(n.Watchers[i].Name+".reading-"+string(rune('1'+k)), 38e5+1e5*(float64(rapid.IntRange(-25, 4).Draw(t, "goes by"))+0.5))
		}
	}
	for i := range n.Regulators {
		r := &n.Regulators[i]
		set(r.Name+".output", within(r.Least, r.Most, "output"))
		set(r.Name+".integral", within(-0.3, 0.3, "integral")*r.Most)
	}
}

// TestRegulatorHolds: the linear loop of an integrating plant dp/dt = k u, a
// controller and its lag, against the closed form of its poles' sum and product.
// Here only the steady state: what is asked for at rest is the base.
func TestControlStartsAtRest(t *testing.T) {
	m := build(t, boilerPlant())
	s := m.Net.Start()
	look := m.Net.Look(0, s.Y, s.Modes)
	assert.Equal(t, 4e6, look.Regulators[0].Output, "the fire starts with its power")
	require.Len(t, look.Actuators, 2)
	assert.Equal(t, 1.0, look.Actuators[0])
	assert.Equal(t, 0.8, look.Actuators[1])
	assert.InDelta(t, 8.0, look.Regulators[1].Output, 1e-12)
}

// TestActuatorArrives: from 0.8 to 0.1 at one whole travel in 2.5 s takes 1.75 s.
func TestActuatorArrives(t *testing.T) {
	p := boilerPlant()
	q, err := p.With("load.opening", plant.Value{Number: 0.1})
	require.NoError(t, err)
	to := build(t, q)
	run, err := sim.New(build(t, p).Net, build(t, p).Net.Start(), sim.Settings{RelTol: 1e-6}, plant.Change(1, "less load", to))
	require.NoError(t, err)
	require.NoError(t, run.Finish(4))
	var moved, stood float64
	for _, e := range run.Events() {
		switch e.Name {
		case "load-moves":
			moved = e.T
		case "load-stands":
			stood = e.T
		}
	}
	assert.Equal(t, 1.0, moved)
	assert.InDelta(t, 2.75, stood, 1e-6)
}

// TestFuseBlows: a fuse at k times its rating blows after -lag ln(1 - 1/k^2).
func TestFuseBlows(t *testing.T) {
	const k, lag = 2.0, 5.0
	p := boilerPlant()
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.PilotedValve:
			// A current that is there at once, in copper that stays as it is.
			s.Coil.Winding, s.Coil.Inductance, s.Coil.Law = nil, 1e-3, "constant"
		case *plant.Relay:
			s.Circuit.Fuse.Rating, s.Circuit.Fuse.Lag = s.Supply/50/k, lag
			s.Selector = &plant.Selector{Position: "open"}
		}
	}
	m := build(t, p)
	run, err := sim.New(m.Net, m.Net.Start(), sim.Settings{RelTol: 1e-7})
	require.NoError(t, err)
	require.NoError(t, run.Finish(3))
	var on, blown, off float64
	for _, e := range run.Events() {
		switch e.Name {
		case "coil-on":
			on = e.T
		case "fuse-blows":
			blown = e.T
		case "coil-off":
			off = e.T
		}
	}
	require.Positive(t, on)
	assert.InDelta(t, -lag*math.Log(1-1/(k*k)), blown-on, 2e-4)
	assert.Equal(t, blown, off, "and with it the supply goes")
}
