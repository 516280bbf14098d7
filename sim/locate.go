package sim

import (
	"math"

	"underdisc/sim/method"
)

// outcome of the search for an event in a trial.
type outcome int

const (
	nothing    outcome = iota
	crossed            // a guard has crossed
	passed             // a guard has only just not crossed
	impossible         // no step can be made to where a guard seems to cross
)

// locate looks for the event that ends the trial early: which guard, and the
// size of the step up to it, whose end it leaves in y1. A size of 0 means that
// the event happens where the step began.
func (r *Run) locate(st method.Stepper, tr *trial) (guard int, hit float64, what outcome) {
	st.Dense(r.y1, r.c)
	guard, s := r.firstCrossing(tr.h)
	if guard < 0 {
		return guard, tr.h, nothing
	}
	hit, what = s*tr.h, crossed
	t0 := r.last.s.T
	// A guard leaving zero along its tangent may be taken below it by the
	// interpolant's error: believe that only of a step as short as rounding.
	if s == 0 && tr.h > 1e-10*math.Max(1, math.Abs(t0)) {
		return guard, tr.h / 4, impossible
	}
	for t0+hit > t0 {
		if hit, what = r.polish(st, guard, tr.h, hit/tr.h); what != crossed {
			break
		}
		before := r.crossedBefore(guard, hit)
		if before < 0 {
			break
		}
		guard = before
	}
	if t0+hit <= t0 {
		hit = 0
	}
	return guard, hit, what
}

// crossedBefore looks among the guards gx at the end of a step of the given
// size for one that has crossed before guard i did just there, by more than
// the rounding of time; -1 if there is none. The crossings on the interpolant
// do not tell the order of two that are very close.
func (r *Run) crossedBefore(i int, size float64) int {
	for j, g := range r.gx {
		if g < 0 && j != i && -g*size > timeError(r.last.s.T)*math.Abs(g-r.g[j]) {
			return j
		}
	}
	return -1
}

// timeError is how closely the time of an event near t is found.
func timeError(t float64) float64 { return 2e-14 * math.Max(1, math.Abs(t)) }

// rootError is how closely a crossing is found on the interpolant, relative to
// the way to it; polishing follows.
const rootError = 1e-6

// firstCrossing looks for the earliest guard that crosses zero within the step
// of size h whose dense output is c, whose starting guards are g and whose end
// guards are g1. It returns the guard, -1 if there is none, and the fraction
// of the step at which it crosses; 0 means that a guard which started at zero
// never became positive.
//
// A crossing cuts the part of the step that counts; the guards are looked
// through again in that part, since the wide samples of the whole step may
// have passed over a shorter excursion of another guard there.
func (r *Run) firstCrossing(h float64) (guard int, s float64) {
	guard, s = -1, 1
	if len(r.g) == 0 {
		return
	}
	end := r.g1
	for range 8 {
		i, at := r.scan(h, s, end, guard)
		if i < 0 {
			return
		}
		guard, s = i, at
		if s == 0 {
			return
		}
		r.guardsAt(s, h, r.ge)
		end = r.ge
	}
	return
}

