package flow

import "math"

// weight is J(z), the mean of the density along the gap times z, both in parts
// of the upstream values, with its slopes by z and by the void fraction alpha:
//
//	J = integral from 1-z to 1 of x dx/((1-alpha) x + alpha) = z - alpha z^2 E((1-alpha) z)
//	E(y) = (-ln(1-y) - y)/y^2 = 1/2 + y/3 + y^2/4 + ...
func weight(z, alpha float64) (j, byZ, byAlpha float64) {
	switch alpha {
	case 1:
		return z * (1 - z/2), 1 - z, -z * z / 2 * (1 - 2*z/3)
	case 0:
		if z >= 1 { // the slope by alpha has no bound there
			return z, 1, 0
		}
		e, _ := bend(z)
		return z, 1, -z * z * e
	}
	y := (1 - alpha) * z
	e, slope := bend(y)
	return z - alpha*z*z*e, (1 - z) / (1 - y), z * z * (alpha*z*slope - e)
}

// bend is E(y) and its slope. The closed forms lose digits to cancellation,
// 1e-16/y^2 and 1e-16/y^3 of them; below 0.05 ten terms of the series leave
// less than 1e-14.
func bend(y float64) (e, slope float64) {
	if y > 0.05 {
		e = (-math.Log1p(-y) - y) / (y * y)
		return e, (1/(1-y) - 2*e) / y
	}
	for k := 11.0; k >= 3; k-- {
		slope = slope*y + (k-2)/k
		e = (e + 1/k) * y
	}
	e += 0.5
	return e, slope
}
