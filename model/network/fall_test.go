package network_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fluid/water"
	"underdisc/model/network"
)

// A pipe at the pressure around it drains by the weight of its water: Torricelli,
// W = A rho sqrt(2 g z); against a pressure that the water's weight cannot
// overcome it does not run, and with nothing lying neither.
func TestWaterFallsOut(t *testing.T) {
	const area, g, z = 48e-6, 9.81, 0.5
	w := water.Shared()
	rate := func(p, around, share float64) float64 {
		var sat water.Saturation
		ts, _ := w.SaturatedT(p)
		w.Saturated(ts, &sat)
		rho := share/sat.Vl + (1-share)/sat.Vg
		v, u := 1/rho, (share*sat.Ul/sat.Vl+(1-share)*sat.Ug/sat.Vg)/rho
		out, outU, err := w.PT(around, 293.15)
		require.NoError(t, err)
		n := &network.Network{
			Volumes:    []network.Volume{{Name: "pipe", Fluid: w, Size: 0.05, Mass: 0.05 / v, U: 0.05 / v * u}},
			Reservoirs: []network.Reservoir{{Name: "air", Fluid: w, V: out, U: outU}},
			Flows:      []network.Flow{{Name: "drain", From: 0, To: 1, Opening: network.Opening{Leak: area, Part: -1}, Fall: g * z}},
		}
		require.NoError(t, n.Compile())
		s := n.Start()
		dy, dq := make([]float64, len(s.Y)), make([]float64, len(s.Q))
		n.Derivative(0, s.Y, s.Modes, dy, dq)
		assert.Equal(t, -dq[0], dy[0], "what runs out leaves the pipe")
		assert.InDelta(t, dq[0]*(sat.Ul+p*sat.Vl), dq[1], 1e-9*math.Abs(dq[1]), "with the enthalpy of the water")
		return dq[0]
	}
	const rho = 958.4 // kg/m3, water at 1 atm and 100 degC (IAPWS-IF97)
	assert.InEpsilon(t, area*rho*math.Sqrt(2*g*z), rate(1.01325e5, 1.01325e5, 0.1), 0.03)
	assert.Zero(t, rate(0.95e5, 1.01325e5, 0.1), "a vacuum of 0.63 m of water holds 0.5 m")
	assert.Positive(t, rate(1.0e5, 1.01325e5, 0.1), "one of 0.14 m does not")
	assert.Less(t, rate(5e5, 1.01325e5, 0.1), 0.2*area*rho*math.Sqrt(2*g*z), "under pressure, the nozzle does it")
	assert.Less(t, rate(1.01325e5, 1.01325e5, 1e-6), 0.01*area*rho*math.Sqrt(2*g*z), "with nothing lying")
}
