package scenarios

import (
	"errors"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

// Stage is a stretch of the run over which the plant stays the same.
type Stage struct {
	From     float64 // s
	Plant    *plant.Plant
	Faults   []fault.Entry  // that set in here; hidden ones only once they are revealed
	Commands []Command      // that act here
	Changes  []fault.Change // what those faults changed
}

// Stages cuts the run where a fault sets in or a command acts. The first
// stage starts at zero. At one time faults come first, then hidden ones, then
// commands, each in the order of the scenario. It is an error if a change does
// not fit the plant; in a scenario that was loaded, and not changed since, none
// is.
func (s *Scenario) Stages() ([]Stage, error) {
	stages := []Stage{{Plant: s.Plant}}
	for _, a := range s.Actions() {
		if a.At() > stages[len(stages)-1].From {
			stages = append(stages, Stage{From: a.At(), Plant: stages[len(stages)-1].Plant})
		}
		now := &stages[len(stages)-1]
		p, changed, err := apply(now.Plant, a)
		if err != nil {
			return nil, err
		}
		now.Plant = p
		switch {
		case a.Command != nil:
			now.Commands = append(now.Commands, *a.Command)
		case !a.Hidden || !s.Sealed():
			now.Faults = append(now.Faults, *a.Fault)
			now.Changes = append(now.Changes, changed...)
		}
	}
	return stages, nil
}

// errHidden is all that is said of a hidden fault that does not fit.
var errHidden = errors.New("a hidden fault does not fit this plant")

// apply makes one change to a plant.
func apply(p *plant.Plant, a Action) (*plant.Plant, []fault.Change, error) {
	if a.Fault != nil {
		out, changed, err := fault.Apply(p, *a.Fault)
		if err != nil && a.Hidden {
			err = errHidden
		}
		return out, changed, err
	}
	out, err := p.With(a.Command.Path, a.Command.Value)
	if err != nil {
		return nil, nil, err
	}
	check := out.CheckRunning
	if a.Command.At == 0 {
		check = out.Check
	}
	if issues := check(); len(issues) > 0 {
		return nil, nil, &Error{Key: issues[0].Path, Found: "then " + issues[0].Path + " is " + issues[0].Found, Want: issues[0].Want}
	}
	return out, nil, nil
}
