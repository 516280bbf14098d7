package sim

import (
	"math"
	"slices"

	"underdisc/sim/method"
)

// Mode is the discrete state of one part: a small number whose meaning is the
// System's.
type Mode = int8

// Layout names what a State holds. It must not change while a System lives.
type Layout struct {
	Vars    []string  // continuous variables
	Scales  []float64 // size below which a variable's error is absolute, >0
	Ledger  []string  // quadratures: integrated beside the variables, never acting back
	Modes   []string  // parts with a discrete state
	Timers  []string
	Guards  []string
	Entries []method.Entry // elements of the Jacobian; rows from len(Vars) on are the quadratures'
}

// sameLayout tells whether states of one layout are states of the other; only
// the scales may differ.
func sameLayout(a, b *Layout) bool {
	return slices.Equal(a.Vars, b.Vars) && slices.Equal(a.Ledger, b.Ledger) &&
		slices.Equal(a.Modes, b.Modes) && slices.Equal(a.Timers, b.Timers) && slices.Equal(a.Guards, b.Guards) &&
		slices.Equal(a.Entries, b.Entries)
}

// State is everything that evolves.
type State struct {
	T      float64
	Y      []float64 // continuous variables
	Q      []float64 // quadratures
	Modes  []Mode
	Timers []float64 // due times; +Inf: not running
}

// NewState makes a state of the layout's sizes at t, all zero, no timer running.
func (l *Layout) NewState(t float64) State {
	s := State{T: t, Y: make([]float64, len(l.Vars)), Q: make([]float64, len(l.Ledger)),
		Modes: make([]Mode, len(l.Modes)), Timers: make([]float64, len(l.Timers))}
	for i := range s.Timers {
		s.Timers[i] = math.Inf(1)
	}
	return s
}

// Clone makes an independent copy.
func (s State) Clone() State {
	return State{T: s.T, Y: slices.Clone(s.Y), Q: slices.Clone(s.Q), Modes: slices.Clone(s.Modes), Timers: slices.Clone(s.Timers)}
}

func (s *State) set(from *State) {
	s.T = from.T
	copy(s.Y, from.Y)
	copy(s.Q, from.Q)
	copy(s.Modes, from.Modes)
	copy(s.Timers, from.Timers)
}

// Report takes the named events that a handler wants on record.
type Report func(name, part string)

// Judge is what a System may also be: one that says how large the error e of the
// variables y is in what follows from them, as a share of its size. Steps are
// held to the larger of this and the variables' own.
type Judge interface {
	Judge(e, y []float64) float64
}

// Bounds is what a System may also be: one whose equations hold within limits
// only. Trial steps may go beyond them; a step that ends there ends the run with
// the error.
type Bounds interface {
	Within(t float64, y []float64) error
}

// System is one description of what obeys which equations. Its methods are
// pure functions of their arguments (scratch apart): one System serves one
// goroutine at a time.
//
// Guards are oriented by the mode: a guard is positive while its mode may
// last; the event is its crossing to zero or below. A guard that does not
// apply is +Inf. When Cross is called, the guard is zero or below it by
// rounding; Cross must leave it at zero or above, by another mode or by putting
// the state where the guard is zero. A guard that is exactly zero after an
// event (a part that leaves its stop) counts as leaving.
type System interface {
	Layout() *Layout
	// Derivative writes dy/dt and the rates of the quadratures. A state
	// outside the domain yields non-finite derivatives.
	Derivative(t float64, y []float64, modes []Mode, dy, dq []float64)
	// Jacobian writes the elements in the order of Layout.Entries.
	Jacobian(t float64, y []float64, modes []Mode, elements []float64)
	// Moving tells which variables can change in these modes: the rows of
	// the others are zero.
	Moving(modes []Mode, moving []bool)
	// Guards writes the value of every guard.
	Guards(t float64, y []float64, modes []Mode, g []float64)
	// Cross handles the crossing of a guard, Expire that of a timer (which
	// has been stopped before the call). Both change s in place.
	Cross(guard int, s *State, report Report)
	Expire(timer int, s *State, report Report)
	// Begin is called when the system takes over a state: at the start and
	// after a command. It sets modes and timers that follow from parameters.
	Begin(s *State, report Report)
}

// Event is one entry of a run's record.
type Event struct {
	T             float64
	Name, Part    string
	Interval      int       // which system was in force
	Before, After []float64 // continuous variables on both sides
	From, To      []Mode    // modes on both sides
}

// Command changes the run at a time of its own. Do receives the state there,
// which it may alter (quadratures, say), and the system in force; it returns
// the system from there on, or nil to keep the present one. It must be a pure
// function of the two, so that a replay does the same.
type Command struct {
	T    float64
	Name string
	Do   func(s *State, in System) (System, error)
}

// bound is a System in given modes, as the methods see it.
type bound struct {
	sys   System
	modes []Mode
	calls int
}

func (b *bound) Derivative(t float64, y, dy, dq []float64) {
	b.calls++
	b.sys.Derivative(t, y, b.modes, dy, dq)
}

func (b *bound) Jacobian(t float64, y, e []float64) { b.sys.Jacobian(t, y, b.modes, e) }

// TimeSystem is a System whose right side depends on t itself.
type TimeSystem interface {
	System
	// TimeDerivative writes the partial derivatives with respect to t.
	TimeDerivative(t float64, y []float64, modes []Mode, dft, dgt []float64)
}

type boundTimed struct {
	*bound
	timed TimeSystem
}

func (b boundTimed) TimeDerivative(t float64, y, dft, dgt []float64) {
	b.timed.TimeDerivative(t, y, b.modes, dft, dgt)
}
