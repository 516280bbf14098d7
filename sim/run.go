package sim

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"underdisc/sim/method"
)

// Choice says which methods a run may use.
type Choice int

const (
	Auto     Choice = iota // the engine chooses at every step
	Implicit               // Rodas4 only
	Explicit               // Dormand-Prince 5(4) only
)

// Settings of a run.
type Settings struct {
	RelTol  float64 // relative tolerance of a step, in (0, 0.1]
	Methods Choice
	History *History // where to keep the trajectory; nil keeps none
	NoPast  bool     // events carry no copies of the variables
}

// Stats count the work of a run.
type Stats struct {
	Steps, Rejected, Explicit, Derivatives, Jacobians, Factorings, Events int
}

// Checkpoint is all that is needed to go on from a moment exactly as the run
// did.
type Checkpoint struct {
	State    State
	Control  Control
	Interval int // which system was in force
	Next     int // first command not yet carried out
}

// Control is the memory of step size and method choice.
type Control struct {
	H        float64 // next step to try; 0: estimate it
	Explicit bool
	Held     int // consecutive steps that stability, not accuracy, held
	Easy     int // consecutive steps that the other method would have made as well
	Dwell    int // steps since the method was changed
	Z        []float64
}

func (c *Control) set(from *Control) {
	z := c.Z
	*c = *from
	c.Z = z
	copy(c.Z, from.Z)
}

// Run advances a System from a State.
type Run struct {
	lay     *Layout
	set     Settings
	systems []System // one for each interval
	sys     System   // the one in force
	s       State
	ctl     Control
	f, dq   []float64 // derivatives at s
	g       []float64 // guards at s
	cmds    []Command
	next    int
	events  []Event
	stats   Stats

	last      point // start of the last step, for taking it back
	canRevert bool

	tol      method.Tolerance
	rodas    *method.Rodas4
	dopri    *method.Dopri5
	fld      bound
	timed    *boundTimed
	report   Report
	y1, f1   []float64
	q1, inc  []float64
	gm, g1   []float64
	ys       []float64
	c        []float64
	modes    []Mode
	recorded int // events recorded by the handler that is running
}

// point is everything about a moment that a step may have to go back to.
type point struct {
	s      State
	ctl    Control
	f, dq  []float64
	g      []float64
	events int
	sys    int
}

// New starts a run: sys takes over the state s, which is copied. Commands may
// be given in any order; those of equal time are carried out in the order
// given.
func New(sys System, s State, set Settings, cmds ...Command) (*Run, error) {
	r, err := prepare(sys, Checkpoint{State: s}, set, cmds)
	if err != nil {
		return nil, err
	}
	r.sys.Begin(&r.s, r.report)
	if err := r.settle(); err != nil {
		return nil, err
	}
	r.ctl.H = 0
	return r, nil
}

// Resume takes a run up from a checkpoint. sys is the system in force there,
// cmds the whole list of the run's commands in the order of their times.
func Resume(sys System, cp Checkpoint, set Settings, cmds ...Command) (*Run, error) {
	r, err := prepare(sys, cp, set, cmds)
	if err != nil {
		return nil, err
	}
	r.next = cp.Next
	r.refresh()
	return r, nil
}

func prepare(sys System, cp Checkpoint, set Settings, cmds []Command) (*Run, error) {
	lay := sys.Layout()
	n, nq := len(lay.Vars), len(lay.Ledger)
	if !(set.RelTol > 0 && set.RelTol <= 0.1) {
		return nil, fmt.Errorf("sim: relative tolerance %g: want one above 0, at most 0.1", set.RelTol)
	}
	if len(cp.State.Y) != n || len(cp.State.Q) != nq || len(cp.State.Modes) != len(lay.Modes) || len(cp.State.Timers) != len(lay.Timers) {
		return nil, fmt.Errorf("sim: the state does not have the layout's sizes (%d variables, %d quadratures, %d modes, %d timers)", n, nq, len(lay.Modes), len(lay.Timers))
	}
	r := &Run{lay: lay, set: set, systems: []System{sys}, sys: sys, s: cp.State.Clone(),
		f: make([]float64, n), dq: make([]float64, nq), g: make([]float64, len(lay.Guards)),
		y1: make([]float64, n), f1: make([]float64, n), q1: make([]float64, nq), inc: make([]float64, nq),
		gm: make([]float64, len(lay.Guards)), g1: make([]float64, len(lay.Guards)),
		ys: make([]float64, n), c: make([]float64, 5*n), modes: make([]Mode, len(lay.Modes))}
	r.ctl.Z = make([]float64, n)
	r.ctl.Explicit = set.Methods != Implicit
	if cp.Control.Z != nil {
		r.ctl.set(&cp.Control)
	}
	r.last = point{s: r.s.Clone(), ctl: Control{Z: make([]float64, n)}, f: make([]float64, n), dq: make([]float64, nq), g: make([]float64, len(lay.Guards))}
	r.tol = method.Tolerance{Rel: set.RelTol, Scale: lay.Scales, Active: make([]bool, n)}
	r.rodas = method.NewRodas4(n, nq, lay.Entries, &r.tol)
	r.dopri = method.NewDopri5(n, nq, &r.tol)
	r.report = r.record
	r.cmds = slices.Clone(cmds)
	sort.SliceStable(r.cmds, func(i, j int) bool { return r.cmds[i].T < r.cmds[j].T })
	r.bind(sys)
	return r, nil
}

