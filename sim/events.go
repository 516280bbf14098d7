package sim

import (
	"fmt"
	"math"
	"slices"
)

// crowdLimit bounds the events that follow one another within less than
// crowdTime of the time itself: a healthy system needs a handful, one that
// piles them up would never get on.
const (
	crowdLimit = 200
	crowdTime  = 1e-12
)

func (r *Run) record(name, part string) {
	r.events = append(r.events, Event{T: r.s.T, Name: name, Part: part, Interval: len(r.systems) - 1})
	r.recorded++
}

// handle calls a handler and completes the events that it records.
func (r *Run) handle(do func()) {
	copy(r.ys, r.s.Y)
	copy(r.modes, r.s.Modes)
	r.recorded = 0
	do()
	if r.set.NoPast || r.recorded == 0 {
		return
	}
	before, after := slices.Clone(r.ys), slices.Clone(r.s.Y)
	from, to := slices.Clone(r.modes), slices.Clone(r.s.Modes)
	for i := len(r.events) - r.recorded; i < len(r.events); i++ {
		r.events[i].Before, r.events[i].After = before, after
		r.events[i].From, r.events[i].To = from, to
	}
}

// afterEvent settles the system and, if the motion that the event leaves
// behind differs from the one before, whose derivative stands in f1, starts
// the step size anew.
func (r *Run) afterEvent(t0 float64) error {
	if r.s.T-t0 > crowdTime*math.Max(1, math.Abs(t0)) {
		r.crowd = 0
	} else if r.crowd++; r.crowd > crowdLimit {
		return r.endless()
	}
	if err := r.settle(); err != nil {
		return err
	}
	for i, f := range r.f {
		if f != r.f1[i] {
			r.ctl.restart()
			break
		}
	}
	return nil
}

// settle handles due timers and guards below zero until there are none, then
// brings derivative, guards and active variables up to date.
func (r *Run) settle() error {
	for count := 0; ; count++ {
		if count > crowdLimit {
			return r.endless()
		}
		due := -1
		for i, d := range r.s.Timers {
			if d <= r.s.T && (due < 0 || d < r.s.Timers[due]) {
				due = i
			}
		}
		if due >= 0 {
			r.s.Timers[due] = math.Inf(1)
			r.handle(func() { r.sys.Expire(due, &r.s, r.report) })
			continue
		}
		r.sys.Guards(r.s.T, r.s.Y, r.s.Modes, r.g)
		hit := -1
		for i, g := range r.g {
			if g < 0 {
				hit = i
				break
			}
		}
		if hit < 0 {
			break
		}
		r.handle(func() { r.sys.Cross(hit, &r.s, r.report) })
	}
	r.refresh()
	return r.finite(r.s.T, r.s.Y, r.f, r.g)
}

func (r *Run) endless() error {
	return fmt.Errorf("sim: at %.9g s events follow one another without end (modes %s)", r.s.T, r.modeText())
}

func (r *Run) refresh() {
	r.reshape()
	r.field().Derivative(r.s.T, r.s.Y, r.f, r.dq)
	r.sys.Guards(r.s.T, r.s.Y, r.s.Modes, r.g)
}

func (r *Run) reshape() {
	r.sys.Moving(r.s.Modes, r.tol.Active)
	r.rodas.Reshape()
}
