package network_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
				n := pipe(c.f, c.v, c.u, cells, 0, func(x float64) float64 { return 20 * math.Sin(math.Pi*x/(2*pipeLength)) })
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
