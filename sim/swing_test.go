package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim"
	"underdisc/sim/method"
	"underdisc/sim/simtest"
)

// chain is a row of n masses joined by springs, as pressures and flows in a pipe
// are: every p between two flows w. It hangs on a source, which fades with the
// rate fade, and leaks at its end. Its fastest mode swings with 2c, and every flow
// decays with the rate decay.
func chain(n int, c, fade, decay, leak float64) simtest.Problem {
	p := func(i int) int { return 1 + 2*i }
	w := func(i int) int { return 2 + 2*i }
	o := &simtest.ODE{}
	o.Lay.Vars, o.Lay.Scales = []string{"source"}, []float64{1}
	for i := range n {
		o.Lay.Vars = append(o.Lay.Vars, fmt.Sprint("p", i), fmt.Sprint("w", i))
		o.Lay.Scales = append(o.Lay.Scales, 1, 1)
	}
	// Every slope is constant: rows of (column, slope).
	slopes := map[method.Entry]float64{{Row: 0, Col: 0}: -fade}
	for i := range n {
		// w(i) flows into p(i) from the source or from p(i-1).
		before := 0
		if i > 0 {
			before = p(i - 1)
			slopes[method.Entry{Row: p(i - 1), Col: w(i)}] = -c
		}
		slopes[method.Entry{Row: w(i), Col: before}] = c
		slopes[method.Entry{Row: w(i), Col: p(i)}] = -c
		slopes[method.Entry{Row: w(i), Col: w(i)}] = -decay
		slopes[method.Entry{Row: p(i), Col: w(i)}] = c
	}
	slopes[method.Entry{Row: p(n - 1), Col: p(n - 1)}] = -leak
	for row := range o.Lay.Vars {
		for col := range o.Lay.Vars {
			if _, ok := slopes[method.Entry{Row: row, Col: col}]; ok {
				o.Lay.Entries = append(o.Lay.Entries, method.Entry{Row: row, Col: col})
			}
		}
	}
	o.F = func(_ float64, y, dy, _ []float64) {
		clear(dy)
		for _, e := range o.Lay.Entries {
			dy[e.Row] += slopes[e] * y[e.Col]
		}
	}
	o.J = func(_ float64, _, elements []float64) {
		for k, e := range o.Lay.Entries {
			elements[k] = slopes[e]
		}
	}
	s := o.Lay.NewState(0)
	s.Y[0] = 1
	for i := range n {
		s.Y[p(i)] = 1
	}
	return simtest.Problem{Name: "chain", System: o, Start: s}
}

// TestSwingingModesAreLetGo: once what swings has decayed, a chain follows its
// source, and steps must grow with that. Explicit ones cannot: at the limit of
// their stability, which modes that swing meet long before those that decay, they
// keep alive what would die. Stability would hold them to about 2/(2c).
func TestSwingingModesAreLetGo(t *testing.T) {
	for _, rtol := range []float64{1e-4, 1e-5, 1e-6, 1e-8} {
		t.Run(fmt.Sprint("rtol ", rtol), func(t *testing.T) {
			p := chain(10, 800, 0.05, 20, 100)
			p.End = 20
			r := finish(t, p, sim.Settings{RelTol: rtol})
			st := r.Stats()
			t.Logf("%+v", st)
			assert.InEpsilon(t, math.Exp(-1), r.State().Y[0], 100*rtol)
			assert.False(t, r.Checkpoint().Control.Explicit)
			assert.Less(t, st.Steps, 3000, "explicit steps would be more than 10000")
		})
	}
}

// TestSwingingModesAreFollowed: a chain that goes on swinging is for the explicit
// method, whose steps are as long and cheaper.
func TestSwingingModesAreFollowed(t *testing.T) {
	p := chain(10, 800, 0, 0, 0)
	p.End = 0.5
	for i := range p.Start.Y {
		p.Start.Y[i] = math.Sin(float64(i * i))
	}
	r := finish(t, p, sim.Settings{RelTol: 1e-6})
	st := r.Stats()
	t.Logf("%+v", st)
	assert.Greater(t, st.Explicit, st.Steps*8/10)
}

// TestDecayOfTheLastStages: of x' = -a x + b y, y' = -b x - a y, whose eigenvalues
// are -a +- ib, the stages see size and real part exactly.
func TestDecayOfTheLastStages(t *testing.T) {
	for _, c := range []struct{ a, b float64 }{{0, 3}, {1, 3}, {3, 1}, {2, 0}, {-0.5, 2}} {
		o := &simtest.ODE{F: func(_ float64, y, dy, _ []float64) {
			dy[0], dy[1] = -c.a*y[0]+c.b*y[1], -c.b*y[0]-c.a*y[1]
		}}
		tol := &method.Tolerance{Rel: 1e-6, Scale: []float64{1, 1}, Active: []bool{true, true}}
		d := method.NewDopri5(2, 0, tol)
		y, f := []float64{1, 0.3}, make([]float64, 2)
		o.F(0, y, f, nil)
		d.Start(field{o}, 0, y, f, nil)
		const h = 0.25
		require.False(t, math.IsInf(d.Try(h, make([]float64, 2)), 0))
		assert.InDelta(t, h*math.Hypot(c.a, c.b), d.Stiffness(), 1e-9, "%+v", c)
		assert.InDelta(t, h*c.a, d.Decay(), 1e-9, "%+v", c)
	}
}

// field is an ODE as a method sees it.
type field struct{ *simtest.ODE }

func (f field) Derivative(t float64, y, dy, dq []float64) { f.F(t, y, dy, dq) }
func (f field) Jacobian(t float64, y, e []float64)        { f.J(t, y, e) }
