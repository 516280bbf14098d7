package simtest_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/sim"
	"underdisc/sim/simtest"
)

// state is a state of a system to look at its derivatives in.
type state struct {
	name  string
	sys   sim.System
	t     float64
	y     []float64
	modes []sim.Mode
}

func states() []state {
	ball, plant := simtest.NewBall(1e-3), simtest.NewPlant()
	orbit, forced := simtest.Kepler(), simtest.Forced()
	return []state{
		{"ROBER", simtest.Rober(40).System, 0, []float64{0.7, 1e-5, 0.3}, nil},
		{"HIRES", simtest.Hires().System, 0, []float64{0.7, 0.2, 0.1, 0.4, 0.2, 0.5, 0.6, 0.3}, nil},
		{"VDPOL", simtest.Vdpol().System, 0, []float64{1.7, -0.9}, nil},
		{"Kepler", orbit.System, 0, orbit.Exact(1.1), nil},
		{"forced", forced.System, 1.1, forced.Exact(1.1), nil},
		{"exchange", simtest.Exchange(false).System, 0, []float64{0.9, 0.5, 0.3}, nil},
		{"draining", simtest.Draining().System, 0, []float64{0.4}, nil},
		{"blow-up", simtest.BlowUp().System, 0, []float64{1.4}, nil},
		{"rotor", simtest.Rotor(3), 0, []float64{0.4, 0.7}, nil},
		{"pushed", simtest.Pushed(30), 0, []float64{0.4, 0.7, 0.9}, nil},
		{"ball rising", ball, 0, []float64{2, 3}, []sim.Mode{simtest.BallRising}},
		{"ball falling", ball, 0, []float64{2, -3}, []sim.Mode{simtest.BallFalling}},
		{"ball resting", ball, 0, []float64{0, 0}, []sim.Mode{simtest.BallResting}},
		{"oscillator", simtest.NewOscillator(), 0, []float64{0.1, 0.6}, []sim.Mode{0}},
		{"coil", simtest.NewCoil(), 0, []float64{1.1}, []sim.Mode{1, 0}},
		{"pump", simtest.NewPump(), 0, []float64{1.1}, []sim.Mode{1, 0}},
		{"plant, gate moving", plant, 0.4, []float64{1.4, 1.3, 0.3, -2, 0.8, 1.35}, []sim.Mode{simtest.GateMoving, 1, 1}},
		{"plant, gate open", plant, 0.4, []float64{1.4, 1.3, 1, 0, 0.8, 1.35}, []sim.Mode{simtest.GateOpen, 1, 1}},
	}
}

// rates are dy and dq in one.
func (s state) rates(t float64, y []float64) []float64 {
	n := len(y)
	out := make([]float64, n+len(s.sys.Layout().Ledger))
	s.sys.Derivative(t, y, s.modes, out[:n], out[n:])
	return out
}

// Every Jacobian and time derivative against central differences, every frozen
// variable against its rate; an element that the layout leaves out is zero.
func TestDerivatives(t *testing.T) {
	for _, s := range states() {
		t.Run(s.name, func(t *testing.T) {
			n, entries := len(s.y), s.sys.Layout().Entries
			e := make([]float64, len(entries))
			s.sys.Jacobian(s.t, s.y, s.modes, e)
			at := map[[2]int]float64{}
			for i, en := range entries {
				at[[2]int{en.Row, en.Col}] += e[i]
			}
			for col, v := range s.y {
				d := 1e-6 * max(math.Abs(v), 1e-3)
				up, down := slices.Clone(s.y), slices.Clone(s.y)
				up[col], down[col] = v+d, v-d
				a, b := s.rates(s.t, up), s.rates(s.t, down)
				for row := range a {
					want := (a[row] - b[row]) / (2 * d)
					// Rounding of the rates, and the third derivative.
					within := 1e-7*math.Abs(want) + 1e-15*math.Abs(a[row])/d + 1e-9
					assert.InDelta(t, want, at[[2]int{row, col}], within, "row %d, column %d", row, col)
				}
			}
			moving := make([]bool, n)
			s.sys.Moving(s.modes, moving)
			for i, r := range s.rates(s.t, s.y)[:n] {
				if !moving[i] {
					assert.Zero(t, r, "variable %d", i)
				}
			}
			d := 1e-5
			a, b := s.rates(s.t+d, s.y), s.rates(s.t-d, s.y)
			ft := make([]float64, len(a))
			if timed, ok := s.sys.(sim.TimeSystem); ok {
				timed.TimeDerivative(s.t, s.y, s.modes, ft[:n], ft[n:])
			}
			for i := range a {
				assert.InDelta(t, (a[i]-b[i])/(2*d), ft[i], 1e-7*math.Abs(ft[i])+1e-8, "time derivative of %d", i)
			}
		})
	}
}

// The closed forms solve their equations.
func TestClosedForms(t *testing.T) {
	for _, p := range []simtest.Problem{simtest.Kepler(), simtest.Forced(), simtest.Draining(), simtest.BlowUp()} {
		t.Run(p.Name, func(t *testing.T) {
			assert.InDeltaSlice(t, p.Start.Y, p.Exact(0), 1e-15)
			for _, at := range []float64{0.1, 0.5, 0.9} {
				d := 1e-5
				a, b := p.Exact(at+d), p.Exact(at-d)
				dy, dq := make([]float64, len(a)), make([]float64, len(p.Start.Q))
				p.System.Derivative(at, p.Exact(at), nil, dy, dq)
				for i := range dy {
					assert.InDelta(t, (a[i]-b[i])/(2*d), dy[i], 1e-6*max(1, math.Abs(dy[i])), "variable %d", i)
				}
				if p.Ledger == nil {
					continue
				}
				qa, qb := p.Ledger(at+d, nil), p.Ledger(at-d, nil)
				for i := range dq {
					assert.InDelta(t, (qa[i]-qb[i])/(2*d), dq[i], 1e-6, "quadrature %d", i)
				}
			}
		})
	}
}
