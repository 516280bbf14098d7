// Package viscosity is the dynamic viscosity of water and steam: the equation
// of IAPWS R12-08, and tables made from it for the inner loop.
package viscosity

import "math"

// Reference values of the release, section 2.
const (
	criticalT = 647.096 // K
	criticalD = 322.0   // kg/m3
	unit      = 1e-6    // Pa s
)

// dilute holds H_i of the release's table 1.
var dilute = [4]float64{1.67752, 2.20462, 0.6366564, -0.241605}

// dense holds H_ij of its table 2, i by line.
var dense = [6][7]float64{
	{5.20094e-1, 2.22531e-1, -2.81378e-1, 1.61913e-1, -3.25372e-2, 0, 0},
	{8.50895e-2, 9.99115e-1, -9.06851e-1, 2.57399e-1, 0, 0, 0},
	{-1.08374, 1.88797, -7.72479e-1, 0, 0, 0, 0},
	{-2.89555e-1, 1.26613, -4.89837e-1, 0, 6.98452e-2, 0, -4.35673e-3},
	{0, 0, -2.57040e-1, 0, 0, 8.72102e-3, 0},
	{0, 1.20573e-1, 0, 0, 0, 0, -5.93264e-4},
}

// Water is the viscosity, Pa s, of water or steam of density d, kg/m3, and
// temperature t, K: mu0 mu1 of IAPWS R12-08, equations 10 to 12 (Release on the
// IAPWS Formulation 2008 for the Viscosity of Ordinary Water Substance). The
// third factor, mu2, is 1, as its section 2.8 recommends for industrial use: it
// differs from 1 by 2 % or more only close to the critical point. Range: from
// the melting line to 1173 K and 300 MPa, in part beyond. Uncertainty: 1 % in
// water, 2 % in steam up to 100 MPa, more when hotter.
func Water(d, t float64) float64 {
	return unit * thin(t) * math.Exp(d/criticalD*density(d, t))
}

// thin is mu0, of steam without density, in micropascal seconds.
func thin(t float64) float64 {
	r := criticalT / t
	return 100 * math.Sqrt(1/r) / (dilute[0] + r*(dilute[1]+r*(dilute[2]+r*dilute[3])))
}

// density is the sum that stands beside the density in mu1.
func density(d, t float64) float64 {
	r, y := criticalT/t-1, d/criticalD-1
	sum := 0.0
	for i := len(dense) - 1; i >= 0; i-- {
		inner := 0.0
		for j := len(dense[i]) - 1; j >= 0; j-- {
			inner = inner*y + dense[i][j]
		}
		sum = sum*r + inner
	}
	return sum
}