func (r *Run) bind(sys System) {
	r.sys = sys
	r.fld.sys, r.fld.modes = sys, r.s.Modes
	r.timed = nil
	if ts, ok := sys.(TimeSystem); ok {
		r.timed = &boundTimed{&r.fld, ts}
	}
}

func (r *Run) field() method.Field {
	if r.timed != nil {
		return r.timed
	}
	return &r.fld
}

// State is the present state; the caller must not change it.
func (r *Run) State() *State { return &r.s }

// System is the one in force.
func (r *Run) System() System { return r.sys }

// Systems lists the system of every interval so far.
func (r *Run) Systems() []System { return r.systems }

// Events so far, in order.
func (r *Run) Events() []Event { return r.events }

// Stats so far.
func (r *Run) Stats() Stats {
	st := r.stats
	st.Derivatives = r.fld.calls
	st.Jacobians, st.Factorings = r.rodas.Jacobians, r.rodas.Factorings
	st.Events = len(r.events)
	return st
}

// Checkpoint is the present moment.
func (r *Run) Checkpoint() Checkpoint {
	cp := Checkpoint{State: r.s.Clone(), Interval: len(r.systems) - 1, Next: r.next}
	cp.Control = r.ctl
	cp.Control.Z = slices.Clone(r.ctl.Z)
	return cp
}

// Advance steps until the run has reached the time, which it usually passes by
// part of a step, or until it has made budget steps (0: no limit). It reports
// whether the time was reached; if not, calling it again goes on.
func (r *Run) Advance(until float64, budget int) (bool, error) {
	for made := 0; ; made++ {
		if err := r.carryOut(until); err != nil {
			return false, err
		}
		if r.s.T >= until {
			return true, nil
		}
		if budget > 0 && made >= budget {
			return false, nil
		}
		if err := r.step(math.Inf(1)); err != nil {
			return false, err
		}
	}
}

// Finish advances to the time and ends the last step exactly there.
func (r *Run) Finish(until float64) error {
	if _, err := r.Advance(until, 0); err != nil {
		return err
	}
	return r.cut(until)
}

// Insert adds a command. Its time must not lie before the start of the last
// step, which for a run that Advance has brought to the time t is always met
// by commands at t.
func (r *Run) Insert(c Command) error {
	if c.T < r.Earliest() {
		return fmt.Errorf("sim: command %q at %g s comes too late: the run stands at %g s", c.Name, c.T, r.s.T)
	}
	at := r.next
	for at < len(r.cmds) && r.cmds[at].T <= c.T {
		at++
	}
	r.cmds = slices.Insert(r.cmds, at, c)
	return nil
}

// Earliest is the earliest time at which a command can still be inserted.
func (r *Run) Earliest() float64 {
	if r.canRevert {
		return r.last.s.T
	}
	return r.s.T
}

// Commands lists all commands, done and to come.
func (r *Run) Commands() []Command { return r.cmds }

func (r *Run) carryOut(until float64) error {
	for r.next < len(r.cmds) {
		c := r.cmds[r.next]
		if c.T > until || c.T > r.s.T {
			return nil
		}
		if err := r.cut(c.T); err != nil {
			return err
		}
		sys, err := c.Do(&r.s, r.sys)
		if err != nil {
			return fmt.Errorf("at %g s, %s: %w", c.T, c.Name, err)
		}
		if sys != nil {
			r.systems = append(r.systems, sys)
			r.bind(sys)
			if h := r.set.History; h != nil {
				h.systems = r.systems
			}
		}
		r.next++
		r.canRevert = false
		r.sys.Begin(&r.s, r.report)
		if err := r.settle(); err != nil {
			return err
		}
		r.ctl.H = 0
	}
	return nil
}

