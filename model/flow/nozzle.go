// Package flow holds the laws of flow through openings: mass flux as a
// function of the upstream state and the downstream pressure. A law knows no
// area of its own unless its geometry makes it; reversal is the caller's, who
// passes the upstream side.
package flow

import (
	"math"

	"underdisc/model/fluid"
)

// Flux is a mass flux with its derivatives.
type Flux struct {
	G      float64 // kg/(s m2), per effective area
	Gv, Gu float64 // by the upstream specific volume and internal energy
	Gp     float64 // by the downstream pressure
	Choked bool
}

// Law gives the flux from an upstream state to a lower (or equal) downstream
// pressure.
type Law interface {
	// Flux computes G alone.
	Flux(up *fluid.State, down float64) float64
	// FluxSlopes computes G, its derivatives and whether the flow is choked.
	FluxSlopes(up *fluid.State, down float64, f *Flux)
}

// Rememberer is a law that has a form which keeps what it last worked out of an
// upstream state. That form is for one user at a time.
type Rememberer interface {
	Law
	Remembering() Law
}

// linearBelow is z = 1 - pd/pu below which psi, whose slope is infinite at
// z = 0, is replaced by an odd cubic of equal value and slope at this z. Near
// zero psi is sqrt(2 z) and the cubic, with t = z/linearBelow, is
// sqrt(2 linearBelow) (5 t - t^3)/4: never more than psi, and less by at most
// a fifth of psi(linearBelow), which is 1.5 % of the choked flow. Vanishing
// flows are understated many times over, as they are by viscosity in a real
// opening. The difference that drives a given steady flow is overstated by at
// most 2e-4 of the upstream pressure.
const linearBelow = 1e-3

// Nozzle is isentropic flow of a perfect gas through a nozzle (Saint-Venant
// and Wantzel):
//
//	G = pu/sqrt(R Tu) psi(r), r = pd/pu
//	psi = sqrt(2 gamma/(gamma-1) (r^(2/gamma) - r^((gamma+1)/gamma)))
//
// constant below the critical ratio rc = (2/(gamma+1))^(gamma/(gamma-1)),
// where psi = C(gamma) = sqrt(gamma (2/(gamma+1))^((gamma+1)/(gamma-1))).
// Source: any text on compressible flow, e.g. Saad, Compressible Fluid Flow,
// chapter 3; checked against the published table of C(k) in the tests.
type Nozzle struct {
	gas      fluid.Gas
	rc, psiC float64
	k        float64 // 2 gamma/(gamma-1)
	ig       float64 // 1/gamma
	a, b     float64 // cubic near z = 0
	mid, per float64 // t = (r - mid) per runs from -1 at rc to 1 at r = 1
	poly     [polyTerms]float64
}

// polyTerms is the number of coefficients of the polynomial that stands in for
// the powers in psi between rc and 1. The function is analytic but for r = 0,
// so its Chebyshev coefficients fall by a factor of six or more each; with
// these many it agrees with the powers to 2e-14 (tested).
const polyTerms = 20

// NewNozzle makes the law for a gas.
func NewNozzle(g *fluid.Gas) *Nozzle {
	k := g.Gamma
	n := &Nozzle{gas: *g, rc: CriticalRatio(k), psiC: ChokedFactor(k), k: 2 * k / (k - 1), ig: 1 / k}
	n.mid, n.per = (1+n.rc)/2, 2/(1-n.rc)
	n.fit()
	z := linearBelow
	p, dpdr := n.exact(1 - z)
	s := -dpdr
	n.b = (s*z - p) / (2 * z * z * z)
	n.a = p/z - n.b*z*z
	return n
}

// fit finds the polynomial q(t) with psi^2 = K (1-r) q, by interpolation in
// the Chebyshev points.
func (n *Nozzle) fit() {
	const m = polyTerms
	var value [m]float64
	for i := range m {
		r := n.mid + math.Cos(math.Pi*(float64(i)+0.5)/m)/n.per
		a := math.Exp(math.Log(r) * n.ig)
		// a - r without cancellation as r nears 1.
		value[i] = a * r * math.Expm1(math.Log(r)*(n.ig-1)) / (1 - r)
	}
	powersOf(value[:], n.poly[:])
}

