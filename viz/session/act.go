package session

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"underdisc/model/fault"
	"underdisc/scenarios"
)

// Do does something now, one thing after the other, in every lane that has not
// been shown beyond this moment: what has been seen stays as it was. If no lane
// is so, it forks, as WhatIf does. If one thing is refused, those before it have
// been done. An error that wraps ErrLog means that it was done but is not on
// record.
func (s *Session) Do(todo ...scenarios.Action) error {
	if s.t < s.Head() {
		return s.WhatIf(todo...)
	}
	s.clock.seeks = false
	decided := s.t
	for _, a := range todo {
		to := s.t
		// The second lane differs more from what is usual and is asked first.
		for i := len(s.lanes) - 1; i >= 0; i-- {
			if s.lanes[i].seen > s.t {
				continue
			}
			done, err := s.do(i, a, s.t, decided)
			if err != nil {
				return err
			}
			to = math.Max(to, done)
		}
		if err := s.bring(to); err != nil {
			return err
		}
	}
	return nil
}

// bring brings every lane to a moment and shows it.
func (s *Session) bring(to float64) error {
	for _, l := range s.lanes {
		if _, err := l.Run.Sim.Advance(to, 0); err != nil {
			return err
		}
	}
	s.show(to)
	return nil
}

// do does something in a lane at t, or, for what says a later time, from then
// on, and returns when it has been done: the first moment from t on at which it
// can be seen. It was decided at a moment that may be a little earlier.
func (s *Session) do(lane int, a scenarios.Action, t, decided float64) (float64, error) {
	l := s.lanes[lane]
	if err := l.Run.Scenario.Allows(a); err != nil {
		return t, err
	}
	if l.Run.Sim.Earliest() > t { // the engine has gone on in search of something
		again, err := s.lane(l.Run, l.Did, t)
		if err != nil {
			return t, err
		}
		l.Run = again.Run
	}
	done, err := l.Run.Do(at(a, t))
	if err != nil {
		return t, err
	}
	l.Did, l.when = append(slices.Clip(l.Did), done), append(slices.Clip(l.when), decided)
	if l.log != nil {
		if err := l.log.Did(done); err != nil {
			return t, fmt.Errorf("%w: %w", ErrLog, err)
		}
	}
	const now = 1e-6 // s
	if done.At() > t+now {
		return t, nil
	}
	return done.At(), nil
}

// at is an action that happens now, unless it says a later time itself.
func at(a scenarios.Action, t float64) scenarios.Action {
	switch {
	case a.Command != nil && a.Command.At < t:
		c := *a.Command
		c.At = t
		a.Command = &c
	case a.Fault != nil && a.Fault.At < t:
		f := *a.Fault
		f.At = t
		a.Fault = &f
	}
	return a
}

// Pending is what has been decided by a moment, s, and is still to come then: the
// rest of a procedure.
func (l *Lane) Pending(t float64) (out []scenarios.Action) {
	for i, a := range l.Did {
		if a.At() > t && l.when[i] <= t {
			out = append(out, a)
		}
	}
	return out
}

// WhatIf forks at the moment shown: a second lane goes its own way from here,
// with what is done now, and with the rest of what was under way. A second lane that was there is given up. If what is
// to be done is refused, nothing has changed.
func (s *Session) WhatIf(todo ...scenarios.Action) error {
	s.Hold()
	var did []scenarios.Action
	var when []float64
	for i, a := range s.lanes[0].Did {
		if decided := s.lanes[0].when[i]; a.At() <= s.t || decided < s.t {
			did, when = append(did, a), append(when, decided)
		}
	}
	fork, err := s.lane(s.lanes[0].Run, did, s.t)
	if err != nil {
		return err
	}
	fork.Forks, fork.seen, fork.when = s.t, s.t, when
	old := s.lanes
	s.lanes = []*Lane{old[0], fork}
	to := s.t
	for _, a := range todo {
		done, err := s.do(1, a, to, s.t)
		if err != nil {
			s.lanes = old
			return err
		}
		to = math.Max(to, done)
	}
	if err := s.bring(to); err != nil {
		s.lanes = old
		return err
	}
	var errs []error
	if len(old) > 1 {
		errs = append(errs, old[1].close())
	}
	errs = append(errs, s.startLog(fork, 1))
	return errors.Join(errs...)
}

// Alone ends side by side: the lane kept, 0 or 1, goes on alone.
func (s *Session) Alone(kept int) error {
	if len(s.lanes) < 2 {
		return nil
	}
	gone := s.lanes[1-kept]
	s.lanes = []*Lane{s.lanes[kept]}
	return gone.close()
}

// hidden tells whether a parameter is among those that hidden faults set.
func (l *Lane) hidden(path string) bool {
	sc := l.Run.Scenario
	if !sc.Sealed() {
		return false
	}
	for _, e := range sc.Hidden.Faults {
		_, changes, err := fault.Apply(sc.Plant, e)
		if err != nil {
			continue
		}
		for _, c := range changes {
			if c.Path == path {
				return true
			}
		}
	}
	return false
}
