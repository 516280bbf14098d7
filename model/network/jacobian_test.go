package network_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/sim/method"
)

// regime is how the pressures of a random state lie.
type regime struct {
	name string
	// ratio draws the pressure of a volume over that of the first one.
	ratio func(t *rapid.T, label string) float64
}

var regimes = []regime{
	// In steps that are coarse beside what sets equal pressures apart.
	{"any", func(t *rapid.T, label string) float64 {
		return math.Exp(float64(rapid.IntRange(-192, 64).Draw(t, label)) / 64)
	}},
	// As in a shut valve: differences on both sides of the one below which the
	// nozzle's law is smoothed, in both directions.
	{"nearly equal", func(t *rapid.T, label string) float64 {
		return 1 - rapid.SampledFrom([]float64{-2e-2, -2e-3, -5e-4, -1e-4, 1e-4, 5e-4, 2e-3, 2e-2}).Draw(t, label)
	}},
	{"choked", func(t *rapid.T, label string) float64 { return float64(rapid.IntRange(5, 50).Draw(t, label)) / 100 }},
	{"reversed", func(t *rapid.T, label string) float64 { return float64(rapid.IntRange(21, 80).Draw(t, label)) / 20 }},
}

// drawState draws a state of the model in the regime: any temperatures, lifts
// from a micrometre up, speeds of either sign, every mode that the laws of
// friction allow.
func drawState(t *rapid.T, m *plant.Model, g regime) ([]float64, []int8) {
	n := m.Net
	lay := n.Layout()
	s := n.Start()
	at := func(name string) int { return slices.Index(lay.Vars, name) }
	for i := range n.Movers {
		mv := &n.Movers[i]
		modes := []int8{network.HeldLow, network.HeldHigh, network.Free}
		if mv.Law == network.Sticking {
			modes = []int8{network.HeldLow, network.HeldHigh, network.Stuck, network.Rising, network.Falling}
		}
		if mv.Seat != nil {
			modes = modes[1:] // it has no lower stop
		}
		mode := rapid.SampledFrom(modes).Draw(t, mv.Name+" mode")
		s.Modes[slices.Index(lay.Modes, mv.Name)] = mode
		x := mv.Travel * math.Exp(rapid.Float64Range(-9, -0.01).Draw(t, mv.Name+" lift"))
		v := math.Exp(rapid.Float64Range(-9, 1).Draw(t, mv.Name+" speed"))
		switch mode {
		case network.HeldLow:
			x, v = 0, 0
		case network.HeldHigh:
			x, v = mv.Travel, 0
		case network.Stuck:
			v = 0
			if mv.Seat != nil && rapid.Bool().Draw(t, "shut") {
				x *= -1e-3
			}
		case network.Falling:
			v = -v
		case network.Free:
			v *= rapid.SampledFrom([]float64{-1, 1}).Draw(t, mv.Name+" direction")
			if mv.Seat != nil && rapid.Bool().Draw(t, "shut") {
				x *= -1e-3
			}
		}
		s.Y[at(mv.Name+".position")], s.Y[at(mv.Name+".speed")] = x, v
	}
	if m.Water != nil {
		drawSteam(t, m, g, s.Y, n.Look(0, s.Y, s.Modes))
		drawRest(t, n, &s)
		return s.Y, s.Modes
	}
	base := 1e5 * math.Exp(rapid.Float64Range(0, 3).Draw(t, "pressure"))
	look := n.Look(0, s.Y, s.Modes) // for the volumes where the parts stand
	for i := range n.Volumes {
		name := n.Volumes[i].Name
		// No two pressures are quite equal: there the temperature that a flow
		// carries jumps from one side's to the other's.
		p := base * (1 + 3e-5*float64(i))
		if i > 0 {
			p *= g.ratio(t, "pressure of "+name)
		}
		temperature := rapid.Float64Range(220, 450).Draw(t, "temperature of "+name)
		mass := look.Nodes[i].V / m.Gas.Volume(p, temperature)
		s.Y[at(name+".mass")], s.Y[at(name+".energy")] = mass, mass*m.Gas.Energy(temperature)
	}
	drawFlows(t, n, s.Y)
	drawRest(t, n, &s)
	return s.Y, s.Modes
}

