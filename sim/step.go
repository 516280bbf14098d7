package sim

import (
	"fmt"
	"math"

	"underdisc/sim/method"
)

// stretch is how much a step may grow to reach a timer that would otherwise
// leave a tiny step over: 5 % more length is 22 % to 28 % more error, which
// the safety of the step control covers.
const stretch = 1.05

// step makes one step, which ends at limit at the latest, and handles the
// event that ends it, if any.
func (r *Run) step(limit float64) error {
	r.mark(limit)
	r.coasting = false
	t0, explicit := r.s.T, r.ctl.Explicit
	if r.ctl.H == 0 {
		r.ctl.H = r.firstStep()
	}
	st := r.stepper()
	st.Start(r.field(), t0, r.last.s.Y, r.last.f, r.last.dq)

	var tr trial
	var guard int
	var end float64
search:
	for h := r.ctl.H; ; {
		var err error
		if tr, err = r.accept(st, h, limit, tr); err != nil {
			return err
		}
		end = tr.t1
		var hit float64
		var what outcome
		guard, hit, what = r.locate(st, &tr)
		switch {
		case what == nothing:
			break search
		case what == impossible:
			// The way to the event leaves the domain, although the longer
			// step did not, or the event is not to be believed of so long a
			// step: make do with a shorter one.
			tr.rejected, h = true, hit/2
			r.stats.Rejected++
			continue
		case hit == 0:
			// The guard never became positive, or not for long enough to
			// tell: its event happens here and now.
			copy(r.f1, r.f)
			r.handle(func() { r.sys.Cross(guard, &r.s, r.report) })
			return r.afterEvent(t0)
		case what == passed:
			guard = -1
		}
		if hit < tr.h {
			end = min(t0+hit, end)
		}
		r.field().Derivative(end, r.y1, r.f1, r.q1)
		copy(r.g1, r.gx)
		r.dense(st)
		break
	}
	r.adapt(&tr)

	st.Ledger(r.inc)
	if r.coasting {
		for i, d := range r.coasted {
			r.inc[i] += d
		}
	}
	if err := r.finiteLedger(end); err != nil {
		return err
	}
	if r.bounds != nil {
		if err := r.bounds.Within(end, r.y1); err != nil {
			return err
		}
	}
	for i, d := range r.inc {
		r.s.Q[i] += d
	}
	r.s.T = end
	copy(r.s.Y, r.y1)
	r.stats.Steps++
	if explicit {
		r.stats.Explicit++
	}
	if hist := r.set.History; hist != nil {
		hist.push(r, t0, end)
	}
	if guard >= 0 {
		r.handle(func() { r.sys.Cross(guard, &r.s, r.report) })
		return r.afterEvent(t0)
	}
	for _, d := range r.s.Timers {
		if d <= end {
			return r.afterEvent(t0)
		}
	}
	copy(r.f, r.f1)
	copy(r.dq, r.q1)
	copy(r.g, r.g1)
	r.crowd = 0
	return nil
}

// mark notes the present moment as the start of the last step.
func (r *Run) mark(limit float64) {
	p := &r.last
	p.s.set(&r.s)
	p.ctl.set(&r.ctl)
	copy(p.f, r.f)
	copy(p.dq, r.dq)
	p.events, p.limit = len(r.events), limit
	r.canRevert = true
}

// trial is a step that has been found good enough.
type trial struct {
	h, t1     float64 // size and end
	err       float64 // error in units of the tolerance
	stiffness float64 // h times the dominant eigenvalue, of an explicit step
	decay     float64 // the part of it that decays
	bounded   bool    // made shorter or longer than wished, for a timer or a limit
	rejected  bool    // a longer one was not good enough
}

// accept tries steps, from size h downwards, until one is good enough. It
// leaves the end in y1, its derivatives in f1 and q1 and its guards in g1.
func (r *Run) accept(st method.Stepper, h, limit float64, tr trial) (trial, error) {
	t0 := r.last.s.T
	for {
		tr.h, tr.t1, tr.bounded = r.fit(t0, h, limit)
		if tr.t1 <= t0 {
			return tr, r.stuck(t0)
		}
		tr.err = st.Try(tr.h, r.y1)
		if tr.err <= 1 {
			tr.stiffness, tr.decay = r.dopri.Stiffness(), r.dopri.Decay()
			if r.complete(st, &tr) == nil {
				return tr, nil
			}
			tr.err = math.Inf(1)
		}
		tr.rejected = true
		r.stats.Rejected++
		h = tr.h * r.shrink(tr.err)
		if s := r.spoiler(st, &tr); s > 0 {
			h = min(h, pastEvent*s*tr.h)
		}
	}
}

// pastEvent is how far past the seeming moment of an event a step is aimed that
// was refused with the event inside.
const pastEvent = 1.1

// spoiler looks for an event inside a trial that was refused. What spoils a
// step is often an event, past which the equations mean nothing. It returns
// the fraction of the step at which it seems to be, 0 if there is none.
func (r *Run) spoiler(st method.Stepper, tr *trial) float64 {
	if math.IsInf(tr.err, 1) {
		return 0
	}
	st.Dense(r.y1, r.c)
	r.sys.Guards(tr.t1, r.y1, r.s.Modes, r.g1)
	if guard, s := r.firstCrossing(tr.h); guard >= 0 && s > 1e-9 {
		return s
	}
	return 0
}

// fit makes a step of size h from t0 end where it should: at the first timer,
// if it would reach it or nearly so; halfway to it, if little would be left
// over; at limit at the latest. Only timers are looked ahead to: they are part
// of the state, so that every way of driving the run sees the same.
func (r *Run) fit(t0, h, limit float64) (float64, float64, bool) {
	due := math.Inf(1)
	for _, d := range r.s.Timers {
		due = min(due, d)
	}
	t1, bounded := t0+h, false
	switch left := due - t0; {
	case left <= stretch*h:
		h, t1, bounded = left, due, true
	case left < 2*h:
		h, t1, bounded = left/2, t0+left/2, true
	}
	if t1 >= limit {
		h, t1, bounded = limit-t0, limit, true
	}
	return h, t1, bounded
}

// complete works out derivatives and guards at the end of a trial and refuses
// what is not a number.
func (r *Run) complete(st method.Stepper, tr *trial) error {
	if f, q, ok := st.Last(); ok && r.last.s.T+tr.h == tr.t1 {
		copy(r.f1, f)
		copy(r.q1, q)
	} else {
		r.field().Derivative(tr.t1, r.y1, r.f1, r.q1)
	}
	r.sys.Guards(tr.t1, r.y1, r.s.Modes, r.g1)
	return r.finite(tr.t1, r.y1, r.f1, r.g1)
}

// stuck says why no step from t is small enough: usually since the solution
// runs into the border of the domain, which shows a little further on.
func (r *Run) stuck(t float64) error {
	ulp := math.Nextafter(math.Abs(t), math.Inf(1)) - math.Abs(t)
	for d := ulp; d < 1e6*ulp; d *= 4 {
		for i, y := range r.s.Y {
			r.y1[i] = y + d*r.f[i]
		}
		r.field().Derivative(t+d, r.y1, r.f1, r.q1)
		r.sys.Guards(t+d, r.y1, r.s.Modes, r.g1)
		if err := r.finite(t, r.y1, r.f1, r.g1); err != nil {
			return err
		}
	}
	return fmt.Errorf("sim: at %.9g s no step is small enough (modes %s)", t, r.modeText())
}
