package session

import (
	"math"
	"strings"
	"time"

	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/sim"
)

// Rates that are offered, simulated seconds per second of the clock.
var rates = []float64{0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100}

const (
	slowRate = 0.02                   // while something fast happens: an opening lasts some four seconds
	perTick  = 6 * time.Millisecond   // of computing
	longest  = time.Second            // of wall time in one tick; a window that was asleep does not leap
	logEvery = 500 * time.Millisecond // of wall time
	farthest = 600.0                  // s: how far the next event is looked for
)

// Pace is how time goes at the moment.
type Pace struct {
	Runs   bool    // false: it is held
	Asked  float64 // simulated seconds per second of the clock, as chosen
	Given  float64 // as it goes now: less than Asked while slowed, or while it cannot keep up
	Slowed bool    // slowed by itself, because something fast happens
	Behind bool    // the computer cannot keep up with what is asked
	Seeks  bool    // it looks for the next event
}

type clock struct {
	runs, gentle bool
	rate         float64
	slowed       bool
	behind       float64 // share of the wall time that was lost, of late
	seeks        bool
	from, far    float64       // the search: where it began, and where it gives up
	unlogged     time.Duration // since the logs were told
}

func newClock() clock { return clock{rate: 1, gentle: true} }

// Pace is how time goes now.
func (s *Session) Pace() Pace {
	c := &s.clock
	p := Pace{Runs: c.runs, Asked: c.rate, Given: c.rate, Slowed: c.slowed, Seeks: c.seeks, Behind: c.behind > 0.05}
	if c.slowed {
		p.Given = math.Min(c.rate, slowRate)
	}
	if p.Behind {
		p.Given *= 1 - c.behind
	}
	return p
}

// Go lets time run.
func (s *Session) Go() { s.clock.runs, s.clock.seeks = true, false }

// Hold stops it.
func (s *Session) Hold() {
	s.clock.runs, s.clock.seeks, s.clock.slowed, s.clock.behind = false, false, false, 0
}

// SetRate chooses the rate that is offered nearest to the one given.
func (s *Session) SetRate(rate float64) { s.clock.rate = rates[nearest(rate)] }

// Faster and Slower choose the neighbouring rate.
func (s *Session) Faster() { s.clock.rate = rates[min(nearest(s.clock.rate)+1, len(rates)-1)] }

// Slower is the reverse of Faster.
func (s *Session) Slower() { s.clock.rate = rates[max(nearest(s.clock.rate)-1, 0)] }

// nearest rate, by ratio.
func nearest(rate float64) int {
	best, off := 0, math.Inf(1)
	for i, r := range rates {
		if d := math.Abs(math.Log(rate / r)); d < off {
			best, off = i, d
		}
	}
	return best
}

// SlowsByItself tells whether time slows down by itself around what is fast.
func (s *Session) SlowsByItself() bool { return s.clock.gentle }

// SlowByItself chooses that.
func (s *Session) SlowByItself(on bool) { s.clock.gentle = on }

// Tick lets wall time pass: unless held, the moment shown moves on, and the runs
// with it. It computes for a few milliseconds; what it has not reached by then
// is lost, and Pace says so.
func (s *Session) Tick(wall time.Duration) error {
	c := &s.clock
	stop := time.Now().Add(perTick)
	if c.seeks {
		return s.search(stop)
	}
	if !c.runs || wall <= 0 {
		return nil
	}
	if wall > longest {
		wall = longest
	}
	whole := wall.Seconds()
	left, lost := whole, 0.0
	for left > 0 {
		rate := c.rate
		c.slowed = c.gentle && rate > slowRate && s.fast(s.t)
		if c.slowed {
			rate = slowRate
		}
		from := s.t
		in, err := s.move(s.t+left*rate, c.gentle && !c.slowed && rate > slowRate, stop)
		if err != nil {
			s.Hold()
			return err
		}
		if !in {
			lost = math.Max(left-(s.t-from)/rate, 0)
			break
		}
		if s.t == from && !c.slowed {
			break // less than a rounding error is left
		}
		left -= (s.t - from) / rate
		if left < 1e-9 {
			break
		}
	}
	const memory = 0.5 // s
	k := math.Min(whole/memory, 1)
	c.behind += k * (lost/whole - c.behind)
	if c.unlogged += wall; c.unlogged >= logEvery {
		c.unlogged = 0
		return s.reached()
	}
	return nil
}

