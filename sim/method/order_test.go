package method_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim/method"
	"underdisc/sim/simtest"
)

// The orders that the sources state: of the step, and of the dense output
// inside it.
var stated = []struct {
	name          string
	step, between float64
	make          func(n, nq int, entries []method.Entry, tol *method.Tolerance) method.Stepper
}{
	{"rodas4", 4, 3, func(n, nq int, e []method.Entry, tol *method.Tolerance) method.Stepper {
		return method.NewRodas4(n, nq, e, tol)
	}},
	{"dopri5", 5, 4, func(n, nq int, _ []method.Entry, tol *method.Tolerance) method.Stepper {
		return method.NewDopri5(n, nq, tol)
	}},
}

func smooth() []simtest.Problem { return []simtest.Problem{simtest.Kepler(), simtest.Forced()} }

// noise is the error below which rounding hides the order.
const noise = 1e-11

// requireOrder asserts that the errors, each made with half the step of the
// one before, fall with the order, on average over the last two halvings
// before rounding shows.
func requireOrder(t *testing.T, errors []float64, order float64, what string) {
	t.Helper()
	for i, e := range errors {
		if e < noise {
			errors = errors[:i]
			break
		}
	}
	seen := simtest.Orders(errors)
	require.GreaterOrEqual(t, len(seen), 3, "%s: too few errors above rounding: %.2g", what, errors)
	assert.InDelta(t, order+0.2, (seen[len(seen)-1]+seen[len(seen)-2])/2, 0.6, "%s: errors %.2g, orders %.2f", what, errors, seen)
}

func TestOrderOfStepAndLedger(t *testing.T) {
	for _, m := range stated {
		for _, p := range smooth() {
			t.Run(fmt.Sprint(m.name, " ", p.Name), func(t *testing.T) {
				n, nq := len(p.Start.Y), len(p.Start.Q)
				st := m.make(n, nq, p.System.Layout().Entries, simtest.Loose(n))
				assert.Equal(t, int(m.step), st.Order())
				var inY []float64
				inQ := make([][]float64, nq)
				for k := 24; k <= 1536; k *= 2 {
					y, q := simtest.March(p, st, k)
					inY = append(inY, simtest.Distance(y, p.Want))
					for i, want := range p.Ledger(p.End, p.Want) {
						inQ[i] = append(inQ[i], simtest.Distance(q[i:i+1], []float64{want}))
					}
				}
				requireOrder(t, inY, m.step, "variables")
				for i, e := range inQ {
					requireOrder(t, e, m.step, p.System.Layout().Ledger[i])
				}
			})
		}
	}
}

// One step from the exact solution: the error inside it falls with one order
// more than the interpolant's.
func TestOrderOfDenseOutput(t *testing.T) {
	for _, m := range stated {
		for _, p := range smooth() {
			t.Run(fmt.Sprint(m.name, " ", p.Name), func(t *testing.T) {
				n := len(p.Start.Y)
				st := m.make(n, len(p.Start.Q), p.System.Layout().Entries, simtest.Loose(n))
				var e []float64
				for h := 0.2; h > 0.005; h /= 2 {
					e = append(e, simtest.Between(p, st, 0.9, h))
				}
				requireOrder(t, e, m.between+1, "dense output")
			})
		}
	}
}

// The slope of the dense output against differences of it, and at both ends
// against the derivative, which the explicit method meets exactly.
func TestSlope(t *testing.T) {
	for _, m := range stated {
		t.Run(m.name, func(t *testing.T) {
			p := simtest.Forced()
			n, nq := len(p.Start.Y), len(p.Start.Q)
			st := m.make(n, nq, p.System.Layout().Entries, simtest.Loose(n))
			fld := simtest.Field(p.System, p.Start)
			const at, h = 0.9, 0.1
			y0, y1, f0, f1, q := p.Exact(at), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, nq)
			fld.Derivative(at, y0, f0, q)
			st.Start(fld, at, y0, f0, q)
			st.Try(h, y1)
			c, a, b, slope := make([]float64, 5*n), make([]float64, n), make([]float64, n), make([]float64, n)
			st.Dense(y1, c)
			for _, s := range []float64{0.1, 0.5, 0.8} {
				method.Slope(c, s, h, slope)
				method.Eval(c, s+1e-5, a)
				method.Eval(c, s-1e-5, b)
				for i := range slope {
					assert.InDelta(t, (a[i]-b[i])/(2e-5*h), slope[i], 1e-7, "s %g, variable %d", s, i)
				}
			}
			if m.name == "dopri5" {
				fld.Derivative(at+h, y1, f1, q)
				for s, f := range map[float64][]float64{0: f0, 1: f1} {
					method.Slope(c, s, h, slope)
					assert.InDeltaSlice(t, f, slope, 1e-11)
				}
			}
		})
	}
}
