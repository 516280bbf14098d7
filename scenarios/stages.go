package scenarios

import (
	"cmp"
	"slices"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

// Stage is a stretch of the run over which the plant stays the same.
type Stage struct {
	From     float64 // s
	Plant    *plant.Plant
	Faults   []fault.Entry  // that set in here
	Commands []Command      // that act here
	Changes  []fault.Change // what the faults changed
}

// Stages cuts the run where a fault sets in or a command acts. The first
// stage starts at zero. At one time faults come first, then commands, each in
// the order of the scenario. It is an error if a change does not fit the
// plant; in a scenario that was loaded, and not changed since, none is.
func (s *Scenario) Stages() ([]Stage, error) {
	stages := []Stage{{Plant: s.Plant}}
	for _, c := range s.changes() {
		if c.at > stages[len(stages)-1].From {
			stages = append(stages, Stage{From: c.at, Plant: stages[len(stages)-1].Plant})
		}
		now := &stages[len(stages)-1]
		p, changed, err := s.apply(now.Plant, c)
		if err != nil {
			return nil, err
		}
		now.Plant = p
		now.Changes = append(now.Changes, changed...)
		if c.command >= 0 {
			now.Commands = append(now.Commands, s.Commands[c.command])
		} else {
			now.Faults = append(now.Faults, s.Faults[c.fault])
		}
	}
	return stages, nil
}

// change points at a fault or a command; the other index is -1.
type change struct {
	at             float64
	fault, command int
}

// changes lists faults and commands in the order in which they act.
func (s *Scenario) changes() []change {
	var out []change
	for i, f := range s.Faults {
		out = append(out, change{f.At, i, -1})
	}
	for i, c := range s.Commands {
		out = append(out, change{c.At, -1, i})
	}
	slices.SortStableFunc(out, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	return out
}

// apply makes one change to a plant.
func (s *Scenario) apply(p *plant.Plant, c change) (*plant.Plant, []fault.Change, error) {
	if c.command < 0 {
		return fault.Apply(p, s.Faults[c.fault])
	}
	cmd := s.Commands[c.command]
	out, err := p.With(cmd.Path, cmd.Value)
	if err != nil {
		return nil, nil, err
	}
	check := out.CheckRunning
	if cmd.At == 0 {
		check = out.Check
	}
	if issues := check(); len(issues) > 0 {
		return nil, nil, &Error{Key: issues[0].Path, Found: "then " + issues[0].Path + " is " + issues[0].Found, Want: issues[0].Want}
	}
	return out, nil, nil
}
