package sim

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

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
	// Back is the start of the last step, to which a command may still go
	// back; nil if there is no going back.
	Back *Origin
}

// Origin is where a step started.
type Origin struct {
	State   State
	Control Control
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
	stops   []float64 // times at which Finish has ended a step
	stop    int       // first of them still to come: all but for a run that is computed again
	events  []Event
	stats   Stats

	last      point // start of the last step, for taking it back
	canRevert bool

	bounds    Bounds // nil if the system has none
	tol       method.Tolerance
	rodas     *method.Rodas4
	dopri     *method.Dopri5
	fld       bound
	timed     *boundTimed
	report    Report
	y1, f1    []float64
	base      []float64 // y1 before coasting
	coasted   []float64 // what the quadratures gain by coasting
	coasting  bool
	stretched float64 // by what factor coasting has made the step longer
	q1, inc   []float64
	g1        []float64 // guards at the end of a trial
	gm, ge    []float64 // guards at the middle and the end of what counts of it
	gx        []float64 // guards anywhere in it
	ys        []float64
	c         []float64
	modes     []Mode
	recorded  int // events recorded by the handler that is running
	crowd     int // events that have followed one another at almost the same time
}

// point is everything about a moment that a step may have to go back to.
type point struct {
	s      State
	ctl    Control
	f, dq  []float64
	events int
	limit  float64 // where the step was told to end at the latest
}

// New starts a run: sys takes over the state s, which is copied. Commands may
// be given in any order; those of equal time are carried out in the order
// given.
func New(sys System, s State, set Settings, cmds ...Command) (*Run, error) {
	r, err := prepare(sys, Checkpoint{State: s}, set, cmds)
	if err != nil {
		return nil, err
	}
	if err := r.begin(); err != nil {
		return nil, err
	}
	return r, nil
}

// Resume takes a run up from a checkpoint. sys is the system in force there,
// cmds the whole list of the run's commands in the order of their times. The
// intervals keep their numbers: Systems is nil for those before the
// checkpoint. Events start anew; if the last step before the checkpoint is
// taken back, those made again in it are among them.
func Resume(sys System, cp Checkpoint, set Settings, cmds ...Command) (*Run, error) {
	r, err := prepare(sys, cp, set, cmds)
	if err != nil {
		return nil, err
	}
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
	v := func() []float64 { return make([]float64, n) }
	q := func() []float64 { return make([]float64, nq) }
	g := func() []float64 { return make([]float64, len(lay.Guards)) }
	r := &Run{lay: lay, set: set, systems: make([]System, cp.Interval+1), next: cp.Next, s: cp.State.Clone(),
		f: v(), dq: q(), g: g(), y1: v(), base: v(), f1: v(), q1: q(), inc: q(), coasted: q(), g1: g(), gm: g(), ge: g(), gx: g(),
		ys: v(), c: make([]float64, 5*n), modes: make([]Mode, len(lay.Modes))}
	r.systems[cp.Interval] = sys
	r.ctl = Control{Explicit: set.Methods != Implicit, Z: v()}
	if cp.Control.Z != nil {
		r.ctl.set(&cp.Control)
	}
	r.last = point{s: r.s.Clone(), ctl: Control{Z: v()}, f: v(), dq: q()}
	if cp.Back != nil {
		r.last.s.set(&cp.Back.State)
		r.last.ctl.set(&cp.Back.Control)
		r.canRevert = true
	}
	r.tol = method.Tolerance{Rel: set.RelTol, Active: make([]bool, n)}
	r.rodas = method.NewRodas4(n, nq, lay.Entries, &r.tol)
	r.dopri = method.NewDopri5(n, nq, &r.tol)
	r.report = r.record
	r.cmds = slices.Clone(cmds)
	slices.SortStableFunc(r.cmds, func(a, b Command) int { return cmp.Compare(a.T, b.T) })
	if cp.Next > len(cmds) {
		return nil, fmt.Errorf("sim: the checkpoint lies after %d commands, but there are only %d", cp.Next, len(cmds))
	}
	for _, c := range r.cmds[cp.Next:] {
		if err := r.timely(c); err != nil {
			return nil, err
		}
	}
	if h := set.History; h != nil {
		if h.run != nil {
			return nil, errors.New("sim: the history belongs to another run already")
		}
		h.run, h.n, h.nq = r, n, nq
	}
	r.bind(sys)
	return r, nil
}

func (r *Run) bind(sys System) {
	r.sys = sys
	r.tol.Scale = sys.Layout().Scales
	r.tol.Judge = nil
	if j, ok := sys.(Judge); ok {
		r.tol.Judge = j.Judge
	}
	r.bounds, _ = sys.(Bounds)
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
	cp.Control = r.ctl.clone()
	if r.canRevert {
		cp.Back = &Origin{State: r.last.s.Clone(), Control: r.last.ctl.clone()}
	}
	return cp
}

