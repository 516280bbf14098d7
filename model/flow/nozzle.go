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
	ir       float64 // 1/R
}

// NewNozzle makes the law for a gas.
func NewNozzle(g *fluid.Gas) *Nozzle {
	k := g.Gamma
	n := &Nozzle{gas: *g, rc: CriticalRatio(k), psiC: ChokedFactor(k), k: 2 * k / (k - 1), ig: 1 / k, ir: 1 / g.R}
	z := linearBelow
	p, dpdr := n.exact(1 - z)
	s := -dpdr
	n.b = (s*z - p) / (2 * z * z * z)
	n.a = p/z - n.b*z*z
	return n
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

func (n *Nozzle) exact(r float64) (psi, slope float64) {
	a := math.Exp(math.Log(r) * n.ig)
	psi = math.Sqrt(n.k * a * (a - r))
	da := a * n.ig / r
	slope = n.k * (2*a*da - da*r - a) / (2 * psi)
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
	a := math.Exp(math.Log(r) * n.ig)
	return q * math.Sqrt(n.k*a*(a-r))
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
