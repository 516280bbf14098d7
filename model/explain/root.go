package explain

import "math"

// root finds x between a and b where the continuous f changes sign, to within
// tol (> 0), by inverse quadratic interpolation where that is safe and by
// halving where it is not. If f has one sign at both ends it returns the end
// where f is smaller in size.
//
// Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145,
// written from memory; root_test.go holds it against functions of known zero.
func root(a, b, tol float64, f func(float64) float64) float64 {
	fa, fb := f(a), f(b)
	if fa == 0 || fb != 0 && (fa > 0) == (fb > 0) && math.Abs(fa) <= math.Abs(fb) {
		return a
	}
	if fb == 0 || (fa > 0) == (fb > 0) {
		return b
	}
	var c, fc float64
	t := 0.5
	for range 100 { // halving alone needs 50
		x := a + t*(b-a)
		fx := f(x)
		if (fx > 0) == (fa > 0) {
			c, fc = a, fa
		} else {
			c, fc = b, fb
			b, fb = a, fa
		}
		a, fa = x, fx
		best, fbest := a, fa
		if math.Abs(fb) < math.Abs(fa) {
			best, fbest = b, fb
		}
		least := tol / math.Abs(b-a)
		if fbest == 0 || least > 0.5 {
			return best
		}
		t = 0.5
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = math.Min(math.Max(t, least), 1-least)
	}
	return a
}
