package if97

import "math"

// backward sums n a^I b^J.
func backward(terms []term, a, b float64, ilo, ihi, jlo, jhi int) float64 {
	var pa, pb ring
	pa.fill(a, ilo, ihi)
	pb.fill(b, jlo, jhi)
	sum := 0.0
	for k := range terms {
		x := &terms[k]
		sum += x.n * pa[x.i&63] * pb[x.j&63]
	}
	return sum
}

// The backward equations give T in K from p in Pa and h in J/kg or s in
// J/(kg K), to 25 mK in regions 1 and 2c and 10 mK in the rest of region 2:
// a first guess, or good enough. Sections 5.2 and 6.3 of the release.

// Region1TPH is T(p, h) of water, equation 11.
func Region1TPH(p, h float64) float64 {
	return backward(backward1PH, p/1e6, h/2500e3+1, 0, 6, 0, 32)
}

// Region1TPS is T(p, s) of water, equation 13.
func Region1TPS(p, s float64) float64 {
	return backward(backward1PS, p/1e6, s/1e3+2, 0, 4, 0, 32)
}

// Boundary2bcP is the pressure that parts the subregions 2b and 2c at h,
// equation 20.
func Boundary2bcP(h float64) float64 {
	n, h := &boundary2b2c, h/1e3
	return 1e6 * (n[0] + h*(n[1]+h*n[2]))
}

// Region2TPH is T(p, h) of steam, equations 22 to 24.
func Region2TPH(p, h float64) float64 {
	pi, eta := p/1e6, h/2000e3
	switch {
	case p <= 4e6:
		return backward(backward2aPH, pi, eta-2.1, 0, 7, 0, 44)
	case p <= Boundary2bcP(h):
		return backward(backward2bPH, pi-2, eta-2.6, 0, 9, 0, 40)
	}
	return backward(backward2cPH, pi+25, eta-1.8, -7, 6, 0, 22)
}

// Region2TPS is T(p, s) of steam, equations 25 to 27.
func Region2TPS(p, s float64) float64 {
	pi := p / 1e6
	switch {
	case p <= 4e6:
		return backward(backward2aPS, math.Sqrt(math.Sqrt(pi)), s/2e3-2, -6, 6, -27, 18)
	case s >= 5850:
		return backward(backward2bPS, pi, 10-s/0.7853e3, -6, 5, 0, 12)
	}
	return backward(backward2cPS, pi, 2-s/2.9251e3, -2, 7, 0, 5)
}
