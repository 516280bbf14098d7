package network_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
	"underdisc/model/network"
	"underdisc/sim"
)

// pipeLength, pipeBore: the pipe of these tests, m.
const pipeLength, pipeBore = 12.0, 0.08

// pipe is a pipe of so many cells, open to a reservoir at one end, shut at the
// other, full of a fluid at (v, u); pressure(x) disturbs it along an isentrope,
// x from the open end.
func pipe(f fluid.Fluid, v, u float64, cells int, friction float64, disturb func(x float64) float64) *network.Network {
	n := &network.Network{}
	area, dx := math.Pi/4*pipeBore*pipeBore, pipeLength/float64(cells)
	var s fluid.State
	f.At(v, u, &s)
	c2 := s.V * s.V * (s.P*s.Pu - s.Pv)
	for i := range cells {
		// dv = -v^2 dp/c^2, du = -p dv along an isentrope.
		dp := disturb((float64(i) + 0.5) * dx)
		dv := -v * v * dp / c2
		mass := area * dx / (v + dv)
		n.Volumes = append(n.Volumes, network.Volume{Name: fmt.Sprintf("cell-%d", i), Fluid: f, Size: area * dx, Mass: mass, U: mass * (u - s.P*dv)})
	}
	n.Reservoirs = []network.Reservoir{{Name: "drum", Fluid: f, V: v, U: u}}
	for i := range cells {
		c := network.Channel{Name: fmt.Sprintf("joint-%d", i), From: network.Node(i - 1), To: network.Node(i), Length: dx, Area: area, Diameter: pipeBore, Friction: friction}
		if i == 0 {
			c.From, c.Length, c.Upwind = n.ReservoirNode(0), dx/2, true
		}
		n.Channels = append(n.Channels, c)
	}
	return n
}

// steam40 is dry saturated steam at 40 bar.
func steam40(t testing.TB) (*water.Water, float64, float64) {
	w := water.Shared()
	v, u, err := w.PX(40e5, 1)
	require.NoError(t, err)
	return w, v, u
}

// TestClosedEndMode: a pipe open at one end rings at w/(4 L) (quarter wave; any
// text on acoustics), w of the fluid. Disturbed by the mode's own shape, which
// leaves its neighbours out. A row of cells is slow by (pi/(4 N))^2/6: 0.1 % for ten.
func TestClosedEndMode(t *testing.T) {
	air := &fluid.Gas{Gamma: 1.4, R: 287.05}
	w, sv, su := steam40(t)
	for _, c := range []struct {
		name    string
		f       fluid.Fluid
		v, u, w float64
	}{
		{"air", air, air.Volume(10e5, 300), air.Energy(300), math.Sqrt(1.4 * 287.05 * 300)},
		{"steam a little above saturation", w, sv * 1.02, su * 1.01, 0},
	} {
		if c.w == 0 {
			_, c.w = w.Rest(c.v, c.u)
		}
		for _, cells := range []int{4, 8, 10, 30} {
			t.Run(fmt.Sprintf("%s, %d cells", c.name, cells), func(t *testing.T) {
				n := pipe(c.f, c.v, c.u, cells, 0, func(x float64) float64 { return 200 * math.Sin(math.Pi*x/(2*pipeLength)) })
				require.NoError(t, n.Compile())
				r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-9})
				require.NoError(t, err)
				want := c.w / (4 * pipeLength)
				got := frequency(t, n, r, cells-1, 4/want)
				t.Logf("%.4f Hz against %.4f, %+.3f %%", got, want, 100*(got/want-1))
				bound := 1e-4 + math.Pow(math.Pi/(4*float64(cells)), 2)/6*1.2
				if cells >= 8 {
					bound = min(bound, 0.01)
				}
				assert.InEpsilon(t, want, got, bound)
			})
		}
	}
}

