package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Kepler is the plane orbit of eccentricity 0.5 about a unit mass, of period
// 2 pi, from its nearest point; it ends at a place without symmetry. The
// quadrature is the area that the radius sweeps, whose rate is the constant
// sqrt(1-e^2)/2; it is integrated from the motion.
func Kepler() Problem {
	const e = 0.5
	sys := &ODE{
		Lay: sim.Layout{Vars: []string{"x", "y", "u", "v"}, Scales: scales(4, 1), Ledger: []string{"area"},
			Entries: []method.Entry{{Row: 0, Col: 2}, {Row: 1, Col: 3}, {Row: 2, Col: 0}, {Row: 2, Col: 1}, {Row: 3, Col: 0}, {Row: 3, Col: 1},
				{Row: 4, Col: 0}, {Row: 4, Col: 1}, {Row: 4, Col: 2}, {Row: 4, Col: 3}}},
		F: func(_ float64, y, dy, dq []float64) {
			r2 := y[0]*y[0] + y[1]*y[1]
			r3 := r2 * math.Sqrt(r2)
			dy[0], dy[1], dy[2], dy[3] = y[2], y[3], -y[0]/r3, -y[1]/r3
			dq[0] = (y[0]*y[3] - y[1]*y[2]) / 2
		},
		J: func(_ float64, y, el []float64) {
			r2 := y[0]*y[0] + y[1]*y[1]
			r3 := r2 * math.Sqrt(r2)
			r5 := r3 * r2
			cross := 3 * y[0] * y[1] / r5
			el[0], el[1] = 1, 1
			el[2], el[3] = 3*y[0]*y[0]/r5-1/r3, cross
			el[4], el[5] = cross, 3*y[1]*y[1]/r5-1/r3
			el[6], el[7], el[8], el[9] = y[3]/2, -y[2]/2, -y[1]/2, y[0]/2
		},
	}
	exact := func(t float64) []float64 {
		// Kepler's equation t = E - e sin E.
		big := t
		for range 60 {
			big -= (big - e*math.Sin(big) - t) / (1 - e*math.Cos(big))
		}
		s, c := math.Sincos(big)
		b := math.Sqrt(1 - e*e)
		rate := 1 / (1 - e*c)
		return []float64{c - e, b * s, -s * rate, b * c * rate}
	}
	return Problem{Name: "Kepler orbit", Source: "closed form",
		System: sys, Start: start(&sys.Lay, 0, exact(0)...), End: 4, Want: exact(4), Exact: exact,
		Ledger: func(t float64, _ []float64) []float64 { return []float64{t * math.Sqrt(1-e*e) / 2} }}
}

// Forced is a nonlinear, non-autonomous system with the closed form
// y = (exp(sin t^2), exp(5 sin t^2), 1 + sin t^2, cos t^2):
//
//	y1' = 2 t y2^(1/5) y4, y2' = 10 t exp(5 (y3 - 1)) y4, y3' = 2 t y4, y4' = -2 t ln y1
//
// (the shape of the problems that Hairer, Norsett and Wanner use for orders).
// Its quadratures are q1' = y3', so that y3 - q1 stays 1, and the nonlinear
// q2' = 2 t y4 y1, which is exp(sin t^2) - 1.
func Forced() Problem {
	ent := []method.Entry{{Row: 0, Col: 1}, {Row: 0, Col: 3}, {Row: 1, Col: 2}, {Row: 1, Col: 3}, {Row: 2, Col: 3}, {Row: 3, Col: 0},
		{Row: 4, Col: 3}, {Row: 5, Col: 0}, {Row: 5, Col: 3}}
	sys := &TimedODE{ODE: ODE{
		Lay: sim.Layout{Vars: names("y", 4), Scales: scales(4, 1), Ledger: []string{"linear", "nonlinear"}, Entries: ent},
		F: func(t float64, y, dy, dq []float64) {
			dy[0] = 2 * t * math.Pow(y[1], 0.2) * y[3]
			dy[1] = 10 * t * math.Exp(5*(y[2]-1)) * y[3]
			dy[2] = 2 * t * y[3]
			dy[3] = -2 * t * math.Log(y[0])
			dq[0], dq[1] = dy[2], 2*t*y[3]*y[0]
		},
		J: func(t float64, y, e []float64) {
			root, ex := math.Pow(y[1], 0.2), math.Exp(5*(y[2]-1))
			e[0], e[1] = 0.4*t*root/y[1]*y[3], 2*t*root
			e[2], e[3] = 50*t*ex*y[3], 10*t*ex
			e[4] = 2 * t
			e[5] = -2 * t / y[0]
			e[6], e[7], e[8] = 2*t, 2*t*y[3], 2*t*y[0]
		},
	}, Ft: func(_ float64, y, dft, dgt []float64) {
		dft[0] = 2 * math.Pow(y[1], 0.2) * y[3]
		dft[1] = 10 * math.Exp(5*(y[2]-1)) * y[3]
		dft[2] = 2 * y[3]
		dft[3] = -2 * math.Log(y[0])
		dgt[0], dgt[1] = dft[2], 2*y[3]*y[0]
	}}
	exact := func(t float64) []float64 {
		s, c := math.Sincos(t * t)
		return []float64{math.Exp(s), math.Exp(5 * s), 1 + s, c}
	}
	return Problem{Name: "forced", Source: "closed form",
		System: sys, Start: start(&sys.Lay, 0, exact(0)...), End: 2.2, Want: exact(2.2), Exact: exact,
		Ledger: func(t float64, _ []float64) []float64 {
			s := math.Sin(t * t)
			return []float64{s, math.Exp(s) - 1}
		}}
}

