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

	// How much of the trend of the error the control expects to go on
	// (Gustafsson's predictive control, Hairer and Wanner II, section IV.8).
	// It spares a third to a half of the refused steps. All of it is too much
	// for the explicit method, whose error swings where stability holds it.
	implicitTrend, explicitTrend = 1.0, 0.5
	// A smaller error is no start of a trend.
	errMin = 0.01

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
	// A mode that swings, which is one of whose h*lambda less than this share
	// decays, grows in an explicit step above swingLimit by more than a plant
	// damps it. The error then drives the step back and lets it come again, for as
	// long as explicit steps are made: of such modes the estimate of stiffness
	// sees no more than they reach, about 2.
	swingShare = 0.25
	swingLimit = 1.4
	// Since explicit steps keep such a mode alive, the implicit method is at
	// first held to their size as well. It gets rid of the mode if it is let, so
	// it stays unless accuracy alone makes its steps shorter than this share of
	// those at which the explicit ones were held.
	swingBack = 0.7
	// After so many such steps, and not sooner after a change than dwellSteps,
	// the explicit method takes over.
	easySteps  = 3
	dwellSteps = 6
)

// Control is the memory of step size and method choice.
type Control struct {
	H        float64 // next step to try; 0: estimate it
	HLast    float64 // last step made; 0: none since the last start
	ErrLast  float64 // its error
	Explicit bool
	Held     int     // consecutive steps that stability, not accuracy, held
	Easy     int     // consecutive steps that the other method would have made as well
	Dwell    int     // steps since the method was changed
	Swung    int     // explicit steps held by a mode that swings, of late: two for each, less one for each other
	Patience int     // explicit steps after which the implicit method is tried
	HeldAt   float64 // size of the explicit steps that such a mode held; 0: none
	Z        []float64
}

// restart forgets what an event or a command has made worthless.
func (c *Control) restart() { c.H, c.HLast, c.HeldAt = 0, 0, 0 }

// change turns to the other method.
func (c *Control) change() {
	c.Explicit = !c.Explicit
	c.HLast, c.Held, c.Easy, c.Dwell, c.Swung = 0, 0, 0, 0, 0
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
	if c := &r.ctl; c.HLast > 0 {
		trend := implicitTrend
		if c.Explicit {
			trend = explicitTrend
		}
		wish *= min(1, tr.h/c.HLast*math.Pow(c.ErrLast/tr.err, trend*r.exponent()))
	}
	r.ctl.HLast, r.ctl.ErrLast = tr.h, max(tr.err, errMin)
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
		if tr.stiffness > swingLimit && tr.decay < swingShare*tr.stiffness {
			c.Swung = min(c.Swung+2, 2*heldSteps)
		} else {
			// Errors drive the step back and let it come again, so it swings in
			// some steps only.
			c.Swung = max(c.Swung-1, 0)
		}
		if c.Held >= heldSteps || c.Dwell >= max(c.Patience, patience) {
			c.HeldAt = 0
			if c.Swung >= heldSteps {
				c.HeldAt = tr.h
			}
			c.change()
		}
		return
	}
	rho := r.rodas.Spectral(c.Z)
	// A step that is still growing after a start says nothing yet.
	h := max(tr.h, c.H)
	if h*rho < easyReach && (c.HeldAt == 0 || h < swingBack*c.HeldAt) {
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
		c.change()
		c.H = min(c.H, 3/rho)
	}
}

const (
	// firstError is the error, in units of the tolerance, that the estimate of
	// the first step allows itself. What it takes for the derivative that makes
	// the error is larger than the error constants of the methods by more than
	// this.
	firstError = 10.0
	// firstCaution is by how much the estimate is then shortened: after an
	// event it is too long more often than too short, and a refusal costs as
	// much as a step.
	firstCaution = 2.0
	// firstProbe is how far, in parts of the variables' sizes, the second
	// derivative is probed: far above rounding, far below what matters.
	firstProbe = 1e-6
)

// firstStep estimates a first step from how fast the variables move and how
// fast that changes: with lambda = |y"|/|y'|, the derivative of order p + 1,
// which makes the error of a method of order p, is taken to be y' lambda^p. No
// step moves them by more than their own size.
func (r *Run) firstStep() float64 {
	p := float64(r.stepper().Order())
	d1 := r.size(r.f)
	if d1 == 0 {
		return 1
	}
	for h := firstProbe / d1; r.s.T+h > r.s.T; h *= 0.01 {
		for i, y := range r.s.Y {
			r.ys[i] = y + h*r.f[i]
		}
		r.field().Derivative(r.s.T+h, r.ys, r.f1, r.q1)
		for i, f := range r.f {
			r.f1[i] = (r.f1[i] - f) / h
		}
		d2 := r.size(r.f1)
		if math.IsNaN(d2) || math.IsInf(d2, 0) {
			continue // out of the domain
		}
		first := math.Pow(firstError*r.tol.Rel/(d1*math.Pow(d2/d1, p)), 1/(p+1))
		return min(first, 1/d1) / firstCaution
	}
	return firstProbe / d1
}

// size is the root mean square of the active variables' v, each in units of
// the variable's own size.
func (r *Run) size(v []float64) float64 {
	sum, count := 0.0, 0
	for i, y := range r.s.Y {
		if r.tol.Active[i] {
			x := v[i] / max(math.Abs(y), r.tol.Scale[i])
			sum += x * x
			count++
		}
	}
	if count == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(count))
}
