package sim

import (
	"fmt"
	"math"

	"underdisc/sim/method"
)

const (
	safety    = 0.9
	shrinkMin = 0.1
	growMax   = 6.0

	// An explicit step with h*lambda above this is at its limit of stability
	// (the 5(4) pair's reaches to 3.3 on the negative axis).
	stabilityLimit = 3.2
	// After so many such steps the implicit method takes over.
	heldSteps = 8
	// The implicit step costs 2 to 2.5 explicit ones: while it is no longer
	// than this many 1/lambda, explicit steps do the same way for less.
	easyReach = 5.0
	// After so many such steps, and not sooner after a change than dwellSteps,
	// the explicit method takes over.
	easySteps  = 3
	dwellSteps = 6
)

// step makes one step, which ends at limit at the latest, and handles the
// event that ends it, if any.
func (r *Run) step(limit float64) error {
	p := &r.last
	p.s.set(&r.s)
	p.ctl.set(&r.ctl)
	copy(p.f, r.f)
	copy(p.dq, r.dq)
	copy(p.g, r.g)
	p.events = len(r.events)
	r.canRevert = true

	t0 := r.s.T
	for _, d := range r.s.Timers {
		limit = min(limit, d)
	}
	if r.ctl.H == 0 {
		r.ctl.H = r.firstStep()
	}
	h, toLimit := r.ctl.H, false
	rejected := false
	var st method.Stepper
	var errNorm, t1 float64
	for {
		st = r.stepper()
		st.Start(r.field(), t0, p.s.Y, p.f, p.dq)
		t1 = t0 + h
		toLimit = t1 >= limit || limit-t1 < 1e-3*h && limit-t1 < 1e-9*h
		if toLimit {
			t1 = limit
			h = limit - t0
		}
		if t1 <= t0 {
			return r.stuck(t0)
		}
		errNorm = st.Try(h, r.y1)
		if errNorm <= 1 {
			if f, q, ok := st.Last(); ok {
				copy(r.f1, f)
				copy(r.q1, q)
			} else {
				r.field().Derivative(t1, r.y1, r.f1, r.q1)
			}
			if r.finite(t1, r.y1, r.f1) == nil {
				break
			}
			errNorm = math.Inf(1)
		}
		rejected = true
		r.stats.Rejected++
		fac := 0.25
		if !math.IsInf(errNorm, 1) {
			fac = max(shrinkMin, safety*math.Pow(errNorm, -r.exponent()))
		}
		h *= fac
	}

	next := h * growth(errNorm, r.exponent())
	if rejected {
		next = min(next, h)
	}
	if !toLimit || next < r.ctl.H {
		r.ctl.H = next
	}
	r.choose(h)

	// Events within the step.
	st.Dense(r.y1, r.c)
	r.sys.Guards(t1, r.y1, r.s.Modes, r.g1)
	guard, s := r.firstCrossing(h)
	if guard >= 0 && s == 0 {
		// The guard never became positive: its event happens here and now.
		r.handle(func() { r.sys.Cross(guard, &r.s, r.report) })
		return r.afterEvent(t0)
	}
	if guard >= 0 {
		hit, err := r.polish(st, guard, h, s)
		if err != nil {
			return err
		}
		h = hit
		t1 = t0 + h
		toLimit = false
		st.Dense(r.y1, r.c)
	}

	st.Ledger(r.inc)
	for i, d := range r.inc {
		r.s.Q[i] += d
	}
	r.s.T = t1
	copy(r.s.Y, r.y1)
	r.stats.Steps++
	if r.ctl.Explicit {
		r.stats.Explicit++
	}
	if hist := r.set.History; hist != nil {
		hist.push(r, t0, t1)
	}
	if guard >= 0 {
		r.handle(func() { r.sys.Cross(guard, &r.s, r.report) })
		return r.afterEvent(t0)
	}
	copy(r.f, r.f1)
	copy(r.dq, r.q1)
	copy(r.g, r.g1)
	for _, d := range r.s.Timers {
		if d <= t1 {
			return r.afterEvent(t0)
		}
	}
	return nil
}