// frequency counts the crossings of a cell's pressure through its mean in time.
func frequency(t *testing.T, n *network.Network, r *sim.Run, cell int, end float64) float64 {
	t.Helper()
	mean := n.Look(0, r.State().Y, r.State().Modes).Nodes[len(n.Volumes)].P
	var crossings []float64
	last, at := 0.0, 0.0
	for r.State().T < end {
		_, err := r.Advance(end, 1)
		require.NoError(t, err)
		s := r.State()
		p := n.Look(s.T, s.Y, s.Modes).Nodes[cell].P - mean
		if last*p < 0 {
			crossings = append(crossings, at+(s.T-at)*last/(last-p))
		}
		last, at = p, s.T
	}
	require.Greater(t, len(crossings), 3)
	return float64(len(crossings)-1) / 2 / (crossings[len(crossings)-1] - crossings[0])
}

// TestPipeFriction: steady flow through the pipe against Darcy and Weisbach,
// p1^2 - p2^2 = f L/D G^2 R T for a gas at one temperature; the pressure drop is
// kept small, so that the gas keeps its temperature.
func TestPipeFriction(t *testing.T) {
	air := &fluid.Gas{Gamma: 1.4, R: 287.05}
	const cells, friction, p1, drop = 10, 0.02, 10e5, 2000.0
	n := pipe(air, air.Volume(p1, 300), air.Energy(300), cells, friction, func(float64) float64 { return 0 })
	n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: "sink", Fluid: air, V: air.Volume(p1-drop, 300), U: air.Energy(300)})
	last := n.Channels[0]
	last.Name, last.From, last.To, last.FromDraw = "end", network.Node(cells-1), n.ReservoirNode(1), network.All
	n.Channels = append(n.Channels, last)
	require.NoError(t, n.Compile())
	r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-9})
	require.NoError(t, err)
	_, err = r.Advance(60, 1e6)
	require.NoError(t, err)
	s := r.State()
	look := n.Look(s.T, s.Y, s.Modes)
	area := math.Pi / 4 * pipeBore * pipeBore
	p2 := p1 - drop
	want := area * math.Sqrt((p1*p1-p2*p2)/(friction*pipeLength/pipeBore*air.R*300))
	t.Logf("%.5f kg/s against %.5f", look.Channels[3].W, want)
	for _, c := range look.Channels {
		assert.InEpsilon(t, want, c.W, 1e-3, c.Name)
	}
}

// BenchmarkPipe is the cost of a step against the number of cells: the pipe of
// steam rings while its reservoir stands still.
func BenchmarkPipe(b *testing.B) {
	w, v, u := steam40(b)
	for _, cells := range []int{10, 30, 100, 300} {
		b.Run(fmt.Sprint(cells), func(b *testing.B) {
			steps, spent := 0, time.Duration(0)
			for range b.N {
				n := pipe(w, v*1.02, u*1.01, cells, 0.02, func(x float64) float64 { return 1e4 * math.Sin(math.Pi*x/(2*pipeLength)) })
				require.NoError(b, n.Compile())
				r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-6})
				require.NoError(b, err)
				began := time.Now()
				for r.State().T < 0.2 {
					_, err := r.Advance(0.2, 1)
					require.NoError(b, err)
					steps++
				}
				spent += time.Since(began)
			}
			b.ReportMetric(float64(spent.Nanoseconds())/float64(steps), "ns/step")
			b.ReportMetric(float64(steps)/float64(b.N), "steps")
		})
	}
}

// TestChannelDamping: a mode of a pipe with Damping D decays as exp(-D t/2), any
// text on vibrations; the pipe rings in its quarter wave, of so little pressure
// that friction has no share in it.
func TestChannelDamping(t *testing.T) {
	air := &fluid.Gas{Gamma: 1.4, R: 287.05}
	const damping, amplitude, cells = 2.0, 200.0, 10
	n := pipe(air, air.Volume(10e5, 300), air.Energy(300), cells, 0.02, func(x float64) float64 { return amplitude * math.Sin(math.Pi*x/(2*pipeLength)) })
	for i := range n.Channels {
		n.Channels[i].Damping = damping
	}
	require.NoError(t, n.Compile())
	r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-9})
	require.NoError(t, err)
	mean := n.Look(0, r.State().Y, r.State().Modes).Nodes[cells].P
	period := 4 * pipeLength / math.Sqrt(1.4*287.05*300)
	for k := 1; k <= 3; k++ {
		// The largest swing within the k-th five periods, and when.
		largest, at := 0.0, 0.0
		for r.State().T < 5*float64(k)*period {
			_, err := r.Advance(10, 1)
			require.NoError(t, err)
			s := r.State()
			if p := math.Abs(n.Look(s.T, s.Y, s.Modes).Nodes[cells-1].P - mean); s.T > 5*float64(k)*period-period/2 && p > largest {
				largest, at = p, s.T
			}
		}
		want := amplitude * math.Exp(-damping*at/2)
		t.Logf("after %.3f s %.3f Pa, against %.3f", at, largest, want)
		assert.InEpsilon(t, want, largest, 0.01)
	}
}

