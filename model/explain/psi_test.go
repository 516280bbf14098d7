package explain_test

import "math"

// flowFunction is psi(r) = sqrt(2k/(k-1) (r^(2/k) - r^((k+1)/k))), the flow
// function of a perfect gas through a nozzle at the pressure ratio r above the
// critical one (any textbook of gas dynamics).
func flowFunction(k, r float64) float64 {
	return math.Sqrt(2 * k / (k - 1) * (math.Pow(r, 2/k) - math.Pow(r, (k+1)/k)))
}
