package live

import (
	"fmt"
	"maps"

	"underdisc/scenarios"
	"underdisc/sim"
)

// Fork takes the run up again at t, which its history covers, as a run of its
// own: of what was done, that up to t is kept. sc is the scenario with just
// that. It is the same, bit for bit, as a run of sc that has been advanced to t.
func (r *Run) Fork(t float64, sc *scenarios.Scenario, keep int) (*Run, error) {
	if r.History == nil {
		return nil, fmt.Errorf("this run keeps no history")
	}
	if err := conflicts(sc); err != nil {
		return nil, err
	}
	own := *sc
	f := &Run{Scenario: &own, History: &sim.History{Keep: keep}, models: maps.Clone(r.models), steps: stepsOf(sc)}
	p, done := sc.Plant, 0
	for i := range f.steps {
		st := &f.steps[i]
		if err := st.make(p); err != nil {
			return nil, err
		}
		p = st.leaves
		if st.At() <= t {
			done = i + 1
		}
	}
	var err error
	if f.Sim, err = r.History.Fork(t, f.History); err != nil {
		return nil, err
	}
	cmds, err := f.commands(done)
	if err != nil {
		return nil, err
	}
	f.tell()
	return f, f.Sim.Replan(cmds...)
}
