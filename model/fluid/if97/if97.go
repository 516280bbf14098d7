// Package if97 is the IAPWS Industrial Formulation 1997 for water and steam,
// IAPWS R7-97(2012): regions 1 (water), 2 (steam), 3 (around the critical
// point) and 4 (saturation). It is the project's exact reference; the balances
// use tables made from it. SI units throughout: Pa, K, m3/kg, J/kg, J/(kg K).
package if97

// Constants of the release, section 3.
const (
	R         = 461.526 // J/(kg K)
	CriticalT = 647.096 // K
	CriticalP = 22.064e6
	CriticalD = 322.0 // kg/m3
	// MinT and T13 bound region 1, T13 and MaxT region 2, in K; MaxP regions
	// 1 to 3, in Pa. Region 5, above MaxT, is not part of this package.
	MinT = 273.15
	T13  = 623.15
	MaxT = 1073.15
	MaxP = 100e6
)

// Point is water or steam in one phase.
type Point struct {
	P, T   float64 // Pa, K
	V      float64 // specific volume, m3/kg
	U, H   float64 // internal energy, enthalpy, J/kg
	S      float64 // entropy, J/(kg K)
	Cp, Cv float64 // J/(kg K)
	W      float64 // speed of sound, m/s
	Vp, VT float64 // dv/dp at constant T, dv/dT at constant p
}

// term is n a^i b^j of a sum.
type term struct {
	i, j int
	n    float64
}

// ring holds powers of one number: that to the k at k&63, k from -41 to 58.
type ring [64]float64

// fill sets base^lo ... base^hi; lo <= 0 <= hi. Halving keeps the chain of
// multiplications that wait for each other short.
func (r *ring) fill(base float64, lo, hi int) {
	r[0], r[1] = 1, base
	for k := 2; k <= hi; k++ {
		r[k&63] = r[(k>>1)&63] * r[((k+1)>>1)&63]
	}
	if lo < 0 {
		r[63] = 1 / base
		for k := 2; k <= -lo; k++ {
			r[(64-k)&63] = r[(64-k>>1)&63] * r[(64-(k+1)>>1)&63]
		}
	}
}

// sums is f = sum of n a^i b^j with a fa, a^2 faa, b fb, b^2 fbb and a b fab:
// the derivatives come as multiples of powers of a and b, which are cheaper.
type sums struct{ f, fa, faa, fb, fbb, fab float64 }

// add adds terms, which are sorted by i so that each a^i is met once.
func (s *sums) add(terms []term, a, b *ring) {
	for k := 0; k < len(terms); {
		i := terms[k].i
		var c, cb, cbb float64
		for ; k < len(terms) && terms[k].i == i; k++ {
			x := &terms[k]
			j := float64(x.j)
			y := x.n * b[x.j&63]
			c += y
			y *= j
			cb += y
			cbb += y * (j - 1)
		}
		ai := a[i&63]
		c *= ai
		cb *= ai
		n := float64(i)
		s.f += c
		s.fa += n * c
		s.faa += n * (n - 1) * c
		s.fb += cb
		s.fbb += cbb * ai
		s.fab += n * cb
	}
}
