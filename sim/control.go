package sim

import (
	"math"
	"slices"

	"underdisc/sim/method"
)

const (
	safety    = 0.9
	shrinkMin = 0.1
	growMax   = 6.0

	// An explicit step with h*lambda above this is at its limit of stability
	// (the 5(4) pair's reaches to 3.3 on the negative axis).
	stabilityLimit = 2.9
	// After so many such steps the implicit method takes over.
	heldSteps = 5
	// The stages see a stiff mode only as far as the solution excites it, and
	// the Jacobian where it swings about the slow solution may show less of it:
	// so after so many explicit steps the implicit method is tried, after twice
	// as many if that turned out not to be worth it.
	patience    = 30
	patienceMax = 960
	// The implicit step costs 2 to 2.5 explicit ones: while it is no longer
	// than this many 1/lambda, explicit steps do the same way for less.
	easyReach = 5.0
	// After so many such steps, and not sooner after a change than dwellSteps,
	// the explicit method takes over.
	easySteps  = 3
	dwellSteps = 6
)

// Control is the memory of step size and method choice.
type Control struct {
	H        float64 // next step to try; 0: estimate it
	Explicit bool
	Held     int // consecutive steps that stability, not accuracy, held
	Easy     int // consecutive steps that the other method would have made as well
	Dwell    int // steps since the method was changed
	Patience int // explicit steps after which the implicit method is tried
	Z        []float64
}

func (c *Control) set(from *Control) {
	z := c.Z
	*c = *from
	c.Z = z
	copy(c.Z, from.Z)
}

func (c *Control) clone() Control {
	d := *c
	d.Z = slices.Clone(c.Z)
	return d
}

// adapt sets the size of the next step after the trial has been accepted, and
// chooses its method.
func (r *Run) adapt(tr *trial) {
	wish := tr.h * safety * math.Pow(tr.err, -r.exponent())
	switch {
	case tr.bounded:
		// The end was not the control's to choose: what was wished for stays,
		// unless it has turned out too long.
		r.ctl.H = min(r.ctl.H, wish)
	case tr.rejected:
		r.ctl.H = min(wish, tr.h)
	default:
		r.ctl.H = min(wish, growMax*tr.h)
	}
	r.choose(tr)
}

// shrink is the factor for a step whose error was too large.
func (r *Run) shrink(err float64) float64 {
	if math.IsInf(err, 1) {
		return 0.25
	}
	return max(shrinkMin, safety*math.Pow(err, -r.exponent()))
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

// choose decides, after a step has been accepted, which method makes the next.
func (r *Run) choose(tr *trial) {
	if r.set.Methods != Auto {
		return
	}
	c := &r.ctl
	c.Dwell++
	if c.Explicit {
		if tr.stiffness > stabilityLimit {
			c.Held, c.Easy = c.Held+1, 0
		} else if c.Easy++; c.Easy >= 6 {
			c.Held = 0
		}
		if c.Held >= heldSteps || c.Dwell >= max(c.Patience, patience) {
			c.Explicit, c.Held, c.Easy, c.Dwell = false, 0, 0, 0
		}
		return
	}
	rho := r.rodas.Spectral(c.Z)
	if tr.h*rho < easyReach {
		c.Easy++
	} else {
		c.Easy = 0
	}
	if c.Easy >= easySteps && c.Dwell >= dwellSteps {
		if c.Dwell < 2*dwellSteps {
			c.Patience = min(2*max(c.Patience, patience), patienceMax)
		} else {
			c.Patience = 0
		}
		c.Explicit, c.Held, c.Easy, c.Dwell = true, 0, 0, 0
		c.H = min(c.H, 3/rho)
	}
}

// firstCaution: the estimate sees two derivatives. After an event the higher
// ones rule, and the plain estimate was refused nine times in ten, for being
// eight to fifteen times too long.
const firstCaution = 8

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
		return min(100*h0, h1) / firstCaution
	}
	return 1e-9
}
