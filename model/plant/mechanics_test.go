package plant

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/sim"
)

// This file holds the network's moving parts against closed forms of a mass, a
// spring, a damper, dry friction and a stop.

// moving is a network of one part alone, without any fluid. Its variables are
// position and speed.
func moving(t *testing.T, m network.Mover) *network.Network {
	m.Name = "part"
	m.Events = network.MoverEvents{Leave: "leave", Bounce: "bounce", High: "high", Drop: "drop", Low: "low"}
	n := &network.Network{Movers: []network.Mover{m}}
	require.NoError(t, n.Compile())
	return n
}

// TestStepForce: a mass on a spring with a damper that a weight pulls from
// rest; m 1 kg, c 2 N s/m, k 100 N/m, 10 N. Peak 0.172924761 m at
// 0.315741942 s, x(1) = 0.133685168 m (closed form
// x = F/k (1 - exp(-a t)(cos w t + a/w sin w t)), a = c/2m, w^2 = k/m - a^2;
// digits reproduced). The travel is six times what it needs, so no stop is met;
// the scale of its errors with it: 1e-9 covers the nine digits.
func TestStepForce(t *testing.T) {
	for _, c := range []struct {
		name string
		law  network.FrictionLaw
	}{
		{"smoothed friction of nothing", network.Smoothed},
		{"sticking friction of nothing", network.Sticking},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := launch(t, moving(t, network.Mover{Mass: 1, Travel: 1, Rate: 100, Weight: 10, Damping: 2, Law: c.law}))
			g.to(1)
			peak := g.when(0.1, 0.5, func(l *network.Look) float64 { return l.Movers[0].V })
			t.Logf("peak %.10f at %.10f, x(1) %.10f", g.at(peak).Movers[0].X, peak, g.at(1).Movers[0].X)
			assert.InDelta(t, 0.315741942, peak, 2e-9)
			assert.InDelta(t, 0.172924761, g.at(peak).Movers[0].X, 1e-9)
			assert.InDelta(t, 0.133685168, g.at(1).Movers[0].X, 1e-9)
		})
	}
}

// TestFreeFlight: a disc of 1.5 kg that falls 10 m onto its far stop, which
// returns 0.8 of the speed. First contact at 1.427843123 s (closed form
// sqrt(2h/g), g 9.81; digits reproduced), the flights after it last
// 2 e^j t1, and the disc stays at the contact that leaves it less than
// 1 mm/s: the 43rd. All the energy it falls with ends in the impacts.
func TestFreeFlight(t *testing.T) {
	const g0, height, e, hold, mass = 9.81, 10.0, 0.8, 1e-3, 1.5
	g := launch(t, moving(t, network.Mover{Mass: mass, Travel: height, Weight: mass * g0, Restitution: e, HoldSpeed: hold}))
	g.to(14)

	first := math.Sqrt(2 * height / g0)
	at, speed, flight := first, g0*first, 2*first
	bounces, worst := 0, 0.0
	events := g.run.Events()
	require.Equal(t, "leave", events[0].Name)
	assert.Zero(t, events[0].T)
	for _, ev := range events[1:] {
		// Each contact is located to round-off and the method is exact for a
		// parabola; errors add up over the bounces.
		worst = max(worst, math.Abs(ev.T-at))
		assert.InDelta(t, at, ev.T, 1e-9)
		speed *= e
		if speed < hold {
			assert.Equal(t, "high", ev.Name)
			break
		}
		assert.Equal(t, "bounce", ev.Name)
		bounces++
		flight *= e
		at += flight
	}
	t.Logf("%d contacts within %.1e s", bounces+1, worst)
	assert.InDelta(t, 1.427843123, events[1].T, 1e-9)
	assert.Equal(t, 42, bounces)
	assert.Len(t, events, 1+42+1)

	l := g.to(14)
	assert.Equal(t, network.HeldHigh, l.Movers[0].Mode)
	assert.Equal(t, height, l.Movers[0].X)
	assert.Zero(t, l.Movers[0].V)
	assert.InEpsilon(t, mass*g0*height, ledger(t, g, "part.impact"), 1e-9)
}

// ledger is the present value of a quadrature.
func ledger(t *testing.T, g *rig, name string) float64 {
	t.Helper()
	for i, q := range g.net.Layout().Ledger {
		if q == name {
			return g.run.State().Q[i]
		}
	}
	require.Fail(t, "no quadrature", "%s is not among %v", name, g.net.Layout().Ledger)
	return 0
}

// block is a mass of 1 kg on a spring of 100 N/m whose rest position lies at
// half a metre, with sticking friction, let go from rest at x0.
func block(t *testing.T, slide, stick, x0 float64) *rig {
	n := moving(t, network.Mover{Mass: 1, Travel: 1, Rate: 100, Weight: 50, Law: network.Sticking, Slide: slide, Stick: stick})
	s := n.Start()
	s.Y[0], s.Modes[0] = x0, network.Stuck
	return launchFrom(t, n, s)
}

// turns lists where and when a block comes to rest for a moment or for good.
func turns(t *testing.T, g *rig) (at, x []float64) {
	y := make([]float64, 2)
	require.NoError(t, g.past.Each(func(s *sim.Segment) error {
		after, err := g.past.At(s.T1)
		if err == nil && s.Modes[0] >= network.Rising && after.T0 == s.T1 && after.Modes[0] != s.Modes[0] {
			s.End(y)
			at, x = append(at, s.T1), append(x, y[0])
		}
		return err
	}))
	return at, x
}