// powersOf turns the values of a function at the Chebyshev points
// cos(pi (i+1/2)/m) into the coefficients of the powers of the polynomial
// through them, which it adds to poly: the sum of Chebyshev polynomials, turned
// into powers as it is summed.
func powersOf(value, poly []float64) {
	m := len(value)
	before, now, next := make([]float64, m), make([]float64, m), make([]float64, m)
	before[0], now[1] = 1, 1
	for j := range m {
		c := 0.0
		for i := range m {
			c += value[i] * math.Cos(math.Pi*float64(j)*(float64(i)+0.5)/float64(m))
		}
		c *= 2. / float64(m)
		if j == 0 {
			c /= 2
		}
		for i := range m {
			poly[i] += c * before[i]
		}
		next[0] = 0
		for i := range m - 1 {
			next[i+1] = 2 * now[i]
		}
		for i := range m {
			next[i] -= before[i]
		}
		before, now, next = now, next, before
	}
}

// root is psi for rc < r < 1, by the polynomial.
func (n *Nozzle) root(r float64) float64 {
	t := (r - n.mid) * n.per
	c := &n.poly
	t2 := t * t
	t4 := t2 * t2
	// Four chains that the processor can work on side by side.
	p0 := c[0] + t4*(c[4]+t4*(c[8]+t4*(c[12]+t4*c[16])))
	p1 := c[1] + t4*(c[5]+t4*(c[9]+t4*(c[13]+t4*c[17])))
	p2 := c[2] + t4*(c[6]+t4*(c[10]+t4*(c[14]+t4*c[18])))
	p3 := c[3] + t4*(c[7]+t4*(c[11]+t4*(c[15]+t4*c[19])))
	return math.Sqrt(n.k * (1 - r) * ((p0 + t2*p2) + t*(p1+t2*p3)))
}

// CriticalRatio is pc/p0 = (2/(k+1))^(k/(k-1)) for k >= 1; at k = 1, which is
// isothermal flow, the limit exp(-1/2).
func CriticalRatio(k float64) float64 { return math.Exp(-k / 2 * logShare(k)) }

// ChokedFactor is C(k) for k >= 1, with G = C(k) sqrt(p0 rho0) at choked flow;
// at k = 1 the limit exp(-1/2).
func ChokedFactor(k float64) float64 {
	return math.Sqrt(k) * math.Exp(-(k+1)/4*logShare(k))
}

// logShare is ln(1 + d)/d with d = (k-1)/2, 1 at d = 0. Since
// ln(2/(k+1)) = -ln(1 + d), it keeps the powers above finite at k = 1.
func logShare(k float64) float64 {
	d := (k - 1) / 2
	if d == 0 {
		return 1
	}
	return math.Log1p(d) / d
}

// exact is psi by its powers, with a = r^(1/gamma).
func (n *Nozzle) exact(r float64) (psi, slope float64) {
	l := math.Log(r)
	a := math.Exp(l * n.ig)
	rest := r * math.Expm1(l*(n.ig-1)) // a - r, without cancellation as r nears 1
	psi = math.Sqrt(n.k * a * rest)
	da := a * n.ig / r
	slope = n.k * (da*rest + a*(da-1)) / (2 * psi)
	return
}

// Psi is the flow function and its slope at the pressure ratio r = pd/pu,
// 0 <= r <= 1.
func (n *Nozzle) Psi(r float64) (psi, slope float64) {
	if r <= n.rc {
		return n.psiC, 0
	}
	if z := 1 - r; z < linearBelow {
		return z * (n.a + n.b*z*z), -(n.a + 3*n.b*z*z)
	}
	return n.exact(r)
}

// Flux implements Law.
func (n *Nozzle) Flux(up *fluid.State, down float64) float64 {
	q := up.P / math.Sqrt(n.gas.R*up.T)
	r := down / up.P
	if r <= n.rc {
		return q * n.psiC
	}
	if z := 1 - r; z < linearBelow {
		return q * z * (n.a + n.b*z*z)
	}
	return q * n.root(r)
}

// FluxSlopes implements Law.
func (n *Nozzle) FluxSlopes(up *fluid.State, down float64, f *Flux) {
	i := 1 / math.Sqrt(n.gas.R*up.T)
	r := down / up.P
	psi, slope := n.Psi(r)
	f.Choked = r <= n.rc
	f.G = up.P * i * psi
	f.Gp = i * slope
	gp := i * (psi - r*slope)
	gt := -0.5 * f.G / up.T
	f.Gv = gp*up.Pv + gt*up.Tv
	f.Gu = gp*up.Pu + gt*up.Tu
}
