package network_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/fluid/water"
	"underdisc/model/network"
	"underdisc/model/plant"
)

// steamBench has everything that a plant of steam can have: walls of every
// kind, a length of pipe, a drain, the face's pressure by continuity, a coil
// whose inductance moves. Numbers are of the size of the scenario's.
func steamBench() *plant.Plant {
	wall := func(capacity, inside, outside, wet, cover float64) *plant.PipeWall {
		return &plant.PipeWall{HeatCapacity: capacity, Inside: inside, Outside: outside, Film: &plant.WetFilm{Conductance: wet, Water: cover}}
	}
	p := gasBenchPlus()
	var out []plant.Part
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.Gas:
			q = plant.Part{Name: "fluid", Kind: "water", Spec: &plant.Water{}}
		case *plant.Inflow:
			q = plant.Part{Name: "firing", Kind: "heat-input", Spec: &plant.HeatInput{Into: "vessel", Power: 4e6}}
		case *plant.Vessel:
			q = plant.Part{Name: "vessel", Kind: "drum", Spec: &plant.Drum{Volume: 5, Pressure: 40e5, WaterShare: 0.5, Wall: wall(2e6, 170, 10, 30e3, 1e-3)}}
		case *plant.Line:
			s.Run = &plant.Run{Length: 6, Bore: 0.08, Friction: 0.02, Cells: 3}
		case *plant.PilotedValve:
			s.Seat.Face, s.Coil.Law, s.Seat.LeakArea = "continuity", "moving", 1e-7
			s.Coil.Inductance = 1.2
			s.Wall = wall(15e3, 3, 0.5, 750, 8e-6)
			s.Wall.Driven = &plant.DrivenFilm{Conductance: 390, At: 8}
			s.Chamber.Wall = wall(2e3, 2, 90, 100, 1e-6)
			s.Dump.Wall = wall(430, 0.8, 0.5, 190, 2e-6)
			s.Dump.Wall.Driven = &plant.DrivenFilm{Conductance: 79, At: 0.1}
			s.Pilot.Area, s.Bleed.Area = 30e-6, 2e-6
			s.Plunger.Stroke = 2.5e-3
		case *plant.Tailpipe:
			s.Wall = wall(15e3, 9, 12, 4700, 47e-6)
			s.Wall.Driven = &plant.DrivenFilm{Conductance: 2200, At: 8}
			s.Drain = &plant.Drain{Area: 80e-6, Coefficient: 0.6, Fall: 0.5}
		case *plant.Switch:
			s.Set, s.Reset = 41e5, 39.2e5
		}
		out = append(out, q)
	}
	return &plant.Plant{Parts: out}
}

// drawWater draws water or steam at about a pressure: wet, superheated or
// subcooled, well inside its phase, since the slopes break at the line.
func drawWater(t *rapid.T, w *water.Water, p float64, label string) (v, u float64) {
	ts, _ := w.SaturatedT(p)
	var err error
	switch rapid.SampledFrom([]string{"wet", "damp", "steam", "water"}).Draw(t, "phase of "+label) {
	case "wet":
		v, u, err = w.PX(p, rapid.Float64Range(0.02, 0.98).Draw(t, "quality"))
	case "damp":
		v, u, err = w.PX(p, 1-math.Exp(rapid.Float64Range(-7, -3).Draw(t, "wetness")))
	case "steam":
		v, u, err = w.PT(p, ts+rapid.Float64Range(2, 200).Draw(t, "superheat"))
	default:
		v, u, err = w.PT(p, max(ts-rapid.Float64Range(2, 100).Draw(t, "subcooling"), 290))
	}
	require.NoError(t, err)
	return v, u
}

// drawSteam fills in what drawState leaves to the fluid.
func drawSteam(t *rapid.T, m *plant.Model, g regime, y []float64, look *network.Look) {
	n := m.Net
	at := func(name string) int { return slices.Index(n.Layout().Vars, name) }
	base := 1e5 * math.Exp(rapid.Float64Range(0, 4).Draw(t, "pressure"))
	for i := range n.Volumes {
		name := n.Volumes[i].Name
		p := base
		if i > 0 {
			p *= g.ratio(t, "pressure of "+name)
		}
		p = min(max(p, 0.2e5), 140e5) * (1 + 3.3e-3*float64(i))
		v, u := drawWater(t, m.Water, p, name)
		mass := look.Nodes[i].V / v
		y[at(name+".mass")], y[at(name+".energy")] = mass, mass*u
		if k := at(name + ".air"); k >= 0 {
			y[k] = mass * rapid.Float64Range(0.05, 0.95).Draw(t, "air in "+name)
		}
	}
	drawFlows(t, n, y)
}

func drawFlows(t *rapid.T, n *network.Network, y []float64) {
	for i := range n.Channels {
		flow := math.Exp(rapid.Float64Range(-3, 3).Draw(t, "flow"))
		y[slices.Index(n.Layout().Vars, n.Channels[i].Name+".flow")] = flow * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "direction")
	}
}

// TestSteamSharesOneTable: plants of water have one set of tables.
func TestSteamSharesOneTable(t *testing.T) {
	assert.Same(t, build(t, steamBench()).Water, build(t, steamBench()).Water)
}

// TestSteamLayout: an air share for each open pipe, a flow for each joint.
func TestSteamLayout(t *testing.T) {
	m := build(t, steamBench())
	count := func(suffix string) (k int) {
		for _, v := range m.Net.Layout().Vars {
			if strings.HasSuffix(v, suffix) {
				k++
			}
		}
		return
	}
	assert.Equal(t, 2, count(".air"))
	assert.Equal(t, 3, count(".flow"))
	assert.Equal(t, 5, count(".temperature"))
}