// move goes forward to a time, or, if asked, only to the first event on the way
// that something fast follows; it tells whether it got there in time.
func (s *Session) move(to float64, toFast bool, stop time.Time) (in bool, err error) {
	at := to
	for _, l := range s.lanes {
		if err := l.settle(at); err != nil {
			return false, err
		}
	}
	if toFast {
		if t, ok := s.nextFast(s.t, to); ok {
			s.show(t)
			return true, nil
		}
	}
	for got := 1; ; got++ {
		l := s.last() // so that all have come as far when the time is up
		if l.Run.Sim.State().T >= at {
			break
		}
		if got&15 == 0 && time.Now().After(stop) {
			s.show(math.Max(l.Run.Sim.State().T, s.t))
			return false, nil
		}
		before := len(l.Run.Sim.Events())
		if _, err := l.Run.Sim.Advance(at, 1); err != nil {
			return false, err
		}
		if !toFast {
			continue
		}
		for _, e := range l.Run.Sim.Events()[min(before, len(l.Run.Sim.Events())):] {
			if e.T > s.t && e.T < at && fastAfter(l.Run, &e) {
				at = e.T
			}
		}
	}
	s.show(at)
	return true, nil
}

// settle carries out what has been decided for up to a moment, s, in a lane whose
// engine may have stepped past it already.
func (l *Lane) settle(t float64) error {
	_, err := l.Run.Sim.Advance(math.Min(t, l.Run.Sim.State().T), 1)
	return err
}

// last is the lane that has come least far.
func (s *Session) last() *Lane {
	out := s.lanes[0]
	for _, l := range s.lanes[1:] {
		if l.Run.Sim.State().T < out.Run.Sim.State().T {
			out = l
		}
	}
	return out
}

// nextFast finds the first event in (from, to] of what has been computed that
// something fast follows.
func (s *Session) nextFast(from, to float64) (float64, bool) {
	first := math.Inf(1)
	for _, l := range s.lanes {
		events := l.Run.Sim.Events()
		for i := after(events, from); i < len(events) && events[i].T <= to; i++ {
			if fastAfter(l.Run, &events[i]) {
				first = math.Min(first, events[i].T)
				break
			}
		}
	}
	return first, !math.IsInf(first, 1)
}

func fastAfter(r *live.Run, e *sim.Event) bool {
	if e.After == nil {
		return false
	}
	m := r.Model(e.Interval)
	s := m.Snapshot(e.T, e.After, e.To, nil)
	for i := range s.Valves {
		if fast(&s.Valves[i], e) {
			return true
		}
	}
	for i := range s.Springs {
		if springFast(&s.Springs[i]) || e.Name == "pop" {
			return true
		}
	}
	return false
}

// fast tells whether, at a moment, something happens in a lane that an eye
// cannot follow at full speed.
func (s *Session) fast(t float64) bool {
	for _, l := range s.lanes {
		snap, _, err := l.Run.At(t)
		if err != nil {
			continue
		}
		for i := range snap.Valves {
			if fast(&snap.Valves[i], nil) {
				return true
			}
		}
		for i := range snap.Springs {
			if springFast(&snap.Springs[i]) {
				return true
			}
		}
	}
	return false
}

// quick is the speed of a spring-loaded valve's disc, in travels per second, from
// which on it is fast.
const quick = 0.5

// springFast tells it of a spring-loaded valve: it pops or snaps shut. One that
// follows the pressure does not.
func springFast(v *plant.SpringState) bool {
	return v.Pop == plant.Lifted && v.Hold == plant.Moving && math.Abs(v.Speed) > quick*v.Spec.Disc.Travel
}

// rush is the relative rate of change of the chamber's pressure, 1/s, from which
// on it is fast: the whole of it within half a second.
const rush = 2

// fast tells it of a valve: disc or pilot move, the relay is about to change
// over, the current builds up or fades while the pilot has yet to follow, or the
// chamber empties or fills. The event is one that has just happened, or nil.
func fast(v *plant.ValveState, e *sim.Event) bool {
	switch {
	case v.Disc.Hold == plant.Moving || v.Pilot.Hold == plant.Moving:
		return true
	case v.Control.Fitted && (v.Control.RelayDue < math.Inf(1) || v.Control.Made != v.Control.RelayOn && e != nil && strings.HasPrefix(e.Name, "switch-")):
		return true
	case v.Coil.Voltage > 0 && v.Pilot.Hold == plant.HeldShut && v.Coil.Current < 0.98*v.Coil.Voltage/v.Coil.Impedance:
		return true
	case v.Coil.Voltage <= 0 && v.Pilot.Hold == plant.HeldOpen && v.Coil.Current > 0.02*v.Coil.Supply/v.Coil.Impedance:
		return true
	}
	return math.Abs(v.BelowRate) > rush*v.Below
}