// Exchange is three volumes that pass a substance on by square-root laws, the
// fastest 1e5 times faster than the slowest, out of the last into the ledger:
// y1 + y2 + y3 + q is constant to round-off for a method that keeps linear
// invariants. What leaves the last also depends on the first. With frozen set,
// the first volume is shut off and stands still.
func Exchange(frozen bool) Problem {
	k := []float64{300, 1e4, 0.1}
	if frozen {
		k[0] = 0
	}
	sys := &ODE{
		Lay: sim.Layout{Vars: names("m", 3), Scales: scales(3, 1e-3), Ledger: []string{"out"},
			Entries: []method.Entry{{Row: 0, Col: 0}, {Row: 0, Col: 1}, {Row: 1, Col: 0}, {Row: 1, Col: 1}, {Row: 1, Col: 2}, {Row: 2, Col: 0}, {Row: 2, Col: 1}, {Row: 2, Col: 2}, {Row: 3, Col: 0}, {Row: 3, Col: 2}}},
		F: func(_ float64, y, dy, dq []float64) {
			a, b, c := k[0]*(y[0]-y[1]*y[1]), k[1]*(y[1]-y[2]), k[2]*math.Sqrt(y[2])*(1+y[0])
			dy[0], dy[1], dy[2], dq[0] = -a, a-b, b-c, c
		},
		J: func(_ float64, y, e []float64) {
			root := math.Sqrt(y[2])
			a0, a1, c0, c2 := k[0], -2*k[0]*y[1], k[2]*root, k[2]*(1+y[0])/(2*root)
			e[0], e[1] = -a0, -a1
			e[2], e[3], e[4] = a0, a1-k[1], k[1]
			e[5], e[6], e[7] = -c0, k[1], -k[1]-c2
			e[8], e[9] = c0, c2
		},
	}
	if frozen {
		sys.Frozen = []int{0}
	}
	return Problem{Name: "exchange", Source: "invariant: the sum of all", System: sys, Start: start(&sys.Lay, 0, 1, 0.7, 0.2), End: 2}
}

// Draining is a tank emptied through an orifice, m' = -2 sqrt m from 1: empty
// at t = 1, m = (1-t)^2; a step that overshoots asks for the root of a
// negative mass.
func Draining() Problem {
	sys := &ODE{
		Lay: sim.Layout{Vars: []string{"m"}, Scales: []float64{1}, Entries: []method.Entry{{Row: 0, Col: 0}}},
		F:   func(_ float64, y, dy, _ []float64) { dy[0] = -2 * math.Sqrt(y[0]) },
		J:   func(_ float64, y, e []float64) { e[0] = -1 / math.Sqrt(y[0]) },
	}
	exact := func(t float64) []float64 { return []float64{(1 - t) * (1 - t)} }
	return Problem{Name: "draining", Source: "closed form", System: sys, Start: start(&sys.Lay, 0, 1), End: 0.999, Want: exact(0.999), Exact: exact}
}

// BlowUp is y' = y^2 from 1, which leaves the numbers at t = 1.
func BlowUp() Problem {
	sys := &ODE{
		Lay: sim.Layout{Vars: []string{"y"}, Scales: []float64{1}, Entries: []method.Entry{{Row: 0, Col: 0}}},
		F:   func(_ float64, y, dy, _ []float64) { dy[0] = y[0] * y[0] },
		J:   func(_ float64, y, e []float64) { e[0] = 2 * y[0] },
	}
	return Problem{Name: "blow-up", Source: "closed form 1/(1-t)", System: sys, Start: start(&sys.Lay, 0, 1), End: 2,
		Exact: func(t float64) []float64 { return []float64{1 / (1 - t)} }}
}
