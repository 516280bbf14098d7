package network_test

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

// A plant into which nothing flows and in which everything is shut stays as it
// is: no event, and no variable moves by more than rounding.
func TestClosedPlantStays(t *testing.T) {
	for _, b := range benches[:2] { // the others' walls lose heat
		t.Run(b.name, func(t *testing.T) {
			m := build(t, change(t, b.plant(), map[string]float64{"inflow.mass-flow": 0}))
			start := m.Net.Start()
			r, err := sim.New(m.Net, start, sim.Settings{RelTol: 1e-6})
			require.NoError(t, err)
			require.NoError(t, r.Finish(3600))
			assert.Empty(t, r.Events())
			for i, name := range m.Net.Layout().Vars {
				assert.InDelta(t, start.Y[i], r.State().Y[i], 1e-12*math.Max(1, math.Abs(start.Y[i])), name)
			}
		})
	}
}

// pair is two volumes of air, at 10 bar and 400 K and at 1 bar and 300 K.
func pair() *network.Network {
	gas := &fluid.Gas{Gamma: 1.4, R: 287.05, Viscosity: 18.5e-6}
	n := &network.Network{}
	volume := func(name string, size, p, t float64) {
		mass := size / gas.Volume(p, t)
		n.Volumes = append(n.Volumes, network.Volume{Name: name, Fluid: gas, Size: size, Mass: mass, U: mass * gas.Energy(t)})
	}
	volume("left", 0.02, 10e5, 400)
	volume("right", 0.05, 1e5, 300)
	return n
}

// orifice joins the volumes of a pair.
func orifice(n *network.Network) {
	n.Flows = append(n.Flows, network.Flow{Name: "hole", From: 0, To: 1, Law: flow.NewNozzle(n.Volumes[0].Fluid.(*fluid.Gas)),
		Opening: network.Opening{Leak: 1e-4, Part: -1}})
}

// piston parts the volumes of a pair; it moves towards the right one.
func piston(n *network.Network, m network.Mover) {
	const area = 0.01 // m2
	m.Name, m.Mass, m.Travel = "piston", 5, 2
	m.Faces = []network.Face{{Node: 0, Alpha: area}, {Node: 1, Alpha: -area}}
	m.Events = network.MoverEvents{Leave: "leave", Bounce: "bounce", High: "high", Drop: "drop", Low: "low"}
	n.Movers = append(n.Movers, m)
}

// What one volume of an isolated pair loses the other gains, to rounding, until
// the pressures are equal; the energy there is that of the start, so that the
// pressure is the mean weighted by size.
func TestIsolatedPairKeepsMassAndEnergy(t *testing.T) {
	n := pair()
	orifice(n)
	require.NoError(t, n.Compile())
	start := n.Start()
	r, err := sim.New(n, start, sim.Settings{RelTol: 1e-6})
	require.NoError(t, err)
	mass, energy := start.Y[0]+start.Y[2], start.Y[1]+start.Y[3]
	for r.State().T < 20 {
		_, err := r.Advance(20, 1)
		require.NoError(t, err)
		y := r.State().Y
		require.InEpsilon(t, mass, y[0]+y[2], 1e-13, "mass at %g s", r.State().T)
		require.InEpsilon(t, energy, y[1]+y[3], 1e-13, "energy at %g s", r.State().T)
	}
	s := r.State()
	want := (10e5*0.02 + 1e5*0.05) / 0.07
	for _, k := range n.Look(s.T, s.Y, s.Modes).Nodes {
		assert.InEpsilon(t, want, k.P, 1e-6, k.Name)
	}
	assert.Greater(t, math.Abs(s.Q[0]), 0.5*start.Y[0]/2, "the pair must have exchanged mass")
}

// A piston between two volumes trades their energy for its own. Without
// friction the sum stays, as closely as steps are accurate; what damping takes
// stands in the ledger.
func TestPistonKeepsEnergy(t *testing.T) {
	for _, c := range []struct {
		name  string
		mover network.Mover
		loses bool
	}{
		{"free", network.Mover{Restitution: 1}, false},
		{"on a spring", network.Mover{Rate: 5000, Preload: 100, Weight: 49}, false},
		{"damped", network.Mover{Damping: 50, Restitution: 0.3, HoldSpeed: 1e-3}, true},
		{"stopped dead", network.Mover{}, true},
		{"smoothed friction", network.Mover{Slide: 200, Speed: 0.01, Restitution: 0.3, HoldSpeed: 1e-3}, true},
		{"sticking", network.Mover{Law: network.Sticking, Slide: 200, Stick: 300, Restitution: 0.3, HoldSpeed: 1e-3}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			const rtol = 1e-8
			n := pair()
			piston(n, c.mover)
			require.NoError(t, n.Compile())
			h := &sim.History{}
			start := n.Start()
			r, err := sim.New(n, start, sim.Settings{RelTol: rtol, History: h})
			require.NoError(t, err)
			total := func(s *sim.State) float64 { return s.Y[1] + s.Y[3] + n.Stored(0, s.Y) }
			lost := func(s *sim.State) (sum float64) {
				for i, name := range n.Layout().Ledger {
					if name == "piston.damping" || name == "piston.friction" || name == "piston.impact" {
						sum += s.Q[i]
					}
				}
				return
			}
			top := 0.0
			for r.State().T < 1 {
				_, err := r.Advance(1, 1)
				require.NoError(t, err)
				s := r.State()
				top = max(top, n.Stored(0, s.Y))
				require.InDelta(t, total(&start), total(s)+lost(s), 1e-6*total(&start), "energy at %g s", s.T)
			}
			assert.Greater(t, top, 0.02*total(&start), "the piston must have taken up energy")
			if c.loses {
				assert.Greater(t, lost(r.State()), 1e-3*total(&start))
			} else {
				assert.Less(t, lost(r.State()), 1e-12*total(&start))
			}
			a, err := network.AuditRun(h, r.Events(), r.Systems(), start, *r.State())
			require.NoError(t, err)
			assert.Less(t, a.EnergyByState(), 1e-12)
			assert.Less(t, a.EnergyByFlow(), 1e-6)
			assert.Less(t, a.DiscWorkByState(), 10*rtol)
			assert.Less(t, a.DiscWorkByForce(), 1e-5)
		})
	}
}
