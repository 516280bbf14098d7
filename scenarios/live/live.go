// Package live turns a scenario into a run: the plant with its faults at their
// times and its commands, driven by the engine, and snapshots of any moment.
package live

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"underdisc/model/fault"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

// Options of a run.
type Options struct {
	RelTol  float64    // relative tolerance of a step
	Keep    int        // blocks of the history kept in memory; 0: all
	Bare    bool       // keep no history: events and the end only
	Methods sim.Choice // leave at Auto
}

// Run is a scenario under way.
type Run struct {
	Scenario *scenarios.Scenario // with what has been done to it since the start
	Sim      *sim.Run
	History  *sim.History
	Changes  []fault.Change // what the faults set, in order of time, hidden ones not among them
	models   map[sim.System]*plant.Model
	steps    []step
}

// step is one change of the plant, with the plant that it leaves.
type step struct {
	scenarios.Action
	leaves  *plant.Plant
	changes []fault.Change
}

func (st *step) name() string {
	switch {
	case st.Command != nil:
		return "set " + st.Command.Path
	case st.Hidden:
		return "hidden fault"
	}
	return "fault " + st.Fault.Name
}

// make changes the plant, and says why it does not fit; of a hidden fault it
// says only that.
func (st *step) make(p *plant.Plant) (err error) {
	if st.Command != nil {
		st.leaves, err = p.With(st.Command.Path, st.Command.Value)
	} else {
		st.leaves, st.changes, err = fault.Apply(p, *st.Fault)
	}
	switch {
	case err == nil:
		return nil
	case st.Hidden:
		return fmt.Errorf("a hidden fault does not fit the plant")
	}
	return fmt.Errorf("%s: %w", st.name(), err)
}

// stepsOf is everything that changes the plant of a scenario, in order of time;
// of equal times the faults first, since they are how the plant is found.
func stepsOf(sc *scenarios.Scenario) []step {
	var steps []step
	for i := range sc.Faults {
		steps = append(steps, step{Action: scenarios.Action{Fault: &sc.Faults[i]}})
	}
	if sc.Hidden != nil {
		for i := range sc.Hidden.Faults {
			steps = append(steps, step{Action: scenarios.Action{Fault: &sc.Hidden.Faults[i], Hidden: true}})
		}
	}
	for i := range sc.Commands {
		steps = append(steps, step{Action: scenarios.Action{Command: &sc.Commands[i]}})
	}
	slices.SortStableFunc(steps, func(a, b step) int { return cmp.Compare(a.At(), b.At()) })
	return steps
}

// Start prepares a run of the scenario from its beginning.
func Start(sc *scenarios.Scenario, opt Options) (*Run, error) {
	if err := conflicts(sc); err != nil {
		return nil, err
	}
	own := *sc
	r := &Run{Scenario: &own, models: map[sim.System]*plant.Model{}, steps: stepsOf(sc)}
	p, atStart := sc.Plant, 0
	for i := range r.steps {
		st := &r.steps[i]
		if err := st.make(p); err != nil {
			return nil, err
		}
		p = st.leaves
		if st.At() <= 0 {
			atStart = i + 1
		}
	}
	p = sc.Plant
	if atStart > 0 {
		p = r.steps[atStart-1].leaves
	}
	first, err := r.keep(plant.Build(p))
	if err != nil {
		return nil, err
	}
	cmds, err := r.commands(atStart)
	if err != nil {
		return nil, err
	}
	r.tell()
	set := sim.Settings{RelTol: opt.RelTol, Methods: opt.Methods}
	if !opt.Bare {
		r.History = &sim.History{Keep: opt.Keep}
		set.History = r.History
	}
	r.Sim, err = sim.New(first.Net, first.Net.Start(), set, cmds...)
	return r, err
}

// conflicts is about two faults that set one parameter. That a hidden one is
// among them is not said.
func conflicts(sc *scenarios.Scenario) error {
	if err := fault.Conflicts(sc.Plant, sc.Faults); err != nil || sc.Hidden == nil {
		return err
	}
	if err := fault.Conflicts(sc.Plant, slices.Concat(sc.Faults, sc.Hidden.Faults)); err != nil {
		if sc.Sealed() {
			return fmt.Errorf("a fault conflicts with one that is hidden")
		}
		return err
	}
	return nil
}

// commands are the steps from the one numbered on, for the engine.
func (r *Run) commands(from int) ([]sim.Command, error) {
	var cmds []sim.Command
	for i := range r.steps[from:] {
		st := &r.steps[from+i]
		m, err := r.keep(plant.BuildRunning(st.leaves))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", st.name(), err)
		}
		cmds = append(cmds, plant.Change(st.At(), st.name(), m))
	}
	return cmds, nil
}

