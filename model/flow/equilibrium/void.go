package equilibrium

import (
	"math"

	"underdisc/model/fluid"
)

var _ fluid.Voider = (*Nozzle)(nil)

// Void implements fluid.Voider: the share of the volume that is steam in a state
// at equilibrium, 1 in steam and 0 in water.
func (n *Nozzle) Void(up *fluid.State) (alpha, byV, byU float64) {
	if !(up.X > 0 && up.X < 1) {
		return up.X, 0, 0
	}
	p, free := hold(up.P, leastP, mostWet)
	c, t := n.line.find(math.Log(p))
	vl, vlx := c.vl.at(t)
	vg, vgx := c.vg.at(t)
	if up.V <= vl {
		return 0, 0, 0
	}
	if up.V >= vg {
		return 1, 0, 0
	}
	// alpha = a (1 - vl/v), a = vg/(vg - vl).
	d := 1 / (vg - vl)
	a, ax := vg*d, (vg*vlx-vl*vgx)*d*d
	b := 1 - vl/up.V
	byX := (ax*b - a*vlx/up.V) * (free / (lineStep * p))
	return a * b, byX*up.Pv + a*vl/(up.V*up.V), byX * up.Pu
}
