package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/network"
)

// TestReversal: a law is always asked for the way down the pressure; with the
// two sides exchanged the network must get the same flow with the other sign,
// in mass and in energy, to the last bit.
func TestReversal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := anyLaw(rt)
		var p, temperature [2]float64
		for i, name := range []string{"a", "b"} {
			p[i] = rapid.Float64Range(1e4, 3e6).Draw(rt, "p "+name)
			temperature[i] = rapid.Float64Range(150, 800).Draw(rt, "T "+name)
		}
		through := func(i, j int) *network.Look {
			n := &network.Network{}
			for _, k := range []int{i, j} {
				n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: "side", Fluid: l.gas, V: l.gas.Volume(p[k], temperature[k]), U: l.gas.Energy(temperature[k])})
			}
			n.Flows = []network.Flow{{Name: "flow", From: 0, To: 1, Law: l.Law, Opening: network.Opening{Leak: 1e-4, Part: -1}}}
			require.NoError(t, n.Compile())
			s := n.Start()
			return n.Look(0, s.Y, s.Modes)
		}
		look, back := through(0, 1), through(1, 0).Flows[0]
		there := look.Flows[0]
		assert.Equal(rt, there.W, -back.W)
		assert.Equal(rt, there.H, -back.H)
		assert.Equal(rt, look.Nodes[0].P > look.Nodes[1].P, there.W > 0)

		// Mass goes with the enthalpy of the side that it comes from.
		up := 0
		if there.W < 0 {
			up = 1
		}
		want := there.W * l.gas.Cp() * temperature[up]
		assert.InDelta(rt, want, there.H, 1e-13*math.Abs(want))
	})
}
