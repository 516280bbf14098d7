package scenarios

import (
	"cmp"
	"slices"

	"underdisc/model/fault"
)

// Action is one thing done to the plant at a time: a parameter set to a value,
// or a fault that sets in. Exactly one of Command and Fault is set.
type Action struct {
	Command *Command
	Fault   *fault.Entry
	Hidden  bool // the fault is one of Scenario.Hidden
}

// At is when it is done, s.
func (a Action) At() float64 {
	if a.Fault != nil {
		return a.Fault.At
	}
	return a.Command.At
}

// Record adds an action to the scenario. Copies of the scenario that were made
// before are left as they were.
func (s *Scenario) Record(a Action) {
	switch {
	case a.Command != nil:
		s.Commands = append(slices.Clone(s.Commands), *a.Command)
		slices.SortStableFunc(s.Commands, func(a, b Command) int { return cmp.Compare(a.At, b.At) })
	case a.Hidden:
		h := Hidden{}
		if s.Hidden != nil {
			h = *s.Hidden
		}
		h.Faults = append(slices.Clone(h.Faults), *a.Fault)
		s.Hidden = &h
	default:
		s.Faults = append(slices.Clone(s.Faults), *a.Fault)
	}
}
