package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/sim"
)

// A gauge of 1 cm3 behind a metre of tube of a quarter of a millimetre, and a
// step of the pressure at its mouth from 9 to 10 bar.
const (
	tubeBore, tubeLength, gaugeSize = 0.25e-3, 1.0, 1e-6
	gaugeStart, mouth               = 9e5, 10e5
	roomTemperature                 = 293.15
)

var tubeGas = fluid.Gas{Gamma: 1.4, R: 287.05, Viscosity: 1.81e-5}

// gaugeTime is when an isothermal gauge has come from p0 to p with p1 at the
// mouth: dp/dt = pi d^4 (p1^2 - p^2)/(256 mu L V) integrated,
//
//	t = 128 mu L V/(pi d^4 p1) ln((p1 + p)(p1 - p0)/((p1 - p)(p1 + p0)))
//
// (derived; the subject of NACA TN 2793, 1952, which was not seen).
func gaugeTime(p, p0, p1 float64) float64 {
	d4 := math.Pow(tubeBore, 4)
	return 128 * tubeGas.Viscosity * tubeLength * gaugeSize / (math.Pi * d4 * p1) *
		math.Log((p1+p)*(p1-p0)/((p1-p)*(p1+p0)))
}

// gauge is a reservoir, the tube and the gauge's volume. With a wall the gas
// in the gauge keeps the wall's temperature.
func gauge(t *testing.T, wall bool) *network.Network {
	g := &tubeGas
	mass := gaugeSize / g.Volume(gaugeStart, roomTemperature)
	n := &network.Network{
		Volumes:    []network.Volume{{Name: "gauge", Fluid: g, Size: gaugeSize, Mass: mass, U: mass * g.Energy(roomTemperature)}},
		Reservoirs: []network.Reservoir{{Name: "mouth", Fluid: g, V: g.Volume(mouth, roomTemperature), U: g.Energy(roomTemperature)}},
	}
	n.Flows = []network.Flow{{Name: "tube", From: n.ReservoirNode(0), To: 0, Law: flow.NewCapillary(g, tubeBore, tubeLength), Opening: network.Opening{Leak: 1, Part: -1}}}
	if wall {
		// The gas gives off at most 0.5 W: 1e6 W/K hold it to half a
		// millionth of a kelvin, and 1e9 J/K hold the wall.
		n.Walls = []network.Wall{{Name: "wall", Node: 0, HeatCapacity: 1e9, Inside: 1e6, Ambient: roomTemperature, Start: roomTemperature}}
	}
	require.NoError(t, n.Compile())
	return n
}

// pressureAt runs the gauge to a time.
func pressureAt(t *testing.T, n *network.Network, at float64) float64 {
	r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-10})
	require.NoError(t, err)
	require.NoError(t, r.Finish(at))
	s := r.State()
	return n.Look(s.T, s.Y, s.Modes).Nodes[0].P
}

// TestGaugeLag: the network of tube, gauge and isothermal wall against the
// closed form, and its 63.2 % at 0.195 s (computed, to three figures). The
// wall's conductance and the step control leave 1e-7 of the step.
func TestGaugeLag(t *testing.T) {
	assert.InDelta(t, 0.195, gaugeTime(9.632e5, gaugeStart, mouth), 0.0005)
	n := gauge(t, true)
	for _, share := range []float64{0.1, 0.5, 0.632, 0.9, 0.99, 0.999} {
		p := gaugeStart + share*(mouth-gaugeStart)
		at := gaugeTime(p, gaugeStart, mouth)
		got := pressureAt(t, n, at)
		t.Logf("%5.1f %% at %.6f s: %+.1e of the step", 100*share, at, (got-p)/(mouth-gaugeStart))
		assert.InDelta(t, p, got, 1e-7*(mouth-gaugeStart))
	}
}

// TestGaugeLagWithoutWall: what flows in brings the enthalpy of the mouth, so
// in an adiabatic gauge dp/dt is gamma times as large at any pressure
// (dU = h dm; derived) and every time shrinks by gamma.
func TestGaugeLagWithoutWall(t *testing.T) {
	n := gauge(t, false)
	for _, share := range []float64{0.1, 0.632, 0.99} {
		p := gaugeStart + share*(mouth-gaugeStart)
		got := pressureAt(t, n, gaugeTime(p, gaugeStart, mouth)/tubeGas.Gamma)
		assert.InDelta(t, p, got, 1e-7*(mouth-gaugeStart))
	}
}

// TestGaugeRange: the tube keeps to its law's range. Reynolds number about
// 1700 at the start (computed, two figures), which is below 2000; entry and
// exit take 0.036 Re d/L of the friction.
func TestGaugeRange(t *testing.T) {
	up := stateOf(&tubeGas, mouth, roomTemperature)
	w := flow.NewCapillary(&tubeGas, tubeBore, tubeLength).Flux(&up, gaugeStart)
	re := 4 * w / (math.Pi * tubeBore * tubeGas.Viscosity)
	t.Logf("Re %.0f", re)
	assert.InDelta(t, 1700, re, 50)
	assert.Less(t, 0.06*tubeBore*re, 0.05*tubeLength, "inlet length")
	assert.Less(t, 0.036*re*tubeBore/tubeLength, 0.016, "entry and exit")
}

// TestCapillaryAgainstPoiseuille: at a small difference, W = rho pi d^4
// dp/(128 mu L) (e.g. White, Fluid Mechanics, section 6.4; memory), with the
// density of the mean pressure exactly.
func TestCapillaryAgainstPoiseuille(t *testing.T) {
	for _, dp := range []float64{1, 1e3, 1e5} {
		up := stateOf(&tubeGas, mouth, roomTemperature)
		rho := (mouth - dp/2) / (tubeGas.R * roomTemperature)
		want := rho * math.Pi * math.Pow(tubeBore, 4) * dp / (128 * tubeGas.Viscosity * tubeLength)
		assert.InEpsilon(t, want, flow.NewCapillary(&tubeGas, tubeBore, tubeLength).Flux(&up, mouth-dp), 1e-15*mouth/dp+1e-13)
	}
}