// afterEvent settles the system and, if the motion it leaves behind differs
// from the one before, starts the step size anew.
func (r *Run) afterEvent(t0 float64) error {
	copy(r.f1, r.f)
	fromEnd := r.s.T > t0
	if fromEnd {
		r.field().Derivative(r.s.T, r.s.Y, r.f1, r.q1)
	}
	if err := r.settle(); err != nil {
		return err
	}
	for i, f := range r.f {
		if f != r.f1[i] {
			r.ctl.H = 0
			return nil
		}
	}
	return nil
}

func growth(errNorm, exponent float64) float64 {
	if errNorm == 0 {
		return growMax
	}
	return min(growMax, max(shrinkMin, safety*math.Pow(errNorm, -exponent)))
}

func (r *Run) exponent() float64 {
	if r.ctl.Explicit {
		return 1. / 5
	}
	return 1. / 4
}

func (r *Run) stepper() method.Stepper {
	if r.ctl.Explicit {
		return r.dopri
	}
	return r.rodas
}

// choose decides, after a step of size h has been accepted, which method makes
// the next.
func (r *Run) choose(h float64) {
	if r.set.Methods != Auto {
		return
	}
	c := &r.ctl
	c.Dwell++
	if c.Explicit {
		if r.dopri.Stiffness() > stabilityLimit {
			c.Held, c.Easy = c.Held+1, 0
		} else if c.Easy++; c.Easy >= 6 {
			c.Held = 0
		}
		if c.Held >= heldSteps {
			c.Explicit, c.Held, c.Easy, c.Dwell = false, 0, 0, 0
		}
		return
	}
	rho := r.rodas.Spectral(c.Z)
	if h*rho < easyReach {
		c.Easy++
	} else {
		c.Easy = 0
	}
	if c.Easy >= easySteps && c.Dwell >= dwellSteps {
		c.Explicit, c.Held, c.Easy, c.Dwell = true, 0, 0, 0
		c.H = min(c.H, 3/rho)
	}
}

// firstStep estimates a first step (Hairer, Norsett, Wanner I, section II.4):
// an explicit Euler step of it changes the solution by about a hundredth of
// the tolerance's power.
func (r *Run) firstStep() float64 {
	order := float64(r.stepper().Order())
	d0, d1, count := 0.0, 0.0, 0
	w := func(i int) float64 { return r.tol.Rel * max(math.Abs(r.s.Y[i]), r.tol.Scale[i]) }
	for i := range r.s.Y {
		if r.tol.Active[i] {
			a, b := r.s.Y[i]/w(i), r.f[i]/w(i)
			d0 += a * a
			d1 += b * b
			count++
		}
	}
	if count == 0 {
		return 1
	}
	d0, d1 = math.Sqrt(d0/float64(count)), math.Sqrt(d1/float64(count))
	h0 := 1e-6
	if d0 > 1e-5 && d1 > 1e-5 {
		h0 = 0.01 * d0 / d1
	}
	for try := 0; try < 8; try++ {
		for i := range r.s.Y {
			r.ys[i] = r.s.Y[i] + h0*r.f[i]
		}
		r.field().Derivative(r.s.T+h0, r.ys, r.f1, r.q1)
		d2 := 0.0
		for i := range r.s.Y {
			if r.tol.Active[i] {
				b := (r.f1[i] - r.f[i]) / w(i)
				d2 += b * b
			}
		}
		d2 = math.Sqrt(d2/float64(count)) / h0
		if math.IsNaN(d2) || math.IsInf(d2, 0) {
			h0 *= 0.01
			continue
		}
		h1 := max(1e-6, 1e-3*h0)
		if d := max(d1, d2); d > 1e-15 {
			h1 = math.Pow(0.01/d, 1/(order+1))
		}
		return min(100*h0, h1)
	}
	return 1e-9
}

func (r *Run) stuck(t float64) error {
	r.field().Derivative(t, r.y1, r.f1, r.q1)
	if err := r.finite(t, r.y1, r.f1); err != nil {
		return err
	}
	if err := r.finite(t, r.s.Y, r.f); err != nil {
		return err
	}
	return fmt.Errorf("sim: at %.9g s no step is small enough (modes %s)", t, r.modeText())
}
