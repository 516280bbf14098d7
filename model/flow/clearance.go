package flow

import (
	"math"

	"underdisc/model/fluid"
)

// Clearance is flow through a narrow annular gap, at constant temperature along
// it, laminar friction over its length and one and a half dynamic heads for
// entry and exit:
//
//	integral of rho dp from pd to pu = (12 mu L/(pi D c^3)) W + K/2 (W/(pi D c))^2, K = 1.5
//
// solved for W. The first term is plane Poiseuille flow, W = rho pi D c^3
// dp/(12 mu L) (e.g. White, Fluid Mechanics, section 6.6); the second keeps the
// flow finite in a short gap. The density along the gap is that of the upstream
// mixture without any change of phase, vapour expanding as a perfect gas and
// liquid not at all,
//
//	v = vu ((1 - alpha) + alpha pu/p), alpha the void fraction upstream,
//
// so that the integral is pu/vu J(z), z = 1 - pd/pu: for a gas
// (pu^2 - pd^2)/(2 pu vu), where pu vu is R T, for a liquid (pu - pd)/vu.
//
// Range: Reynolds number 2W/(pi D mu) below 2000 (see Turbulent for more), c
// much smaller than D, and, where the second term rules, a downstream pressure
// above about half of the upstream. The law does not choke: with the second
// term alone and a vacuum downstream it passes a fifth more than a loss-free
// nozzle of the same area (gamma 1.4). The acceleration of the gas along the
// gap, 2 ln(pu/pd) heads, is left out as well: a narrow guide, ruled by
// friction, passes 4 % too much at a ratio of 12 and hardly anything at a ratio
// near 1. Water that flashes in the gap is held back by its vapour and passes
// less than this law says.
type Clearance struct {
	fluid         fluid.Viscous
	voider        fluid.Voider // the same fluid, if it is one
	friction, end float64      // friction divided by mu: see above
	speed         float64      // Reynolds number = speed W/mu
	turbulent     bool
}

const entryExitHeads = 1.5

// NewClearance makes the law for a gap of diameter d, radial clearance c and
// length l, all in m. Its flux is W itself: the effective area is 1.
// A clearance of zero passes nothing.
func NewClearance(f fluid.Viscous, d, c, l float64) *Clearance {
	law := &Clearance{fluid: f}
	law.voider, _ = f.(fluid.Voider)
	if c > 0 {
		a := math.Pi * d * c
		law.friction = 12 * l / (a * c * c)
		law.end = entryExitHeads / 2 / (a * a)
		law.speed = 2 / (math.Pi * d)
	}
	return law
}

// void is fluid.Void, without asking each time what the fluid is.
func (c *Clearance) void(up *fluid.State) (alpha, byV, byU float64) {
	if c.voider == nil {
		return up.X, 0, 0
	}
	return c.voider.Void(up)
}

// Flux implements Law.
func (c *Clearance) Flux(up *fluid.State, down float64) float64 {
	if c.end == 0 {
		return 0
	}
	alpha, _, _ := c.void(up)
	mu, _, _ := c.fluid.Mu(up)
	j, _, _ := weight((up.P-down)/up.P, alpha)
	al, d := c.friction*mu, up.P/up.V*j
	// 2 d/(al + sqrt()) keeps its digits where friction rules.
	w := 2 * d / (al + math.Sqrt(al*al+4*c.end*d))
	if c.turbulent && w*c.speed > turns*mu {
		w, _ = c.rough(w, al, d, mu)
	}
	return w
}

// FluxSlopes implements Law.
func (c *Clearance) FluxSlopes(up *fluid.State, down float64, f *Flux) {
	*f = Flux{}
	if c.end == 0 {
		return
	}
	alpha, alphaV, alphaU := c.void(up)
	mu, muV, muU := c.fluid.Mu(up)
	j, jz, ja := weight((up.P-down)/up.P, alpha)
	al, rho := c.friction*mu, 1/up.V
	d := up.P * rho * j
	root := math.Sqrt(al*al + 4*c.end*d)
	f.G = 2 * d / (al + root)
	// al W + end W^2 = d, hence dW = (dd - W dal)/(al + 2 end W).
	i, byMu := 1/root, f.G*c.friction
	if c.turbulent && f.G*c.speed > turns*mu {
		var fall float64
		f.G, fall = c.rough(f.G, al, d, mu)
		// al W (Re/turns)^(3/4) rises with mu^(1/4) and W^(7/4).
		i, byMu = 1/(1.75*fall/f.G+2*c.end*f.G), 0.25*fall/mu
	}
	dp := rho * (j + jz*down/up.P)
	da := up.P * rho * ja
	f.Gp = -rho * jz * i
	f.Gv = (dp*up.Pv - d*rho + da*alphaV - byMu*muV) * i
	f.Gu = (dp*up.Pu + da*alphaU - byMu*muU) * i
}
