// Package session is one sitting at the picture: a run, or two in step, a clock
// over them, and what is done to them. It knows no screen: whoever shows it
// calls Tick with the wall time that has passed, and turns keys and buttons
// into its methods. All methods are called from one goroutine.
//
// The engine runs ahead of the moment shown by at most a part of a step, or by
// what a search for the next event has covered. What lies beyond Head has not
// been shown and may be taken back.
package session

import (
	"errors"
	"fmt"
	"math"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// Options of a session.
type Options struct {
	RelTol float64 // 0: that of the log, or 1e-6
	// Known is how far the run has come before, s: a run that is opened again
	// can be looked at anywhere up to there at once.
	Known float64
	// Log starts the log of a lane, before anything is done in it, of a run with
	// a relative tolerance; nil: none.
	Log func(lane int, sc *scenarios.Scenario, relTol float64) (Recorder, error)
}

// Recorder takes down what is done in one lane, as it is done. When Did has
// returned, the action is safe.
type Recorder interface {
	Did(a scenarios.Action) error
	Reached(t float64) error // how far the run has come, s
	Close() error
}

// Lane is one run of the session.
type Lane struct {
	Run   *live.Run
	Forks float64            // when it parted from the first lane, s
	Did   []scenarios.Action // in it, those before the fork included
	when  []float64          // when each of them was decided, s: what is still to come has been
	seen  float64            // latest moment shown, s
	log   Recorder
	told  float64 // what the log has been told that it has reached, s
}

// Session is one sitting.
type Session struct {
	opt   Options
	base  *scenarios.Scenario
	lanes []*Lane
	t     float64 // shown, s
	clock clock
	differs
}

const keep = 400 // blocks of history in memory, some 300 MB at the most

// ErrLog wraps what went wrong when the log was written: the action was done.
var ErrLog = errors.New("the log could not be written")

// New starts a session at the beginning of a scenario, held. From the log of a
// run it starts with what was done in that run: it can be looked at anywhere at
// once, and left at any moment for another.
func New(sc *scenarios.Scenario, o Options) (*Session, error) {
	var did []scenarios.Action
	if log := sc.Log; log != nil {
		sc, did, o.Known = log.Start, log.Did, math.Max(o.Known, log.Reached)
		if o.RelTol == 0 {
			o.RelTol = log.RelTol
		}
	}
	if o.RelTol == 0 {
		o.RelTol = usualRelTol
	}
	s := &Session{opt: o, base: sc, clock: newClock()}
	first, err := s.lane(nil, did, 0)
	if err != nil {
		return nil, err
	}
	for i := range first.when { // all of it was decided before the log ended
		first.when[i] = math.Min(first.when[i], o.Known)
	}
	s.lanes = []*Lane{first}
	if o.Known > 0 {
		if _, err := first.Run.Sim.Advance(o.Known, 0); err != nil {
			return nil, err
		}
		first.seen = o.Known
	}
	return s, s.startLog(first, 0)
}

const usualRelTol = 1e-6

// startLog starts the log of a lane with what has been done in it so far.
func (s *Session) startLog(l *Lane, number int) error {
	if s.opt.Log == nil {
		return nil
	}
	fail := func(err error) error { return fmt.Errorf("%w: %w", ErrLog, err) }
	var err error
	if l.log, err = s.opt.Log(number, s.base, s.opt.RelTol); err != nil {
		return fail(err)
	}
	for _, a := range l.Did {
		if err := l.log.Did(a); err != nil {
			return fail(err)
		}
	}
	return l.reach()
}

// lane makes a lane of the scenario with what was done, from a run that did the
// same up to t, or from the beginning, and brings it to t.
func (s *Session) lane(from *live.Run, did []scenarios.Action, t float64) (*Lane, error) {
	sc := *s.base
	for _, a := range did {
		sc.Record(a)
	}
	if from != nil && !from.Scenario.Sealed() && sc.Sealed() { // what has been revealed stays so
		open := *sc.Hidden
		open.Revealed = true
		sc.Hidden = &open
	}
	l := &Lane{Did: did, told: -1}
	for _, a := range did { // as far as is known
		l.when = append(l.when, a.At())
	}
	var err error
	if from != nil && from.Sim.State().T > 0 { // before the first step there is no history to fork from
		l.Run, err = from.Fork(t, &sc, keep)
		return l, err
	}
	if l.Run, err = live.Start(&sc, live.Options{RelTol: s.opt.RelTol, Keep: keep}); err != nil {
		return nil, err
	}
	_, err = l.Run.Sim.Advance(t, 0)
	return l, err
}

// T is the moment shown, s.
func (s *Session) T() float64 { return s.t }

// Head is the latest moment that has been shown of the newest lane, s: at it, an
// action goes on with the run; before it, it forks.
func (s *Session) Head() float64 { return s.lanes[len(s.lanes)-1].seen }

// Lanes are the runs: one, or two side by side.
func (s *Session) Lanes() []*Lane { return s.lanes }

// Close closes the logs.
func (s *Session) Close() error {
	var errs []error
	for _, l := range s.lanes {
		errs = append(errs, l.close())
	}
	return errors.Join(errs...)
}

func (l *Lane) close() error {
	if l.log == nil {
		return nil
	}
	err := l.reach()
	err = errors.Join(err, l.log.Close())
	l.log = nil
	return err
}

// reach tells the log how far the lane has come.
func (l *Lane) reach() error {
	if l.log == nil || l.seen == l.told {
		return nil
	}
	l.told = l.seen
	if err := l.log.Reached(l.seen); err != nil {
		return fmt.Errorf("%w: %w", ErrLog, err)
	}
	return nil
}

// show moves the moment shown.
func (s *Session) show(t float64) {
	s.t = t
	for _, l := range s.lanes {
		l.seen = math.Max(l.seen, t)
	}
}

// reached tells the logs.
func (s *Session) reached() error {
	var errs []error
	for _, l := range s.lanes {
		errs = append(errs, l.reach())
	}
	return errors.Join(errs...)
}