// cut takes the last step back and makes it again so that it ends at t.
func (r *Run) cut(t float64) error {
	if t >= r.s.T {
		return nil
	}
	if !r.canRevert || t < r.last.s.T {
		return fmt.Errorf("sim: cannot go back to %g s: the last step began at %g s", t, r.Earliest())
	}
	if h := r.set.History; h != nil {
		h.drop(r.last.s.T)
	}
	r.s.set(&r.last.s)
	r.ctl.set(&r.last.ctl)
	copy(r.f, r.last.f)
	copy(r.dq, r.last.dq)
	copy(r.g, r.last.g)
	r.events = r.events[:r.last.events]
	r.reshape()
	for r.s.T < t {
		if err := r.step(t); err != nil {
			return err
		}
	}
	return nil
}

func (r *Run) record(name, part string) {
	r.events = append(r.events, Event{T: r.s.T, Name: name, Part: part, Interval: len(r.systems) - 1})
	r.recorded++
}

// handle calls a handler and completes the events that it records.
func (r *Run) handle(do func()) {
	copy(r.ys, r.s.Y)
	copy(r.modes, r.s.Modes)
	r.recorded = 0
	do()
	if r.set.NoPast || r.recorded == 0 {
		return
	}
	before, after := slices.Clone(r.ys), slices.Clone(r.s.Y)
	from, to := slices.Clone(r.modes), slices.Clone(r.s.Modes)
	for i := len(r.events) - r.recorded; i < len(r.events); i++ {
		r.events[i].Before, r.events[i].After = before, after
		r.events[i].From, r.events[i].To = from, to
	}
}

// settleLimit bounds the events of one instant; a healthy system needs a
// handful.
const settleLimit = 200

// settle handles due timers and guards below zero until there are none, then
// brings derivative, guards and active variables up to date.
func (r *Run) settle() error {
	for count := 0; ; count++ {
		if count > settleLimit {
			return fmt.Errorf("sim: at %g s events follow one another without end (modes %s)", r.s.T, r.modeText())
		}
		due := -1
		for i, d := range r.s.Timers {
			if d <= r.s.T && (due < 0 || d < r.s.Timers[due]) {
				due = i
			}
		}
		if due >= 0 {
			r.s.Timers[due] = math.Inf(1)
			r.handle(func() { r.sys.Expire(due, &r.s, r.report) })
			continue
		}
		r.sys.Guards(r.s.T, r.s.Y, r.s.Modes, r.g)
		hit := -1
		for i, g := range r.g {
			if g < 0 {
				hit = i
				break
			}
		}
		if hit < 0 {
			break
		}
		r.handle(func() { r.sys.Cross(hit, &r.s, r.report) })
	}
	r.refresh()
	return r.finite(r.s.T, r.s.Y, r.f)
}

func (r *Run) refresh() {
	r.reshape()
	r.field().Derivative(r.s.T, r.s.Y, r.f, r.dq)
	r.sys.Guards(r.s.T, r.s.Y, r.s.Modes, r.g)
}

func (r *Run) reshape() {
	copy(r.modes, r.s.Modes)
	r.sys.Moving(r.s.Modes, r.tol.Active)
	r.rodas.Reshape()
}

// finite returns an error that names time, variable and modes if the state or
// its derivative is not finite.
func (r *Run) finite(t float64, y, f []float64) error {
	sum := 0.0
	for i := range y {
		sum += 0 * (y[i] + f[i])
	}
	if sum == 0 {
		return nil
	}
	for i := range y {
		if v := y[i]; math.IsNaN(v) || math.IsInf(v, 0) {
			return &NonFinite{T: t, Var: r.lay.Vars[i], Value: v, Modes: r.modeText()}
		}
	}
	for i := range y {
		if v := f[i]; math.IsNaN(v) || math.IsInf(v, 0) {
			return &NonFinite{T: t, Var: r.lay.Vars[i], Value: v, Derivative: true, Modes: r.modeText()}
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

// NonFinite ends a run whose solution left the numbers.
type NonFinite struct {
	T          float64
	Var        string
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