// TestDryFriction: with Coulomb friction Fc the motion between two turns is a
// half period pi sqrt(m/k) of a cosine about a centre moved by Fc/k against it,
// so each turn lies 2 Fc/k closer to the spring's rest position than the one
// before; the block stays at the first turn where the spring pulls less than
// friction at rest holds (textbook closed form, derived above).
func TestDryFriction(t *testing.T) {
	const centre, rate, mass = 0.5, 100.0, 1.0
	for _, c := range []struct {
		name         string
		slide, stick float64
		from         float64   // displacement at the start
		turns        []float64 // displacements
	}{
		// 2 Fc/k is 0.04. The last of each lies inside Stick/k.
		{"friction at rest as sliding", 2, 2, 0.15, []float64{-0.11, 0.07, -0.03, -0.01}},
		{"friction at rest greater", 2, 3.5, 0.15, []float64{-0.11, 0.07, -0.03}},
		{"from the other side", 2, 3.5, -0.15, []float64{0.11, -0.07, 0.03}},
		{"stops before the rest position", 2, 2, 0.0225, []float64{0.0175}},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := block(t, c.slide, c.stick, centre+c.from)
			l := g.to(5)
			at, x := turns(t, g)
			require.Len(t, x, len(c.turns))
			path, last, worst := 0.0, c.from, 0.0
			for i, want := range c.turns {
				worst = max(worst, math.Abs(x[i]-centre-want))
				// A turn is met to the round-off of its location; 1e-9 of the
				// travel is what the tolerance leaves.
				assert.InDelta(t, want, x[i]-centre, 2e-9, "turn %d", i+1)
				assert.InDelta(t, float64(i+1)*math.Pi*math.Sqrt(mass/rate), at[i], 1e-8, "turn %d", i+1)
				path += math.Abs(want - last)
				last = want
			}
			t.Logf("turns within %.1e m", worst)
			assert.Equal(t, network.Stuck, l.Movers[0].Mode)
			assert.Equal(t, x[len(x)-1], l.Movers[0].X, "at rest nothing creeps")
			assert.Zero(t, l.Movers[0].V)
			assert.InDelta(t, c.slide*path, ledger(t, g, "part.friction"), 1e-7, "friction takes Fc along the path")
		})
	}
}

// TestHeldByFriction: below the friction at rest a part stays to the last bit,
// at a stop as well as in between; above it, it starts.
func TestHeldByFriction(t *testing.T) {
	const stick = 3.5
	for _, c := range []struct {
		name  string
		force float64
		held  bool
	}{
		{"just below, one way", 0.999 * stick, true},
		{"just below, the other way", -0.999 * stick, true},
		{"just above, one way", 1.001 * stick, false},
		{"just above, the other way", -1.001 * stick, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			// The spring of 100 N/m pulls the block back to 0.5 m.
			start := 0.5 - c.force/100
			l := block(t, 2, stick, start).to(10)
			assert.Equal(t, c.held, l.Movers[0].X == start)
			if c.force > 0 {
				m := network.Mover{Mass: 1, Travel: 0.01, Weight: c.force, Law: network.Sticking, Slide: 2, Stick: stick, HoldSpeed: 1e-3}
				l := launch(t, moving(t, m)).to(10)
				assert.Equal(t, c.held, l.Movers[0].Mode == network.HeldLow, "at its stop")
			}
		})
	}
}

// TestBreakaway: a constant feed of mass W and enthalpy h raises the pressure
// of a rigid adiabatic volume by (gamma - 1) W h/V a second (dU = h dm; derived).
// A part that a spring and friction at rest hold on its seat leaves when the
// pressure on its face is their sum, at a time known beforehand.
func TestBreakaway(t *testing.T) {
	const area, preload, stick, bond, size, p0, w = 2e-3, 400.0, 30.0, 10.0, 0.2, 1e5, 0.05
	gas := gasOf(1.4)
	mass := size / gas.Volume(p0, 300)
	n := &network.Network{
		Volumes: []network.Volume{{Name: "tank", Fluid: &gas, Size: size, Mass: mass, U: mass * gas.Energy(300)}},
		Feeds:   []network.Feed{{Name: "feed", To: 0, MassFlow: w, Enthalpy: gas.Cp() * 350}},
		Movers: []network.Mover{{Name: "part", Mass: 1, Travel: 0.01, Rate: 1e4, Preload: preload, Law: network.Sticking, Slide: 20, Stick: stick,
			BondLow: bond, HoldSpeed: 1e-3, Faces: []network.Face{{Node: 0, Alpha: area}}, Events: network.MoverEvents{Leave: "leave"}}},
	}
	rate := (gas.Gamma - 1) * w * gas.Cp() * 350 / size
	want := ((preload+stick+bond)/area - p0) / rate
	g := launch(t, n)
	g.to(2 * want)
	t.Logf("leaves at %.9f s (%+.1e)", g.event("leave"), g.event("leave")/want-1)
	assert.InEpsilon(t, want, g.event("leave"), 1e-9)
}
