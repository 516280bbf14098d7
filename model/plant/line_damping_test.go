package plant_test

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
)

// channelsOf are the channels of a bench whose line is a run of pipe, and what the
// bench is filled with: a vessel's gas, or the steam bench's steam if gas is nil.
func channelsOf(t *testing.T, gas *plant.Gas, pressure, temperature float64, run plant.Run) []network.Channel {
	t.Helper()
	name := "gas-bench"
	if gas == nil {
		name = "steam-bench"
	}
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	p := &plant.Plant{}
	for _, q := range sc.Plant.Parts {
		switch s := q.Spec.(type) {
		case *plant.Gas:
			q.Spec = gas
		case *plant.Vessel:
			v := *s
			v.Pressure, v.Temperature = pressure, temperature
			q.Spec = &v
		case *plant.Drum:
			v := *s
			v.Pressure = pressure
			q.Spec = &v
		case *plant.Line:
			v := *s
			v.Run = &run
			q.Spec = &v
		}
		p.Parts = append(p.Parts, q)
	}
	m, err := plant.Build(p)
	require.NoError(t, err)
	require.NotEmpty(t, m.Net.Channels)
	return m.Net.Channels
}

// TestLineDampingOfAir: Kirchhoff's attenuation of a wide tube of air at 20 degC
// and one atmosphere is alpha = 2.964e-5 sqrt(f)/r, in any one unit of length
// (Weston, Proc. Phys. Soc. B 66 (1953) 695, equation 2; seen). Damping is 2 alpha
// w for the quarter wave w/(4 L). A Prandtl number of 1 in place of 0.71 makes it
// 5 % less.
func TestLineDampingOfAir(t *testing.T) {
	w := math.Sqrt(1.4 * 287.05 * 293.15)
	for _, run := range []plant.Run{{Length: 6, Bore: 0.08, Friction: 0.02, Cells: 10}, {Length: 40, Bore: 0.2, Friction: 0.02, Cells: 3}} {
		f := w / (4 * run.Length)
		want := 2 * w * 2.964e-5 * math.Sqrt(f) / (run.Bore / 2)
		for i, c := range channelsOf(t, &plant.Gas{HeatCapacityRatio: 1.4, GasConstant: 287.05, Viscosity: 18.2e-6}, 101325, 293.15, run) {
			if i == 0 {
				t.Logf("%.4f 1/s against %.4f", c.Damping, want)
				assert.Equal(t, []float64{0.5, 1}, []float64{c.Entrance, c.Exit}, "the pipe's mouth")
			} else {
				assert.Zero(t, c.Entrance+c.Exit, c.Name)
			}
			assert.InEpsilon(t, want*0.95, c.Damping, 0.01, c.Name)
		}
	}
}

// TestLineDampingAgainstTheExactLayer: the drag of a laminar flow that swings in a
// pipe is the real part of i omega/(1-F), F = 2 J1(z)/(z J0(z)), z = i^(3/2) r
// sqrt(omega/nu) (Womersley, J. Physiol. 127 (1955) 553; memory; computed here).
// The thin layer's falls short of it by one and a half thicknesses of the layer, of
// radii. A heat capacity ratio of almost 1 leaves out the heat.
func TestLineDampingAgainstTheExactLayer(t *testing.T) {
	const gamma, r, temperature, p, length = 1.0001, 287.05, 300.0, 10e5, 6.0
	w := math.Sqrt(gamma * r * temperature)
	omega := math.Pi * w / (2 * length)
	for _, layer := range []float64{0.003, 0.03, 0.1} { // of radii
		bore := 0.08
		nu := omega / 2 * math.Pow(layer*bore/2, 2)
		gas := &plant.Gas{HeatCapacityRatio: gamma, GasConstant: r, Viscosity: nu * p / (r * temperature)}
		c := channelsOf(t, gas, p, temperature, plant.Run{Length: length, Bore: bore, Friction: 0.02, Cells: 2})[0]
		z := cmplx.Pow(1i, 1.5) * complex(bore/2*math.Sqrt(omega/nu), 0)
		f := 2 / z * besselRatio(z)
		exact := real(complex(0, omega) / (1 - f))
		t.Logf("layer %g radii: %.5f 1/s against %.5f", layer, c.Damping, exact)
		assert.InDelta(t, 1-1.5*layer, c.Damping/exact, 0.15*layer)
	}
}

// besselRatio is J1(z)/J0(z), from the continued fraction of their recurrence (any
// handbook): J1/J0 = 1/(2/z - 1/(4/z - 1/(6/z - ...))), begun well beyond |z|.
func besselRatio(z complex128) complex128 {
	var tail complex128
	for k := int(cmplx.Abs(z))*2 + 60; k >= 1; k-- {
		tail = 1 / (complex(2*float64(k), 0)/z - tail)
	}
	return tail
}

// TestLineDampingOfSteam: dry saturated steam at 40 bar by an independent library of
// IAPWS-IF97, from the side of the vapour (v, mu, cp/cv, w; computed).
func TestLineDampingOfSteam(t *testing.T) {
	const v, mu, gamma, w = 0.04978, 17.4e-6, 1.63, 502
	c := channelsOf(t, nil, 40e5, 0, plant.Run{Length: 6, Bore: 0.08, Friction: 0.02, Cells: 10})[0]
	omega := math.Pi * w / 12
	want := 2 * math.Sqrt(mu*v*omega/2) * gamma / 0.04
	t.Logf("%.4f 1/s against %.4f", c.Damping, want)
	assert.InEpsilon(t, want, c.Damping, 0.02)
}