// TestChannelLoss: between equal pressures a channel's flow slows down at its loss
// alone, which for small flows is Damping, for large ones the friction's and the
// ends' velocity heads, K v W|W|/(2 A L); its slopes are those of differences.
func TestChannelLoss(t *testing.T) {
	air := &fluid.Gas{Gamma: 1.4, R: 287.05}
	n := pipe(air, air.Volume(10e5, 300), air.Energy(300), 1, 0.02, func(float64) float64 { return 0 })
	c := &n.Channels[0]
	c.Damping, c.Entrance, c.Exit = 0.5, 0.5, 1
	require.NoError(t, n.Compile())
	s, lay := n.Start(), n.Layout()
	w := len(lay.Vars) - 1
	require.Equal(t, "joint-0.flow", lay.Vars[w])
	rate := func(v, mass float64) float64 {
		y, dy := slices.Clone(s.Y), make([]float64, len(lay.Vars))
		y[w] = v
		y[0], y[1] = y[0]*mass, y[1]*mass // changes its specific volume
		n.Derivative(0, y, s.Modes, dy, nil)
		return dy[w]
	}
	v, friction := air.Volume(10e5, 300), 0.02*c.Length/c.Diameter
	for _, k := range []struct{ w, want, within float64 }{
		{1e-6, -0.5 * 1e-6, 1e-9},
		{-1e-6, 0.5 * 1e-6, 1e-9},
		{50, -(friction + 0.5) * v * 2500 / (2 * c.Area * c.Length), 1e-3},
		{-50, (friction + 1) * v * 2500 / (2 * c.Area * c.Length), 1e-3},
	} {
		assert.InEpsilon(t, k.want, rate(k.w, 1), k.within, "%g kg/s", k.w)
	}
	// Halfway, where both have a share.
	half := 0.5 * 2 * c.Area * c.Length / ((friction + 0.5) * v)
	assert.InEpsilon(t, -half*0.5*math.Sqrt2, rate(half, 1), 1e-9)

	e := make([]float64, len(lay.Entries))
	for _, x := range []float64{-20, -half, -0.01, 0.01, half, 20} {
		y := slices.Clone(s.Y)
		y[w] = x
		n.Jacobian(0, y, s.Modes, e)
		for i, en := range lay.Entries {
			if en.Row == w && en.Col == w {
				const d = 1e-4
				assert.InEpsilon(t, (rate(x+d*x, 1)-rate(x-d*x, 1))/(2*d*x), e[i], 1e-6, "%g kg/s", x)
			}
		}
	}
	c.Damping, c.Entrance, c.Exit, c.Friction = 0, 0, 0, 0
	assert.Zero(t, rate(3, 1), "nothing slows it down")
}

// TestChannelScale: what a channel's flow is measured by in the control of errors
// is to it what the pressure is to the pressure: in a standing wave both swing by
// the same share (p' = w W'/A; any text on acoustics).
func TestChannelScale(t *testing.T) {
	air := &fluid.Gas{Gamma: 1.4, R: 287.05}
	water, sv, su := steam40(t)
	_, steam := water.Rest(sv*1.02, su*1.01)
	for _, f := range []struct {
		name    string
		f       fluid.Fluid
		v, u, w float64
	}{
		{"air", air, air.Volume(10e5, 300), air.Energy(300), math.Sqrt(1.4 * 287.05 * 300)},
		{"steam", water, sv * 1.02, su * 1.01, steam},
	} {
		t.Run(f.name, func(t *testing.T) {
			const amplitude, cells = 200.0, 30
			n := pipe(f.f, f.v, f.u, cells, 0, func(x float64) float64 { return amplitude * math.Sin(math.Pi*x/(2*pipeLength)) })
			require.NoError(t, n.Compile())
			r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-8})
			require.NoError(t, err)
			k := slices.Index(n.Layout().Vars, "joint-0.flow")
			p := n.Look(0, r.State().Y, r.State().Modes).Nodes[cells].P
			require.NoError(t, r.Finish(pipeLength/f.w)) // a quarter period: the flow is at its peak
			assert.InEpsilon(t, amplitude/p, -r.State().Y[k]/n.Layout().Scales[k], 5e-3)
		})
	}
}

