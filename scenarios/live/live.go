// Package live turns a scenario into a run: the plant with its faults at their
// times and its commands, driven by the engine, and snapshots of any moment.
package live

import (
	"fmt"
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
	Scenario *scenarios.Scenario
	Sim      *sim.Run
	History  *sim.History
	Changes  []fault.Change // what the faults have set, in order of time
	models   map[sim.System]*plant.Model
}

// Start prepares a run of the scenario from its beginning.
func Start(sc *scenarios.Scenario, opt Options) (*Run, error) {
	if err := fault.Conflicts(sc.Plant, sc.Faults); err != nil {
		return nil, err
	}
	r := &Run{Scenario: sc, models: map[sim.System]*plant.Model{}}

	// Everything that changes the plant, in order of time; of equal times the
	// faults first, since they are how the plant is found.
	type step struct {
		at    float64
		name  string
		apply func(*plant.Plant) (*plant.Plant, error)
	}
	var steps []step
	for _, e := range sc.Faults {
		steps = append(steps, step{e.At, "fault " + e.Name, func(p *plant.Plant) (*plant.Plant, error) {
			q, changes, err := fault.Apply(p, e)
			r.Changes = append(r.Changes, changes...)
			return q, err
		}})
	}
	for _, c := range sc.Commands {
		steps = append(steps, step{c.At, "set " + c.Path, func(p *plant.Plant) (*plant.Plant, error) { return p.With(c.Path, c.Value) }})
	}
	sort.SliceStable(steps, func(i, j int) bool { return steps[i].at < steps[j].at })

	p := sc.Plant
	for len(steps) > 0 && steps[0].at <= 0 {
		q, err := steps[0].apply(p)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", steps[0].name, err)
		}
		p, steps = q, steps[1:]
	}
	first, err := r.keep(plant.Build(p))
	if err != nil {
		return nil, err
	}
	var cmds []sim.Command
	for _, st := range steps {
		q, err := st.apply(p)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", st.name, err)
		}
		p = q
		m, err := r.keep(plant.BuildRunning(p))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", st.name, err)
		}
		cmds = append(cmds, plant.Change(st.at, st.name, m))
	}
	set := sim.Settings{RelTol: opt.RelTol, Methods: opt.Methods}
	if !opt.Bare {
		r.History = &sim.History{Keep: opt.Keep}
		set.History = r.History
	}
	r.Sim, err = sim.New(first.Net, first.Net.Start(), set, cmds...)
	return r, err
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
