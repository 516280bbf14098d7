package scenarios

import "underdisc/model/fault"

// Hidden are faults that are in the plant and stay unsaid: whatever shows a run
// with hidden faults says nothing that only the inside of the valve gives, until
// they are revealed.
type Hidden struct {
	Faults   []fault.Entry
	Revealed bool
}

// Sealed tells whether the scenario has faults that are still hidden.
func (s *Scenario) Sealed() bool { return s.Hidden != nil && !s.Hidden.Revealed }
