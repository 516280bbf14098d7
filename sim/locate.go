package sim

import (
	"fmt"
	"math"

	"underdisc/sim/method"
)

// firstCrossing looks for the earliest guard that crosses zero within the step
// whose dense output is r.c, whose starting guards are r.g and whose end guards
// are r.g1. It returns the guard, -1 if there is none, and the fraction of the
// step at which it crosses; 0 means that a guard which started at zero never
// became positive.
func (r *Run) firstCrossing(h float64) (guard int, s float64) {
	guard, s = -1, 2
	if len(r.g) == 0 {
		return
	}
	r.guardsAt(0.5, h, r.gm)
	for i := range r.g {
		if math.IsInf(r.g1[i], 1) {
			continue
		}
		lo, hi, found := 0.0, 0.0, false
		switch {
		case r.g[i] > 0 && r.gm[i] <= 0:
			lo, hi, found = 0, 0.5, true
		case (r.g[i] > 0 || r.gm[i] > 0) && r.g1[i] <= 0:
			lo, hi, found = 0.5, 1, true
			if r.gm[i] <= 0 {
				lo = 0
			}
		}
		if r.g[i] <= 0 && r.gm[i] <= 0 {
			// It started at zero. A short flight may have begun and ended
			// before the middle: look for an inside point with the right sign,
			// ever closer to the start.
			lo, hi, found = r.flight(i, h)
			if !found {
				if r.g1[i] > 0 {
					continue
				}
				return i, 0
			}
		}
		if !found {
			continue
		}
		if at := r.root(i, h, lo, hi); at < s {
			guard, s = i, at
		}
	}
	return
}

func (r *Run) guardsAt(s, h float64, g []float64) {
	method.Eval(r.c, s, r.ys)
	r.sys.Guards(r.last.s.T+s*h, r.ys, r.s.Modes, g)
}

func (r *Run) guardAt(i int, s, h float64) float64 {
	r.guardsAt(s, h, r.gm)
	return r.gm[i]
}

// flight brackets the end of a short excursion above zero of guard i.
func (r *Run) flight(i int, h float64) (lo, hi float64, found bool) {
	keep := r.gm[i]
	defer func() { r.gm[i] = keep }()
	for hi = 0.5; hi > 1e-12; hi = lo {
		lo = hi / 2
		if r.guardAt(i, lo, h) > 0 {
			return lo, hi, true
		}
	}
	return 0, 0, false
}

// root finds the crossing of guard i on the dense output between lo, where it
// is positive, and hi, where it is not: regula falsi with the Illinois weights,
// to a millionth of the step, since polishing follows.
func (r *Run) root(i int, h, lo, hi float64) float64 {
	gl, gh := r.guardAt(i, lo, h), r.guardAt(i, hi, h)
	if math.IsInf(gl, 0) || !(gl > 0) {
		gl = math.Max(r.g[i], 0)
	}
	side := 0
	for k := 0; k < 60 && hi-lo > 1e-6*hi; k++ {
		m := (lo + hi) / 2
		if d := gl - gh; d > 0 && k < 40 {
			m = lo + (hi-lo)*gl/d
			if !(m > lo && m < hi) {
				m = (lo + hi) / 2
			}
		}
		gm := r.guardAt(i, m, h)
		if gm > 0 {
			lo, gl = m, gm
			if side == 1 {
				gh /= 2
			}
			side = 1
		} else {
			hi, gh = m, gm
			if gm == 0 {
				return hi
			}
			if side == -1 {
				gl /= 2
			}
			side = -1
		}
	}
	return hi
}

// polish steps to the crossing of guard i near the fraction s of the step of
// size h and moves the end until it is the crossing of the stepped solution,
// not of the interpolant. It leaves that solution in y1 and returns the size.
func (r *Run) polish(st method.Stepper, i int, h, s float64) (float64, error) {
	t0 := r.last.s.T
	d := 1e-3 * s
	slope := (r.guardAt(i, s+d, h) - r.guardAt(i, s-d, h)) / (2 * d * h)
	hit := s * h
	tolerance := 1e-13 * math.Max(1, math.Abs(t0))
	previous, before := 0.0, 0.0
	for k := 0; k < 20; k++ {
		if math.IsInf(st.Try(hit, r.y1), 1) {
			return 0, fmt.Errorf("sim: cannot step to the crossing of %s at %.9g s", r.lay.Guards[i], t0+hit)
		}
		r.sys.Guards(t0+hit, r.y1, r.s.Modes, r.g1)
		g := r.g1[i]
		if k > 0 && hit != previous {
			if sl := (g - before) / (hit - previous); sl < 0 {
				slope = sl
			}
		}
		if !(slope < 0) {
			// No downward slope to be had: the crossing is as good as tangent.
			return hit, nil
		}
		move := -g / slope
		if math.Abs(move) <= tolerance {
			return hit, nil
		}
		previous, before = hit, g
		hit = math.Min(math.Max(hit+move, 0.2*hit), math.Min(2*hit, h))
		if hit == previous {
			return hit, nil
		}
	}
	return hit, nil
}
