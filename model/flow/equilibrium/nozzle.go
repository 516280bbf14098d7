// Package equilibrium is the flow of steam and water through a nozzle: one
// dimension, no friction, no heat, the phases at every point in equilibrium and
// at one velocity (the homogeneous equilibrium model). From rest at h0, s0
//
//	G(p) = sqrt(2 (h0 - h(p, s0)))/v(p, s0)
//
// and the flux is that at the downstream pressure or, if greater on the way
// there, the greatest: the critical flux. Short bores pass more water than that,
// since it takes time to boil.
//
// Nothing but curves along the saturation line is needed where the expansion is
// wet (line.go), and along water's isentropes (liquid.go); steam takes a table more
// (steam.go). From these the flux at any pressure follows by the formula above, and
// the throat from a guess and one step of Newton's method (throat.go). So critical
// and subcritical flow join, and the drop in h and v agree however small the drop.
//
// Range: inlets of 0.02 to 165 bar, steam to 220 bar and 1073 K, water to
// 300 bar. States outside yield something finite and not negative. Errors against
// the direct search, held in accuracy_test.go: flux 4e-5 for steam, critical, and
// 3e-4, subcritical (1e-4 and 1.5e-3 above 165 bar); 1e-6 for wet inlets; 2e-5 for
// water; throat pressure 5e-4 for steam and 1e-5 otherwise.
package equilibrium

import (
	"math"
	"sync"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// Nozzle implements flow.Law by tables. It never changes once made, and may be
// shared.
type Nozzle struct {
	line   line
	steam  steam
	liquid liquid
	guess  guesses
}

var _ flow.Law = (*Nozzle)(nil)

// New makes the tables, from IF97.
func New() *Nozzle {
	n := &Nozzle{}
	n.line.build()
	n.steam.build(&n.line)
	n.liquid.build()
	n.buildGuesses()
	return n
}

// Shared is one instance for the whole program, made on first use.
var Shared = sync.OnceValue(New)

// linearBelow is z = 1 - pd/p0 below which the flux, which goes as sqrt(z), is
// replaced by an odd cubic of nearly equal slope at this z, as in flow.Nozzle;
// where water already chokes within, that z takes its place.
const linearBelow = 1e-3

// Critical is the critical flux, kg/(s m2), and the ratio of the pressure in the
// throat to that of the inlet.
func (n *Nozzle) Critical(up *fluid.State) (g, ratio float64) {
	var in inlet
	n.enter(up, &in, nil)
	var t throat
	n.throat(&in, 0, &t)
	return n.reach(&in, &t.spot) * (up.P / in.p), t.p / in.p
}

// Flux implements flow.Law.
func (n *Nozzle) Flux(up *fluid.State, down float64) float64 {
	if !(up.P > 0 && down >= 0) {
		return math.NaN() // no state
	}
	var in inlet
	n.enter(up, &in, nil)
	scale := up.P / in.p
	pd := down / scale
	var t throat
	n.throat(&in, pd, &t)
	if !(pd > t.p) {
		return scale * n.reach(&in, &t.spot)
	}
	z := 1 - pd/in.p
	if z >= linearBelow {
		return scale * n.reach(&in, n.place(&in, pd, &t.spot))
	}
	pl, zl := in.p*(1-linearBelow), linearBelow
	var g float64
	if t.p > pl {
		zl = 1 - t.p/in.p
		g = n.reach(&in, &t.spot)
	} else {
		g = n.reach(&in, n.place(&in, pl, &t.spot))
	}
	y := z / zl
	return scale * g * y * (1.25 - 0.25*y*y)
}

// spot is where an expansion has come down to: X, p, and the line's cell with the
// place in it. On the line itself it counts as mixed.
type spot struct {
	x, p  float64
	c     *lineCell
	t     float64
	mixed bool
}

// place makes the spot of p. In water it needs the pressure alone.
func (n *Nozzle) place(in *inlet, p float64, o *spot) *spot {
	o.p, o.mixed = p, false
	if !(in.kind == fromWater && p >= in.iso.p) {
		o.x = math.Log(p)
		o.c, o.t = n.line.find(o.x)
	}
	return o
}

// reach is G where the expansion has come down to a spot.
func (n *Nozzle) reach(in *inlet, o *spot) float64 {
	if in.kind == fromWater && o.p >= in.iso.p && !o.mixed {
		work, v := in.iso.at(o.p)
		return math.Sqrt(2*max(0, in.work-work)) / v
	}
	c, t := o.c, o.t
	h, w := c.wet(t, in.s)
	if in.kind == fromSteam && o.x > in.xs && !o.mixed {
		sg, sgx := c.sg.at(t)
		var l steamPlace
		n.steam.find(o.x, in.s-sg, &l)
		e, ex, ez := l.cell.at(l.x, l.z)
		h += e
		w += ex*l.zx - sgx/lineStep*ez*l.zy
	}
	return math.Sqrt(2*max(0, in.h-h)) * o.p / w
}