// drawRest draws currents, walls and relays.
func drawRest(t *rapid.T, n *network.Network, s *sim.State) {
	lay := n.Layout()
	at := func(name string) int { return slices.Index(lay.Vars, name) }
	for i := range n.Coils {
		s.Y[at(n.Coils[i].Name+".current")] = rapid.Float64Range(0.01, 3).Draw(t, "current")
	}
	for i := range n.Walls {
		s.Y[at(n.Walls[i].Name+".temperature")] = rapid.Float64Range(250, 500).Draw(t, "wall")
	}
	drawControl(t, n, s)
	for i := range n.Relays {
		s.Modes[slices.Index(lay.Modes, n.Relays[i].Name)] = rapid.SampledFrom([]int8{network.RelayOff, network.RelayOn}).Draw(t, "relay")
	}
}

// units are what the steps of the differences are measured in: masses,
// energies and lifts by themselves, since they enter as ratios; the others by
// their scale where they are smaller.
func units(n *network.Network, y []float64, modes []int8) []float64 {
	lay := n.Layout()
	u := make([]float64, len(y))
	for i, name := range lay.Vars {
		u[i] = math.Abs(y[i])
		ratio := strings.HasSuffix(name, ".mass") || strings.HasSuffix(name, ".energy") || strings.HasSuffix(name, ".position")
		if !ratio || u[i] == 0 {
			u[i] = max(u[i], lay.Scales[i])
		}
		if strings.HasSuffix(name, ".debris") {
			u[i] = 3e-6
		}
	}
	look := n.Look(0, y, modes)
	for i := range n.Volumes {
		// Where water is stiff, the step is one of pressure.
		v := &n.Volumes[i]
		m, e := slices.Index(lay.Vars, v.Name+".mass"), slices.Index(lay.Vars, v.Name+".energy")
		var s fluid.State
		v.Fluid.At(look.Nodes[i].V/y[m], y[e]/y[m], &s)
		u[m] /= max(1, math.Abs(s.Pv*s.V/s.P)+math.Abs(s.Pu*s.U/s.P))
		u[e] /= max(1, math.Abs(s.Pu*s.U/s.P))
		for k := range n.Movers {
			// A face of 40 cm2 squeezes it.
			x := slices.Index(lay.Vars, n.Movers[k].Name+".position")
			u[x] = min(u[x], look.Nodes[i].V/4e-3*s.P/math.Abs(s.Pv*s.V))
		}
	}
	return u
}

// magnitudes are the sizes of the terms that each row is the sum of: what
// rounding is relative to.
func magnitudes(n *network.Network, y []float64, modes []int8) []float64 {
	lay := n.Layout()
	nv, nq := len(lay.Vars), len(lay.Ledger)
	dy, dq := make([]float64, nv), make([]float64, nq)
	n.Derivative(0, y, modes, dy, dq)
	flow, power := 0.0, 0.0
	for i, q := range dq {
		if strings.HasSuffix(lay.Ledger[i], ".mass") {
			flow = max(flow, math.Abs(q))
		} else {
			power = max(power, math.Abs(q))
		}
	}
	out := make([]float64, nv+nq)
	for r := range out {
		switch name := row(lay, r); {
		case strings.HasSuffix(name, ".wear"):
			out[r] = 10
		case strings.HasSuffix(name, ".output"), strings.HasSuffix(name, ".integral"), strings.HasSuffix(name, ".heat"):
			out[r] = lay.Scales[r] // a second of it
		case r < nv && n.Units()[r] == "Pa":
			out[r] = y[r] / n.Sensors[0].Lag
		case r < nv && n.Units()[r] == "K":
			out[r] = power / n.Walls[0].HeatCapacity
		case r < nv && n.Units()[r] == "m/s":
			for i, k := range n.Look(0, y, modes).Movers {
				if name == k.Name+".speed" {
					for _, f := range append(k.Faces, k.Spring, k.Pull, k.SeatLoad, k.Push, k.Lever, k.Past.Force) {
						out[r] = max(out[r], math.Abs(f)/n.Movers[i].Mass)
					}
				}
			}
		case strings.HasSuffix(name, ".mass"), strings.HasSuffix(name, ".air"):
			out[r] = flow
		case strings.HasSuffix(name, ".flow"):
			out[r] = 1e7 * n.Channels[0].Area / n.Channels[0].Length
		case strings.HasSuffix(name, ".energy") || r >= nv:
			out[r] = power
		}
	}
	return out
}