// scan looks for the earliest crossing between the start and the fraction b,
// where the guards are end; that of guard known is the one at b.
func (r *Run) scan(h, b float64, end []float64, known int) (guard int, s float64) {
	guard = -1
	r.guardsAt(b/2, h, r.gm)
	for i, at0 := range r.g {
		mid, at1 := r.gm[i], end[i]
		if math.IsInf(at1, 1) || i == known && mid > 0 {
			continue
		}
		lo, hi := 0.0, b/2
		switch {
		case mid <= 0:
		case at1 <= 0:
			lo, hi = b/2, b
		default:
			if hi = b * r.dip(i, h, b, at0, mid, at1); hi == 0 {
				continue
			}
			if hi > b/2 {
				lo = b / 2
			}
		}
		if at0 <= 0 && lo == 0 {
			// It started at zero. A short flight may have begun and ended
			// before.
			if lo = r.flight(i, h, hi); lo == 0 {
				if r.below(i, hi, h) || r.below(i, b, h) {
					return i, 0
				}
				continue
			}
			hi = 2 * lo
		}
		at := r.root(i, h, lo, hi)
		if guard < 0 && (known < 0 || at < b*(1-2*rootError)) || guard >= 0 && at < s {
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
	r.guardsAt(s, h, r.gx)
	return r.gx[i]
}

// flight looks for a short excursion above zero of guard i, which is at zero at
// the start and not above it at the fraction b, ever closer to the start: it
// returns a fraction inside, whose double is outside, or 0 if there is none.
func (r *Run) flight(i int, h, b float64) float64 {
	for s := b / 2; s > 1e-12; s /= 2 {
		if r.guardAt(i, s, h) > 0 {
			return s
		}
	}
	return 0
}

// below tells whether guard i is below zero at the fraction s by more than the
// rounding of the variables can do. A part that leaves its stop without speed
// or acceleration does not get away from it by so much as a rounding in a very
// short step, and has not for that reason run into it.
func (r *Run) below(i int, s, h float64) bool {
	t := r.last.s.T + s*h
	method.Eval(r.c, s, r.ys)
	at := func() float64 {
		r.sys.Guards(t, r.ys, r.s.Modes, r.gx)
		return r.gx[i]
	}
	g := at()
	if !(g < 0) {
		return false
	}
	noise := 0.0
	for k, y := range r.ys {
		r.ys[k] = y + 4e-16*math.Abs(y)
		noise += math.Abs(at() - g)
		r.ys[k] = y
	}
	return -g > noise
}

// dip looks for an excursion below zero of guard i between the samples at 0,
// b/2 and b, of which the last two are positive: if the parabola through them
// turns low enough within, it looks there. It returns the place as a fraction
// of b, or 0 if there is none.
func (r *Run) dip(i int, h, b, at0, mid, at1 float64) float64 {
	slope, bend := -3*at0+4*mid-at1, 2*at0-4*mid+2*at1
	if !(slope < 0 && bend > 0 && slope+2*bend > 0) || math.IsInf(bend, 1) {
		return 0
	}
	// The parabola misses the guard by its third and higher differences: half
	// of the lowest sample is the margin for them.
	if at0-slope*slope/(4*bend) > 0.5*min(at0, mid, at1) {
		return 0
	}
	turn := -slope / (2 * bend)
	if r.guardAt(i, turn*b, h) > 0 {
		return 0
	}
	return turn
}

// root finds the crossing of guard i on the dense output between lo, where it
// is positive, and hi, where it is not: regula falsi with the Illinois weights,
// as closely as rootError.
func (r *Run) root(i int, h, lo, hi float64) float64 {
	gl, gh := r.guardAt(i, lo, h), r.guardAt(i, hi, h)
	side := 0
	for k := 0; k < 60 && hi-lo > rootError*hi; k++ {
		m := (lo + hi) / 2
		if d := gl - gh; d > 0 && k < 40 && !math.IsInf(d, 1) {
			if x := lo + (hi-lo)*gl/d; x > lo && x < hi {
				m = x
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
			if gm == 0 && r.guardAt(i, hi*(1-rootError), h) > 0 {
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
// size h and moves the end until it lies just behind the crossing of the
// stepped solution, not of the interpolant: Newton's method with the slope of
// the last two steps, kept within bounds. The last bit of the way, too short
// for its curvature to matter, is done along the derivative (coast). The guard
// is then zero or below it by rounding, so that a handler which turns the guard
// round leaves it above. It leaves that solution in y1 and its guards in gx,
// and returns the size.
func (r *Run) polish(st method.Stepper, i int, h, s float64) (float64, outcome) {
	t0 := r.last.s.T
	from, to := s*(1-1e-3), min(s*(1+1e-3), 1)
	slope := (r.guardAt(i, to, h) - r.guardAt(i, from, h)) / ((to - from) * h)
	tolerance := timeError(t0)
	r.coasting = false
	lo, hi, closed := 0.0, h, r.g1[i] <= 0
	hit, last, before := s*h, 0.0, 0.0
	for {
		if math.IsInf(st.Try(hit, r.y1), 1) {
			return hit, impossible
		}
		r.sys.Guards(t0+hit, r.y1, r.s.Modes, r.gx)
		g := r.gx[i]
		if last > 0 && hit != last {
			slope = (g - before) / (hit - last)
		}
		if end, ok := r.coast(st, i, hit, h, slope, g, tolerance); ok {
			return end, crossed
		}
		if g > 0 {
			lo = hit
		} else {
			hi, closed = hit, true
			if g >= slope*tolerance || hi-lo <= tolerance {
				return hit, crossed
			}
		}
		next := hit - g/slope + tolerance/2
		switch {
		case hi-lo <= tolerance:
			next = hi
		case next > lo && next < hi:
		case !closed:
			// Where the interpolant just touched, the stepped solution passes
			// by.
			return hit, passed
		default:
			next = lo + (hi-lo)/2
		}
		last, before, hit = hit, g, next
	}
}

// coast goes from the end of the last Try, of the given size, along the
// derivative there to the crossing of guard i, if that is so near that the way
// bends by far less than the tolerance. y1 moves along, and what the
// quadratures gain is kept in coasted, so that linear balances stay exact.
func (r *Run) coast(st method.Stepper, i int, size, most, slope, g, tolerance float64) (end float64, ok bool) {
	// The way left out bends by at most near^2 |y"|/2, 4.5e-4 of the tolerance
	// times h^2 |y"|: small as long as a step does not bend by more than the
	// variables' own sizes, which the control's bounds on a step see to.
	near := 0.03 * math.Sqrt(r.tol.Rel) * size
	if !(slope < 0) || !(math.Abs(g/slope) < near) {
		return size, false
	}
	t0 := r.last.s.T
	f, q, have := st.Last()
	if !have {
		r.field().Derivative(t0+size, r.y1, r.f1, r.q1)
		f, q = r.f1, r.q1
	}
	copy(r.base, r.y1)
	way, lo := 0.0, g
	for range 4 {
		way += -lo/slope + tolerance/2
		if !(math.Abs(way) < near) || size+way > most {
			break
		}
		for k, y := range r.base {
			r.y1[k] = y + way*f[k]
		}
		r.sys.Guards(t0+size+way, r.y1, r.s.Modes, r.gx)
		lo = r.gx[i]
		if lo <= 0 && lo >= slope*tolerance {
			for k, v := range q {
				r.coasted[k] = way * v
			}
			r.coasting, r.stretched = true, (size+way)/size
			return size + way, true
		}
	}
	copy(r.y1, r.base)
	r.sys.Guards(t0+size, r.y1, r.s.Modes, r.gx)
	return size, false
}

// dense writes the dense output of the step that locate has ended. Where the
// way was coasted, that of the shorter step is stretched to its length: its
// coefficients go with the second, third and fourth power of it.
func (r *Run) dense(st method.Stepper) {
	if !r.coasting {
		st.Dense(r.y1, r.c)
		return
	}
	st.Dense(r.base, r.c)
	n := len(r.y1)
	for i, y := range r.y1 {
		r.c[n+i] = y - r.c[i]
	}
	factor := r.stretched
	for k := 2; k < 5; k++ {
		factor *= r.stretched
		for i := range n {
			r.c[k*n+i] *= factor
		}
	}
}
