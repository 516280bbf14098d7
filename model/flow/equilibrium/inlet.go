package equilibrium

import (
	"math"

	"underdisc/model/fluid"
)

// Bounds of the inlet's pressure, Pa. Beyond them an inlet is taken at the bound,
// with the same quality or enthalpy, and the flux in proportion to pressure at
// the same ratio of pressures: only for trial states.
const (
	leastP   = 1000.
	mostWet  = 16.7e6
	mostP    = 23e6
	mostCold = 40e6
)

type origin int

const (
	fromWet origin = iota
	fromSteam
	fromWater
)

// pair holds slopes by the inlet's specific volume and internal energy.
type pair [2]float64

// inlet is what an expansion rests on: enthalpy at rest h, in the line's scale,
// and entropy s.
type inlet struct {
	kind         origin
	p, x         float64 // p0 held in bounds and, but for water, ln p0
	h, s         float64
	xs           float64 // ln p where the isentrope crosses the line
	share        float64 // wet: v/v"
	cell         *patch  // steam: the table of ln(p0/pc) if the throat is in steam,
	cellX, cellZ float64 // and the place in it
	work         float64 // water: work from ps to p0
	iso          isentrope
}

// inletSlopes are its slopes. b is the label of water.
type inletSlopes struct{ p, h, s, xs, b, delta pair }

// hold keeps p within bounds; free is 0 if it had to.
func hold(p, low, high float64) (held, free float64) {
	if p < low {
		return low, 0
	}
	if p > high {
		return high, 0
	}
	return p, 1
}

// enter prepares the expansion from a state. d may be nil.
func (n *Nozzle) enter(up *fluid.State, in *inlet, d *inletSlopes) {
	switch {
	case up.X >= 1:
		n.enterSteam(up, in, d)
	case up.X > 0:
		n.enterWet(up, in, d)
	default:
		n.enterWater(up, in, d)
	}
}

func (n *Nozzle) enterWet(up *fluid.State, in *inlet, d *inletSlopes) {
	p, free := hold(up.P, leastP, mostWet)
	in.kind, in.p, in.x = fromWet, p, math.Log(p)
	in.xs = math.Inf(1)
	c, t := n.line.find(in.x)
	vl, vlx := c.vl.at(t)
	vg, vgx := c.vg.at(t)
	v, freeV := hold(up.V, vl, vg)
	a, _ := c.a.at(t)
	b, _ := c.b.at(t)
	in.s = (p*v - a) / b
	var w float64
	in.h, w = c.wet(t, in.s)
	in.share = v / vg
	if d == nil {
		return
	}
	wx, _ := c.bends(t, in.s)
	hs, _, _ := c.byS(t)
	hx := w
	if freeV == 0 { // held on the line, which moves with p
		vx := vgx
		if v == vl {
			vx = vlx
		}
		w += p * vx / lineStep
	}
	sx, sv := (w-wx)/b, freeV*p/b
	hx += hs * sx
	hv := hs * sv
	d.p = pair{free * up.Pv, free * up.Pu}
	d.s = pair{sx*d.p[0]/p + sv, sx * d.p[1] / p}
	d.h = pair{hx*d.p[0]/p + hv, hx * d.p[1] / p}
	d.xs, d.b = pair{}, pair{}
}

func (n *Nozzle) enterSteam(up *fluid.State, in *inlet, d *inletSlopes) {
	p, free := hold(up.P, leastP, mostP)
	in.kind, in.p, in.x = fromSteam, p, math.Log(p)
	c, t := n.line.find(in.x)
	hg, hgx := c.hg.at(t)
	i, tx, fx := n.steam.grid.find(in.x)
	j, z, fz := n.steam.hgrid.find(up.H - hg)
	k := i*inletRows + j
	in.cell, in.cellX, in.cellZ = &n.steam.throat[k], tx, z
	sg, sgx := c.sg.at(t)
	if d == nil {
		y := n.steam.inlet[k].value(tx, z)
		in.s = sg + y
		in.xs, _ = n.line.crossing(in.s)
		var l steamPlace
		n.steam.find(in.x, y, &l)
		in.h, _ = c.wet(t, in.s)
		in.h += l.cell.value(l.x, l.z)
		return
	}
	y, yx, yz := n.steam.inlet[k].at(tx, z)
	_, dx, dz := in.cell.at(tx, z)
	in.s = sg + y
	var xss float64
	in.xs, xss = n.line.crossing(in.s)
	var l steamPlace
	n.steam.find(in.x, y, &l)
	e, ex, ez := l.cell.at(l.x, l.z)
	h, w := c.wet(t, in.s)
	in.h = h + e
	sgx, hgx = sgx/lineStep, hgx/lineStep
	byH := yz * fz * n.steam.hgrid.per
	byX := sgx + yx*fx/steamStep - byH*hgx
	ey := ez * l.zy
	hs, _, _ := c.byS(t)
	hs += ey
	w += ex*l.zx - sgx*ey
	dh := dz * fz * n.steam.hgrid.per
	dx = dx*fx/steamStep - dh*hgx
	d.p = pair{free * up.Pv, free * up.Pu}
	for k, bh := range [2]float64{up.Hv, up.Hu} {
		x := d.p[k] / p
		d.s[k] = byX*x + byH*bh
		d.h[k] = w*x + hs*d.s[k]
		d.xs[k] = xss * d.s[k]
		d.delta[k] = dx*x + dh*bh
	}
	d.b = pair{}
}

func (n *Nozzle) enterWater(up *fluid.State, in *inlet, d *inletSlopes) {
	p, free := hold(up.P, 1, mostCold)
	iso := &in.iso
	byU, byP := n.label(p, up.U, iso, d != nil)
	// At saturation rounding may put p below ps.
	low := p < iso.p
	if low {
		p, byP = iso.p, 0
	}
	in.kind, in.p, in.xs = fromWater, p, iso.x
	c, t := n.line.find(iso.x)
	a, _ := c.a.at(t)
	b, _ := c.b.at(t)
	in.s = (iso.p*iso.v - a) / b
	h, w := c.wet(t, in.s)
	var v float64
	in.work, v = iso.at(p)
	in.h = h + in.work
	if d == nil {
		return
	}
	wx, _ := c.bends(t, in.s)
	hs, _, _ := c.byS(t)
	sb := (iso.pb*iso.v + iso.p*iso.vb - wx*iso.xb) / b
	wb, _ := iso.byLabel(p)
	hb := w*iso.xb + hs*sb + wb
	for k, bp := range [2]float64{free * up.Pv, free * up.Pu} {
		d.b[k] = byP * bp
		if k == 1 {
			d.b[k] += byU
		}
		d.p[k] = bp
		if low {
			d.p[k] = iso.pb * d.b[k]
		}
		d.s[k] = sb * d.b[k]
		d.h[k] = hb*d.b[k] + v*d.p[k]
		d.xs[k] = iso.xb * d.b[k]
	}
}
