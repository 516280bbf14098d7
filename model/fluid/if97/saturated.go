package if97

import "math"

// root solves f = 0 for a rising f between lo and hi, by Newton's method from x.
// It halves the bracket where that leads out of it, or where two steps did not
// halve f, as about a kink. f yields its value and slope.
func root(x, lo, hi float64, f func(x float64) (y, slope float64)) float64 {
	const (
		small = 1e-7  // share of x: steps so small are left alone,
		least = 1e-13 // and so small, are the last
	)
	before, last := math.Inf(1), math.Inf(1) // |f|
	for range 100 {
		y, slope := f(x)
		if y > 0 {
			hi = x
		} else {
			lo = x
		}
		next, now := x-y/slope, math.Abs(y)
		step := math.Abs(next - x)
		switch {
		case !(next >= lo && next <= hi), now > before/2 && step > small*math.Abs(x):
			next = lo + (hi-lo)/2
			if next == x {
				return x
			}
		case step <= least*math.Abs(x), step <= small*math.Abs(x) && now >= last:
			return next // the second: only rounding is left
		}
		x, before, last = next, last, now
	}
	return x
}

// Densities in kg/m3 that no state of region 3 goes beyond.
const (
	lightest3 = 90
	densest3  = 800
)

// density3 is the state of region 3 at p and t. Below the critical temperature
// dense tells which of the two it is, the water or the steam: there Newton's
// method comes from outside the two-phase dome, where p(d) bends one way, and so
// cannot step over the root.
func density3(p, t float64, dense bool) Point {
	var d float64 // to start from
	th := math.Cbrt(max(0, 1-t/CriticalT))
	switch {
	case t >= CriticalT:
		d = CriticalD
	case dense:
		d = CriticalD * (1.05 + 2.1*th + 1.1*th*th)
		if Region3(d, t).P < p {
			d = densest3
		}
	default:
		d = CriticalD * math.Exp(-0.1-2.2*th-2.7*th*th)
		if Region3(d, t).P > p {
			d = lightest3
		}
	}
	d = root(d, lightest3, densest3, func(d float64) (y, slope float64) {
		x := Region3(d, t)
		return x.P - p, -x.V * x.V / x.Vp
	})
	return Region3(d, t)
}

// Saturated is water and steam in equilibrium at t in K, at the pressure of
// equation 30. Above 623.15 K both come from region 3. Outside 273.15 K to the
// critical point all is NaN.
func Saturated(t float64) (liquid, vapour Point) {
	if !(t >= MinT && t <= CriticalT) {
		x := Region3(math.NaN(), t)
		return x, x
	}
	return saturated(t, t > T13)
}

// saturated is Saturated with the equations of region 3 or of regions 1 and 2.
func saturated(t float64, by3 bool) (liquid, vapour Point) {
	p := SaturationP(t)
	if by3 {
		return density3(p, t, true), density3(p, t, false)
	}
	return Region1(p, t), Region2(p, t)
}