// Advance steps until the run has reached the time, which it usually passes by
// part of a step, or until it has made budget steps (0: no limit). It reports
// whether the time was reached; if not, calling it again goes on. What lies
// beyond the time asked for, events included, may yet be taken back by a
// command.
func (r *Run) Advance(until float64, budget int) (bool, error) {
	if math.IsNaN(until) {
		return false, errors.New("sim: cannot advance to a time that is not a number")
	}
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

// Finish advances to the time and ends the last step exactly there. The run
// may go on from there, though not with the same steps as if it had not
// stopped.
func (r *Run) Finish(until float64) error {
	if _, err := r.Advance(until, 0); err != nil {
		return err
	}
	if until < r.s.T {
		if err := r.cut(until); err != nil {
			return err
		}
		r.stops = append(r.stops, until)
		r.stop = len(r.stops)
	}
	return nil
}

// Insert adds a command. Its time must not lie before the start of the last
// step, which for a run that Advance has brought to the time t is always met
// by commands at t.
func (r *Run) Insert(c Command) error {
	if err := r.timely(c); err != nil {
		return err
	}
	at := r.next
	for at < len(r.cmds) && r.cmds[at].T <= c.T {
		at++
	}
	r.cmds = slices.Insert(r.cmds, at, c)
	return nil
}

// Replan puts these commands in the place of all that have not been carried out.
// Each is bound as by Insert, those of equal time are carried out in the order
// given, and if one is refused nothing has changed.
func (r *Run) Replan(cmds ...Command) error {
	for _, c := range cmds {
		if err := r.timely(c); err != nil {
			return err
		}
	}
	to := slices.Clone(cmds)
	slices.SortStableFunc(to, func(a, b Command) int { return cmp.Compare(a.T, b.T) })
	r.cmds = append(r.cmds[:r.next:r.next], to...)
	return nil
}

func (r *Run) timely(c Command) error {
	if c.Do == nil {
		return fmt.Errorf("sim: command %q at %g s does nothing", c.Name, c.T)
	}
	if !(c.T >= r.Earliest()) {
		return fmt.Errorf("sim: command %q at %g s comes too late: the run stands at %g s and can go back to %g s", c.Name, c.T, r.s.T, r.Earliest())
	}
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

// carryOut does what is due at or before the present time: commands, and the
// stops of a run that is computed again.
func (r *Run) carryOut(until float64) error {
	for {
		at := math.Inf(1)
		if r.next < len(r.cmds) {
			at = r.cmds[r.next].T
		}
		stop := r.stop < len(r.stops) && r.stops[r.stop] <= at
		if stop {
			at = r.stops[r.stop]
		}
		if at > until || at > r.s.T {
			return nil
		}
		if err := r.cut(at); err != nil {
			return err
		}
		if stop {
			r.stop++
			continue
		}
		if err := r.do(r.cmds[r.next]); err != nil {
			return err
		}
	}
}

func (r *Run) do(c Command) error {
	sys, err := c.Do(&r.s, r.sys)
	if err != nil {
		return fmt.Errorf("at %g s, %s: %w", c.T, c.Name, err)
	}
	if sys != nil {
		if !sameLayout(r.lay, sys.Layout()) {
			return fmt.Errorf("sim: at %g s, %s: the new system has another layout", c.T, c.Name)
		}
		r.systems = append(r.systems, sys)
		r.bind(sys)
	}
	r.next++
	return r.begin()
}

// begin has the system in force take over the present state.
func (r *Run) begin() error {
	r.canRevert = false
	r.handle(func() { r.sys.Begin(&r.s, r.report) })
	if err := r.settle(); err != nil {
		return err
	}
	r.ctl.restart()
	return nil
}

// cut takes the last step back and makes it again so that it ends at t.
func (r *Run) cut(t float64) error {
	if t >= r.s.T {
		return nil
	}
	if t < r.Earliest() {
		return fmt.Errorf("sim: cannot go back to %g s: the last step began at %g s", t, r.Earliest())
	}
	if h := r.set.History; h != nil {
		h.drop(r.last.s.T)
	}
	r.s.set(&r.last.s)
	r.ctl.set(&r.last.ctl)
	r.events = r.events[:r.last.events]
	// Only a run that has not yet come to its last stop is being computed
	// again; in any other a stop after t has now not been made.
	for r.stop == len(r.stops) && r.stop > 0 && r.stops[r.stop-1] > t {
		r.stop--
		r.stops = r.stops[:r.stop]
	}
	r.refresh()
	for r.s.T < t {
		if err := r.step(t); err != nil {
			return err
		}
	}
	return nil
}
