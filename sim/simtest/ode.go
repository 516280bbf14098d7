package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Problem is a system, where it starts and what is known of its solution.
type Problem struct {
	Name   string
	Source string // of the answer, with how far to trust it
	System sim.System
	Start  sim.State
	End    float64
	Want   []float64                                  // variables at End
	Exact  func(t float64) (y []float64)              // nil where no closed form is known
	Ledger func(t float64, y []float64) (q []float64) // closed form of the quadratures, nil if unknown
}

// ODE is a system without modes, guards or timers.
type ODE struct {
	Lay sim.Layout
	F   func(t float64, y, dy, dq []float64)
	J   func(t float64, y, elements []float64)
	// Frozen lists variables that do not move.
	Frozen []int
}

// Layout implements sim.System.
func (o *ODE) Layout() *sim.Layout { return &o.Lay }

// Derivative implements sim.System.
func (o *ODE) Derivative(t float64, y []float64, _ []sim.Mode, dy, dq []float64) { o.F(t, y, dy, dq) }

// Jacobian implements sim.System.
func (o *ODE) Jacobian(t float64, y []float64, _ []sim.Mode, e []float64) { o.J(t, y, e) }

// Moving implements sim.System.
func (o *ODE) Moving(_ []sim.Mode, moving []bool) {
	for i := range moving {
		moving[i] = true
	}
	for _, i := range o.Frozen {
		moving[i] = false
	}
}

// Guards implements sim.System.
func (o *ODE) Guards(float64, []float64, []sim.Mode, []float64) {}

// Cross implements sim.System.
func (o *ODE) Cross(int, *sim.State, sim.Report) {}

// Expire implements sim.System.
func (o *ODE) Expire(int, *sim.State, sim.Report) {}

// Begin implements sim.System.
func (o *ODE) Begin(*sim.State, sim.Report) {}

// TimedODE is an ODE whose right side depends on the time.
type TimedODE struct {
	ODE
	Ft func(t float64, y, dft, dgt []float64)
}

// TimeDerivative implements sim.TimeSystem.
func (o *TimedODE) TimeDerivative(t float64, y []float64, _ []sim.Mode, dft, dgt []float64) {
	o.Ft(t, y, dft, dgt)
}

// start makes a state of the layout with the given variables.
func start(lay *sim.Layout, t float64, y ...float64) sim.State {
	s := lay.NewState(t)
	copy(s.Y, y)
	return s
}

// names makes n variable names y1, y2...
func names(prefix string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = prefix + string(rune('1'+i))
	}
	return out
}

// scales makes n scales of the same size.
func scales(n int, size float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = size
	}
	return out
}

// field is a System in fixed modes, as the methods take it.
type field struct {
	sys   sim.System
	modes []sim.Mode
}

func (f field) Derivative(t float64, y, dy, dq []float64) {
	f.sys.Derivative(t, y, f.modes, dy, dq)
}
func (f field) Jacobian(t float64, y, e []float64) { f.sys.Jacobian(t, y, f.modes, e) }

type timedField struct {
	field
	timed sim.TimeSystem
}

func (f timedField) TimeDerivative(t float64, y, dft, dgt []float64) {
	f.timed.TimeDerivative(t, y, f.modes, dft, dgt)
}

// Field is the system in the modes of s, for tests that drive a method
// without the engine.
func Field(sys sim.System, s sim.State) method.Field {
	f := field{sys, s.Modes}
	if timed, ok := sys.(sim.TimeSystem); ok {
		return timedField{f, timed}
	}
	return f
}

// RelativeError is the largest error of y against want, each relative to
// want's own size; where want is zero the error counts as it is.
func RelativeError(y, want []float64) float64 {
	worst := 0.0
	for i, w := range want {
		e := math.Abs(y[i] - w)
		if w != 0 {
			e /= math.Abs(w)
		}
		worst = max(worst, e)
	}
	return worst
}