// Every element of the Jacobian, those of the ledger's rows included, against
// central differences, by the size of its row.
func TestJacobian(t *testing.T) {
	for _, b := range benches {
		for _, g := range regimes {
			t.Run(b.name+" "+g.name, func(t *testing.T) {
				m := build(t, b.plant())
				rapid.Check(t, func(t *rapid.T) {
					y, modes := drawState(t, m, g)
					compareJacobian(t, m.Net, y, modes)
				})
			})
		}
	}
}

func compareJacobian(t *rapid.T, n *network.Network, y []float64, modes []int8) {
	step := 2e-7  // the smallest pressure difference is 150 times that
	limit := 1e-6 // of the row's largest element
	if len(n.Walls) > 1 {
		// Steam's properties come by iteration, to some 1e-11, and pressures lie
		// further apart.
		step, limit = 1e-5, 3e-4
	}
	for i := range n.Movers {
		if len(n.Walls) > 1 && n.Movers[i].Seat != nil {
			// Its draws reach states of drains where the slopes of the water's nozzle,
			// which are those of splines, are off by a thousandth.
			limit = 2e-3
		}
	}
	noise := 10 * 2.2e-16 / step // rounding of the differences
	if len(n.Walls) > 1 {
		noise = 1e-12 / step
	}
	lay := n.Layout()
	nv, nq := len(lay.Vars), len(lay.Ledger)
	u := units(n, y, modes)
	elements := make([]float64, len(lay.Entries))
	n.Jacobian(0, y, modes, elements)
	exact := mat.NewDense(nv+nq, nv, nil)
	for k, e := range lay.Entries {
		exact.Set(e.Row, e.Col, elements[k]*u[e.Col])
	}
	at := make([]float64, nv)
	differences := mat.NewDense(nv+nq, nv, nil)
	fd.Jacobian(differences, func(f, z []float64) {
		for i := range at {
			at[i] = y[i] + z[i]*u[i]
		}
		n.Derivative(0, at, modes, f[:nv], f[nv:])
	}, make([]float64, nv), &fd.JacobianSettings{Formula: fd.Central, Step: step})

	moving := make([]bool, nv)
	n.Moving(modes, moving)
	terms := magnitudes(n, y, modes)
	for r := range nv + nq {
		size := 0.0
		for c := range nv {
			if moving[c] {
				size = max(size, math.Abs(exact.At(r, c)), math.Abs(differences.At(r, c)))
			}
		}
		for c := range nv {
			d, e := differences.At(r, c), exact.At(r, c)
			switch {
			case !moving[c]:
				// What stands still is no variable in this mode.
			case r < nv && !moving[r] && e != 0:
				t.Fatalf("d %s/d %s is %g although it stands still", row(lay, r), lay.Vars[c], e)
			case !(math.Abs(d-e) <= limit*size+noise*terms[r]):
				t.Fatalf("d %s/d %s x %g: %g, by differences %g; the row's size %g, its terms' %g", row(lay, r), lay.Vars[c], u[c], e, d, size, terms[r])
			}
		}
	}
}

func row(lay *sim.Layout, r int) string {
	if n := len(lay.Vars); r >= n {
		return lay.Ledger[r-n]
	}
	return lay.Vars[r]
}

// Each element has a place of its own: the solver would add two.
func TestJacobianEntriesAreUnique(t *testing.T) {
	for _, b := range benches {
		seen := map[method.Entry]bool{}
		for _, e := range build(t, b.plant()).Net.Layout().Entries {
			assert.False(t, seen[e], "%s: %v", b.name, e)
			seen[e] = true
		}
	}
}
