package equilibrium

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// arrival is G where the expansion has come down to some X, with the slopes of
// ln G: by X, and by what the inlet gives (h and s or, in water, label and p0).
type arrival struct {
	g, byX, byH, byS, byB, byP float64
}

// FluxSlopes implements flow.Law.
func (n *Nozzle) FluxSlopes(up *fluid.State, down float64, f *flow.Flux) {
	if !(up.P > 0 && down >= 0) {
		nan := math.NaN() // no state
		*f = flow.Flux{G: nan, Gv: nan, Gu: nan, Gp: nan}
		return
	}
	var in inlet
	var d inletSlopes
	n.enter(up, &in, &d)
	scale := up.P / in.p
	pd := down / scale
	var th throat
	n.throat(&in, pd, &th)

	// G is phi(y) times what it is at p, the X of which has the slopes dx.
	p, y, phi, phiy := pd, 0.0, 1.0, 0.0
	var dx, dy pair
	var a arrival
	atThroat := false
	f.Choked = !(pd > th.p)
	z, zl := 1-pd/in.p, linearBelow
	if th.p > in.p*(1-linearBelow) {
		zl = 1 - th.p/in.p
	}
	switch {
	case f.Choked || z < zl && zl < linearBelow:
		atThroat = true
		n.throatSlopes(&in, &d, &th, &dx)
	case z < zl:
		p = in.p * (1 - zl)
		dx = pair{d.p[0] / in.p, d.p[1] / in.p}
	}
	if !f.Choked && z < zl {
		y = z / zl
		phi, phiy = y*(1.25-0.25*y*y), 1.25-0.75*y*y
		for k := range dy {
			dy[k] = (pd/(in.p*in.p)*d.p[k] + y*(1-zl)*(dx[k]-d.p[k]/in.p)) / zl
		}
	}
	if !atThroat {
		n.place(&in, p, &th.spot)
	}
	n.arrive(&in, &th.spot, &a)

	g := phi * a.g
	gp := 0.0
	switch {
	case f.Choked:
	case z < zl:
		gp = -a.g * phiy / (zl * in.p)
	default:
		gp = g * a.byX / pd
	}
	f.G, f.Gp = scale*g, gp
	var out pair
	for k, upP := range [2]float64{up.Pv, up.Pu} {
		ln := a.byX*dx[k] + a.byH*d.h[k] + a.byS*d.s[k] + a.byB*d.b[k] + a.byP*d.p[k]
		out[k] = scale*(g*ln+a.g*phiy*dy[k]) + (upP-scale*d.p[k])/in.p*(g-pd*gp)
	}
	f.Gv, f.Gu = out[0], out[1]
}

// throatSlopes are the slopes of X of the throat.
func (n *Nozzle) throatSlopes(in *inlet, d *inletSlopes, o *throat, dx *pair) {
	switch o.at {
	case onLine:
		*dx = d.xs
	case inSteam:
		for k := range dx {
			dx[k] = d.p[k]/in.p - d.delta[k]
		}
	default:
		// F stays zero.
		c, t := o.c, o.t
		h, w := c.wet(t, in.s)
		wx, wxx := c.bends(t, in.s)
		hs, ws, wsx := c.byS(t)
		e := 2 * (in.h - h)
		fh := -2 * (w - wx)
		fs := 2*w*ws - fh*hs - e*(ws-wsx)
		fx := 2*w*w - e*(wx-wxx)
		for k := range dx {
			dx[k] = -(fh*d.h[k] + fs*d.s[k]) / fx
		}
	}
}

// arrive is reach with slopes.
func (n *Nozzle) arrive(in *inlet, o *spot, a *arrival) {
	p := o.p
	if in.kind == fromWater && p >= in.iso.p && !o.mixed {
		i := &in.iso
		work, v := i.at(p)
		wb, vb := i.byLabel(p)
		_, v0 := i.at(in.p)
		w0, _ := i.byLabel(in.p)
		e := 2 * max(0, in.work-work)
		a.g = math.Sqrt(e) / v
		a.byX = -p * (v/e + i.byP(p)/v)
		a.byB = (w0-wb)/e - vb/v
		a.byP = v0 / e
		return
	}
	c, t := o.c, o.t
	h, w := c.wet(t, in.s)
	wx, _ := c.bends(t, in.s)
	hs, ws, _ := c.byS(t)
	if in.kind == fromSteam && o.x > in.xs && !o.mixed {
		sg, sgt := c.sg.at(t)
		sgx := sgt / lineStep
		sgxx := (2*c.sg[2] + 6*t*c.sg[3]) / (lineStep * lineStep)
		var l steamPlace
		n.steam.find(o.x, in.s-sg, &l)
		e, ex, ez := l.cell.at(l.x, l.z)
		exx, exz, ezz := l.cell.bends(l.x, l.z)
		ey, exy := ez*l.zy, exz*l.zx*l.zy
		eyy := ezz*l.zy*l.zy + ez*l.zyy
		h += e
		hs += ey
		w += ex*l.zx - sgx*ey
		ws += exy - sgx*eyy
		wx += exx*l.zx*l.zx - 2*sgx*exy + sgx*sgx*eyy - sgxx*ey
	}
	e := 2 * max(0, in.h-h)
	a.g = math.Sqrt(e) * p / w
	a.byX = 1 - w/e - wx/w
	a.byH = 1 / e
	a.byS = -hs/e - ws/w
}
