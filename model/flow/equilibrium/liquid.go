package equilibrium

import (
	"math"

	"underdisc/model/fluid/if97"
)

// Water on an isentrope is labelled by its internal energy where that meets the
// saturation line, at ps. From there on
//
//	v = v' - pi (k1 + pi (k2 + pi k3)),  pi = p - ps
//
// through IF97 at a fifth, three fifths and the whole way to 300 bar. The work
// h - h' is its integral. Where nothing flashes this is all there is:
// G = sqrt(2 (h0 - h))/v, which is sqrt(2 dp/v) but for the compression, of
// order dp/(rho w^2), 1 % at 200 bar in cold water.
const (
	liquidLow   = -15e3 // J/kg
	liquidHigh  = 1645e3
	liquidCells = 110
	liquidTop   = 30e6 // Pa
)

type liquidCell struct{ x, v, k1, k2, k3 cubic }

type liquid struct {
	grid  grid
	cells []liquidCell
}

func (a *liquid) build() {
	a.grid = newGrid(liquidCells, liquidLow, liquidHigh)
	var f [5][]float64
	t := 269.6
	for i := range liquidCells + 1 {
		u := a.grid.node(i)
		var w if97.Point
		for range 20 {
			w = if97.Region1(if97.SaturationP(t), t)
			d := (u - w.U) / w.Cp
			t += d
			if math.Abs(d) < 1e-10 {
				break
			}
		}
		var g [4]float64 // Newton's divided differences of (v' - v)/pi
		var at [4]float64
		q := w
		for k := 1; k < 4; k++ {
			at[k] = [...]float64{0, 0.2, 0.6, 1}[k] * (liquidTop - w.P)
			q = waterPS(w.P+at[k], w.S, q.T)
			g[k] = (w.V - q.V) / at[k]
		}
		d12 := (g[2] - g[1]) / (at[2] - at[1])
		d23 := (g[3] - g[2]) / (at[3] - at[2])
		k3 := (d23 - d12) / (at[3] - at[1])
		k2 := d12 - k3*(at[1]+at[2])
		k1 := g[1] - at[1]*(k2+at[1]*k3)
		for k, y := range [...]float64{math.Log(w.P), w.V, k1, k2, k3} {
			f[k] = append(f[k], y)
		}
	}
	var c [5][]cubic
	for k := range f {
		c[k] = cubics(f[k])
	}
	a.cells = make([]liquidCell, liquidCells)
	for i := range a.cells {
		a.cells[i] = liquidCell{c[0][i], c[1][i], c[2][i], c[3][i], c[4][i]}
	}
}

// waterPS is water at p and entropy s.
func waterPS(p, s, t float64) if97.Point {
	for range 30 {
		q := if97.Region1(p, t)
		d := (s - q.S) * t / q.Cp
		t += max(-30, min(30, d))
		if math.Abs(d) < 1e-10*t {
			return q
		}
	}
	return if97.Region1(p, t)
}

// isentrope is water of one entropy: where it boils, and its coefficients with
// their slopes by the label.
type isentrope struct {
	x, p, v, k1, k2, k3       float64
	xb, pb, vb, k1b, k2b, k3b float64
}

// isentrope fills i for a label.
func (n *Nozzle) isentrope(b float64, i *isentrope, withSlopes bool) {
	k, t, free := n.liquid.grid.find(b)
	c := &n.liquid.cells[k]
	i.x, i.xb = c.x.at(t)
	i.v, i.vb = c.v.at(t)
	i.k1, i.k1b = c.k1.at(t)
	i.k2, i.k2b = c.k2.at(t)
	i.k3, i.k3b = c.k3.at(t)
	m, z := n.line.find(i.x)
	i.p = m.pressure(z)
	if !withSlopes {
		return
	}
	per := n.liquid.grid.per * free
	i.xb *= per
	i.pb = i.p * i.xb
	i.vb *= per
	i.k1b *= per
	i.k2b *= per
	i.k3b *= per
}

// at is the work from the boiling point up to p and the specific volume there.
func (i *isentrope) at(p float64) (work, v float64) {
	d := p - i.p
	v = i.v - d*(i.k1+d*(i.k2+d*i.k3))
	work = d * (i.v - d*(i.k1*(1./2)+d*(i.k2*(1./3)+d*i.k3*(1./4))))
	return
}

// byLabel are the slopes of both by the label, at constant p.
func (i *isentrope) byLabel(p float64) (work, v float64) {
	d := p - i.p
	v = i.vb - d*(i.k1b+d*(i.k2b+d*i.k3b)) - i.byP(p)*i.pb
	work = d*(i.vb-d*(i.k1b*(1./2)+d*(i.k2b*(1./3)+d*i.k3b*(1./4)))) -
		(i.v-d*(i.k1+d*(i.k2+d*i.k3)))*i.pb
	return
}

// byP is the slope of v by p.
func (i *isentrope) byP(p float64) float64 {
	d := p - i.p
	return -(i.k1 + d*(2*i.k2+3*d*i.k3))
}

// label finds the isentrope of water at p and internal energy u. On an isentrope
// u grows by the work less the change of p v, tens of J/kg, so the label of u
// itself tells this difference well enough. The label's slopes by u and p are
// returned if asked for.
func (n *Nozzle) label(p, u float64, i *isentrope, withSlopes bool) (byU, byP float64) {
	n.isentrope(u, i, withSlopes)
	work, v := i.at(p)
	gain := work - p*v + i.p*i.v
	if withSlopes {
		wb, vb := i.byLabel(p)
		byU = 1 - (wb - p*vb + i.pb*i.v + i.p*i.vb)
		byP = p * i.byP(p)
	}
	n.isentrope(u-gain, i, withSlopes)
	return
}
