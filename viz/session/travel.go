package session

import (
	"math"
	"sort"
	"strings"
	"time"

	"underdisc/sim"
)

// after is the index of the first event later than t.
func after(events []sim.Event, t float64) int {
	return sort.Search(len(events), func(i int) bool { return events[i].T > t })
}

// named tells an event that is worth going to from the bounces in between.
func named(e *sim.Event) bool { return !strings.HasSuffix(e.Name, "-bounce") }

// StepSize is what Step moves by, s: what passes in a tenth of a second of the
// clock at the rate in force.
func (s *Session) StepSize() float64 {
	if s.clock.gentle && s.clock.rate > slowRate && s.fast(s.t) {
		return slowRate / 10
	}
	return s.clock.rate / 10
}

// Step holds and moves n steps on, or back.
func (s *Session) Step(n int) error {
	s.Hold()
	to := math.Max(s.t+float64(n)*s.StepSize(), 0)
	if to > s.t {
		// Not past an event that something fast follows: the next steps show it.
		_, err := s.move(to, s.clock.gentle && s.StepSize() > slowRate/10, time.Now().Add(time.Minute))
		return err
	}
	s.show(to)
	return nil
}

// Seek holds and goes to a moment, anywhere from 0 to Head.
func (s *Session) Seek(t float64) error {
	s.Hold()
	s.show(math.Min(math.Max(t, 0), s.Head()))
	return s.reached()
}

// LastEvent holds and goes to the named event before the moment shown, or to
// the start.
func (s *Session) LastEvent() error {
	to := 0.0
	for _, l := range s.lanes {
		events := l.Run.Sim.Events()
		for i := sort.Search(len(events), func(i int) bool { return events[i].T >= s.t }) - 1; i >= 0; i-- {
			if named(&events[i]) {
				to = math.Max(to, events[i].T)
				break
			}
		}
	}
	return s.Seek(to)
}

// NextEvent holds and goes to the next named event. If that is still to come,
// it is looked for, for some ticks, and Pace says so; there may be none within
// ten minutes of the run, which leaves the moment as it is.
func (s *Session) NextEvent() error {
	s.Hold()
	s.clock.seeks, s.clock.from, s.clock.far = true, s.t, s.t+farthest
	return s.search(time.Now().Add(perTick))
}

// search computes on until every lane has an event or has got as far as another
// lane's event.
func (s *Session) search(stop time.Time) error {
	c := &s.clock
	to := c.far
	for _, l := range s.lanes {
		for {
			if err := l.settle(to); err != nil {
				s.Hold()
				return err
			}
			events := l.Run.Sim.Events()
			if i := nextNamed(events, c.from); i >= 0 {
				to = math.Min(to, events[i].T)
			}
			if l.Run.Sim.State().T >= to {
				break
			}
			if time.Now().After(stop) {
				return nil
			}
			if _, err := l.Run.Sim.Advance(to, 8); err != nil {
				s.Hold()
				return err
			}
		}
	}
	c.seeks = false
	if to < c.far {
		s.show(to)
	}
	return s.reached()
}

func nextNamed(events []sim.Event, t float64) int {
	for i := after(events, t); i < len(events); i++ {
		if named(&events[i]) {
			return i
		}
	}
	return -1
}
