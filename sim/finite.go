package sim

import (
	"fmt"
	"math"
)

// NonFinite ends a run whose solution left the numbers.
type NonFinite struct {
	T          float64
	Var        string // variable, entry of the ledger or guard
	Value      float64
	Derivative bool
	Modes      string
}

func (e *NonFinite) Error() string {
	what := "value"
	if e.Derivative {
		what = "derivative"
	}
	return fmt.Sprintf("the %s of %s became %g at %.9g s (modes %s)", what, e.Var, e.Value, e.T, e.Modes)
}

// finite returns an error that names time, variable and modes if the state or
// its derivative is not finite, or a guard not a number.
func (r *Run) finite(t float64, y, f, g []float64) error {
	sum := 0.0
	for i := range y {
		sum += 0*y[i] + 0*f[i]
	}
	for _, v := range g {
		if v != v {
			sum = v
		}
	}
	if sum == 0 {
		return nil
	}
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for i, v := range y {
		if bad(v) {
			return &NonFinite{T: t, Var: r.lay.Vars[i], Value: v, Modes: r.modeText()}
		}
	}
	for i, v := range f {
		if bad(v) {
			return &NonFinite{T: t, Var: r.lay.Vars[i], Value: v, Derivative: true, Modes: r.modeText()}
		}
	}
	for i, v := range g {
		if v != v {
			return &NonFinite{T: t, Var: r.lay.Guards[i], Value: v, Modes: r.modeText()}
		}
	}
	return nil
}

// finiteLedger does the same for the increments of the quadratures.
func (r *Run) finiteLedger(t float64) error {
	for i, d := range r.inc {
		if math.IsNaN(d) || math.IsInf(d, 0) {
			return &NonFinite{T: t, Var: r.lay.Ledger[i], Value: d, Modes: r.modeText()}
		}
	}
	return nil
}

func (r *Run) modeText() string {
	text := ""
	for i, m := range r.s.Modes {
		if i > 0 {
			text += " "
		}
		text += fmt.Sprintf("%s=%d", r.lay.Modes[i], m)
	}
	return text
}
