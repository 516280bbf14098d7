package network

import (
	"math"

	"underdisc/model/fluid/water"
)

// A drain passes water by its own weight when there is no difference of
// pressure to drive it. A drain that falls by z from the pipe passes, by
// Bernoulli (any text, e.g. White, Fluid Mechanics, chapter 3),
//
//	W = A rho sqrt(2 (g z + dp/rho)), dp the difference of pressure
//
// of which the drain's nozzle gives A rho sqrt(2 dp/rho). What a fall adds is
// the difference of the two,
//
//	W = w A rho (root(2 (g z + dp/rho)) - root(2 dp/rho)), root(x) = sqrt(x) above, 0 below 0,
//
// w = 1 - exp(-volume of water/clings): it runs as long as there is water, and
// never backwards. root is rounded off near zero, root(x) = x/sqrt(x + round g z),
// which costs a quarter of round of the flow at dp = 0: 2.5 %.

// clings is the volume of water below which it no longer runs freely, m3; a
// choice without a source.
const clings = 10e-6

const fallRound = 0.1

// fallen is a fall's flow with its slopes by pressure difference, density
// volume v of the water, and volume of water lying.
type fallen struct {
	w, h          float64
	byP, byV, byL float64
}

// fall is the flow of water by its own weight.
func (e *edge) fall() fallen {
	nd := e.from
	lying := nd.liquid()
	if !(lying > 0) {
		return fallen{}
	}
	v, h := nd.st.V, nd.st.H
	if nd.st.X > 0 {
		var sat water.Saturation
		nd.water.Saturated(nd.st.T, &sat)
		v, h = sat.Vl, sat.Ul+nd.st.P*sat.Vl
	}
	dp := nd.st.P - e.to.st.P
	a, sa := fallRoot(2*(e.head+dp*v), e.head)
	b, sb := fallRoot(2*dp*v, e.head)
	x := math.Exp(-lying / clings)
	k := (1 - x) * e.area / v
	return fallen{
		w: k * (a - b), h: h,
		byP: k * (sa - sb) * 2 * v,
		byV: k*(sa-sb)*2*dp - k*(a-b)/v,
		byL: x / clings * e.area / v * (a - b),
	}
}

// fallRoot is the rounded root and its slope.
func fallRoot(x, head float64) (y, slope float64) {
	if x <= 0 {
		return 0, 0
	}
	q := x + fallRound*head
	r := math.Sqrt(q)
	return x / r, (1 - 0.5*x/q) / r
}

// fallSlopes fills the slopes of flow and energy.
func (e *edge) fallSlopes() {
	clear(e.dw)
	clear(e.dh)
	clear(e.da)
	f := e.fall()
	if e.actAt >= 0 {
		whole := *e
		whole.area = e.opening.Full
		w := whole.fall()
		e.dw[e.actAt] += w.w
		e.dh[e.actAt] += w.h * w.w
	}
	e.w = f.w
	nd := e.from
	if f.w == 0 && f.byL == 0 {
		return
	}
	lv, lu, lm := nd.liquidSlopes()
	wet := nd.st.X > 0
	if !wet { // full of water: all of it lies
		lv, lu, lm = 0, 0, 0
	}
	var sat water.Saturation
	if wet {
		nd.water.Saturated(nd.st.T, &sat)
	}
	for c, at := range e.fromAt {
		dv, dh := nd.dv[c], nd.dh[c]
		if wet {
			dv = sat.VlT * nd.dT[c]
			dh = sat.UlT*nd.dT[c] + nd.dp[c]*sat.Vl + nd.st.P*dv
		}
		dl := lv*nd.dv[c] + lu*nd.du[c]
		if c == 0 {
			dl += lm
		}
		d := f.byP*nd.dp[c] + f.byV*dv + f.byL*dl
		e.dw[at] += d
		e.dh[at] += f.h*d + f.w*dh
	}
	for c, at := range e.toAt {
		d := -f.byP * e.to.dp[c]
		e.dw[at] += d
		e.dh[at] += f.h * d
	}
}
