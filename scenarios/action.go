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
	Hidden  bool   // the fault is one of Scenario.Hidden
	Code    string // of a hidden fault: what reveals it; empty: naming it alone does

	seal *seal // of a hidden fault that was read: in place of the code, which is not known
}

// sealed is what a hidden fault is hidden with.
func (a Action) sealed() seal {
	if a.seal != nil {
		return *a.seal
	}
	return newSeal(a.Code)
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
		if s.hide(a.sealed(), *a.Fault) != nil { // it has a number that is none, and fits no plant
			s.Hidden = s.Hidden.with([]fault.Entry{*a.Fault}, seal{faults: 1})
		}
	default:
		s.Faults = append(slices.Clone(s.Faults), *a.Fault)
	}
}

// Actions is everything that happens to the plant, in the order in which it
// acts: by time, and at one time the faults, the hidden ones, the commands, each
// in the order of the scenario.
func (s *Scenario) Actions() []Action {
	var out []Action
	for i := range s.Faults {
		out = append(out, Action{Fault: &s.Faults[i]})
	}
	if s.Hidden != nil {
		for i := range s.Hidden.Faults {
			out = append(out, Action{Fault: &s.Hidden.Faults[i], Hidden: true})
		}
	}
	for i := range s.Commands {
		out = append(out, Action{Command: &s.Commands[i]})
	}
	slices.SortStableFunc(out, func(a, b Action) int { return cmp.Compare(a.At(), b.At()) })
	return out
}