// tell gathers what the faults set.
func (r *Run) tell() {
	r.Changes = nil
	for i := range r.steps {
		if !r.steps[i].Hidden {
			r.Changes = append(r.Changes, r.steps[i].changes...)
		}
	}
}

// Do does something to the plant, not before Sim.Earliest. A run in which it was
// done is the same, bit for bit, as one that knew of it from the start. Where
// the plant has been changed at that very moment already, the action comes one
// rounding error later, so that the record keeps the order in which things were
// done; Do returns it as it was done. If it does not fit, nothing has changed.
func (r *Run) Do(a scenarios.Action) (scenarios.Action, error) {
	a = owned(a)
	if a.At() <= 0 {
		moveTo(a, firstMoment)
	}
	at := sort.Search(len(r.steps), func(i int) bool { return r.steps[i].At() > a.At() })
	for at > 0 && r.steps[at-1].At() == a.At() {
		moveTo(a, math.Nextafter(a.At(), math.Inf(1)))
		at = sort.Search(len(r.steps), func(i int) bool { return r.steps[i].At() > a.At() })
	}
	next := *r.Scenario
	next.Record(a)
	if err := conflicts(&next); err != nil {
		return a, err
	}
	if !(a.At() >= r.Sim.Earliest()) {
		return a, fmt.Errorf("what is done at %g s comes too late: the run stands at %g s", a.At(), r.Sim.State().T)
	}
	// What is still to come is made anew on the plant as it is then.
	steps := slices.Insert(slices.Clone(r.steps), at, step{Action: a})
	p := r.Scenario.Plant
	if at > 0 {
		p = steps[at-1].leaves
	}
	for i := at; i < len(steps); i++ {
		if err := steps[i].make(p); err != nil {
			return a, err
		}
		p = steps[i].leaves
	}
	was := r.steps
	r.steps = steps
	cmds, err := r.commands(at)
	if err == nil {
		// What is due before it and has not been carried out yet stays as it is.
		due := r.Sim.Commands()[r.Sim.Checkpoint().Next:]
		due = due[:sort.Search(len(due), func(i int) bool { return due[i].T > a.At() })]
		err = r.Sim.Replan(slices.Concat(due, cmds)...)
	}
	if err != nil {
		r.steps = was
		return a, err
	}
	r.Scenario = &next
	r.tell()
	return a, nil
}

// firstMoment is when something is done that is done at the start, s: what a
// scenario says of the start itself is how the plant is found.
const firstMoment = 1e-9

// owned is a copy that shares nothing with the action.
func owned(a scenarios.Action) scenarios.Action {
	if a.Command != nil {
		c := *a.Command
		a.Command = &c
	} else {
		f := *a.Fault
		a.Fault = &f
	}
	return a
}

func moveTo(a scenarios.Action, t float64) {
	if a.Command != nil {
		a.Command.At = t
	} else {
		a.Fault.At = t
	}
}

func (r *Run) keep(m *plant.Model, err error) (*plant.Model, error) {
	if err == nil {
		r.models[m.Net] = m
	}
	return m, err
}

// Finish runs the scenario to its end.
func (r *Run) Finish() error { return r.Sim.Finish(r.Scenario.Until) }

// Model is the plant in force in an interval, as sim.Event and sim.Segment
// number them.
func (r *Run) Model(interval int) *plant.Model { return r.models[r.Sim.Systems()[interval]] }

// Present is the plant in force now.
func (r *Run) Present() *plant.Model { return r.models[r.Sim.System()] }

// Now is a snapshot of the present state.
func (r *Run) Now() *plant.Snapshot {
	s := r.Sim.State()
	return r.Present().Snapshot(s.T, s.Y, s.Modes, s.Timers)
}

// At is a snapshot of a moment that the history covers, and the plant that was
// in force. At the moment of an event it shows what follows it.
func (r *Run) At(t float64) (*plant.Snapshot, *plant.Model, error) {
	if s := r.Sim.State(); t == s.T {
		return r.Now(), r.Present(), nil
	}
	if r.History == nil {
		return nil, nil, fmt.Errorf("this run keeps no history")
	}
	g, err := r.History.At(t)
	if err != nil {
		return nil, nil, err
	}
	y := make([]float64, len(g.C)/5)
	g.Eval(t, y)
	m := r.Model(g.Interval)
	return m.Snapshot(t, y, g.Modes, g.Timers), m, nil
}

// AtEvent are snapshots just before and just after an event.
func (r *Run) AtEvent(e *sim.Event) (before, after *plant.Snapshot) {
	m := r.Model(e.Interval)
	return m.Snapshot(e.T, e.Before, e.From, nil), m.Snapshot(e.T, e.After, e.To, nil)
}

var _ sim.System = (*network.Network)(nil)