// TestLineKeepsTheTolerance: the valve on a line of ten cells, which rings after
// each stroke. At 1e-5 no event of the first lift is off by more than ten times
// that share of the time gone by.
func TestLineKeepsTheTolerance(t *testing.T) {
	p := change(t, steamBench(), map[string]float64{"line.run.cells": 10})
	events := func(rtol float64) (map[string]float64, sim.Stats) {
		m := build(t, p)
		r, err := sim.New(m.Net, m.Net.Start(), sim.Settings{RelTol: rtol})
		require.NoError(t, err)
		require.NoError(t, r.Finish(10))
		at := map[string]float64{}
		for _, e := range r.Events() {
			if _, seen := at[e.Name]; !seen {
				at[e.Name] = e.T
			}
		}
		return at, r.Stats()
	}
	fine, _ := events(1e-8)
	coarse, work := events(1e-5)
	for _, name := range []string{"switch-made", "pilot-lift", "disc-lift", "disc-full-open", "switch-reset", "pilot-drop", "disc-leaves-stop", "disc-seated"} {
		require.Contains(t, fine, name)
		require.Contains(t, coarse, name)
		t.Logf("%-17s %.6f s, %+.1e", name, fine[name], coarse[name]-fine[name])
		assert.InDelta(t, fine[name], coarse[name], 1e-4*fine[name], name)
	}
	t.Logf("%+v", work)
	// Explicit steps would keep the line ringing while the valve is open, at a
	// thousand steps a second.
	assert.Less(t, work.Steps, 3000)
}

// TestColdFrontKeepsItsOrder: cold air pushes hot air out of a pipe. Entropy goes
// with the flow, so no cell is ever hotter than the hot air or colder than the
// cold, and it grows warmer all the way along the pipe. With the mean of both
// cells' enthalpies in a joint it becomes a zigzag.
func TestColdFrontKeepsItsOrder(t *testing.T) {
	gas := &fluid.Gas{Gamma: 1.4, R: 287.05}
	const p, hot, cold, cells = 2e5, 600.0, 300.0, 10
	n := pipe(gas, gas.Volume(p, hot), gas.Energy(hot), cells, 0.02, func(float64) float64 { return 0 })
	n.Reservoirs[0].V, n.Reservoirs[0].U = gas.Volume(p, cold), gas.Energy(cold)
	n.Reservoirs = append(n.Reservoirs, network.Reservoir{Name: "outside", Fluid: gas, V: gas.Volume(1e5, cold), U: gas.Energy(cold)})
	n.Flows = append(n.Flows, network.Flow{Name: "exit", From: cells - 1, To: n.ReservoirNode(1), Law: flow.NewNozzle(gas),
		Opening: network.Opening{Leak: 0.02 * math.Pi / 4 * pipeBore * pipeBore, Part: -1}})
	require.NoError(t, n.Compile())
	r, err := sim.New(n, n.Start(), sim.Settings{RelTol: 1e-7})
	require.NoError(t, err)
	coldest := hot
	for _, at := range []float64{0.5, 1, 1.5, 2, 3, 4, 6} {
		require.NoError(t, r.Finish(at))
		s := r.State()
		look := n.Look(s.T, s.Y, s.Modes)
		last := cold
		for i := range cells {
			x := look.Nodes[i].T
			assert.GreaterOrEqual(t, x, last-1, "cell %d at %g s", i+1, at)
			assert.Less(t, x, hot+10, "cell %d at %g s", i+1, at)
			last = x
		}
		coldest = look.Nodes[cells/2].T
	}
	assert.Less(t, coldest, hot-50, "the front has passed the middle")
}
