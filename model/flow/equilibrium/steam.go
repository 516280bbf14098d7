package equilibrium

import (
	"math"

	"underdisc/model/fluid/if97"
)

// Steam is tabled over X = ln p and the distance from the line, in entropy where
// a pressure on an isentrope is asked for, in enthalpy at the inlet:
//
//	h = A + s B + E(X, s - s"),  y = spanS z (stretch + (1-stretch) z)
//
// E vanishes on the line with its slopes, so that expansions cross it without a
// jump. Tabled at the inlet are s - s"(X) and ln(p0/pc) of a throat in steam.
const (
	steamStep  = 2 * lineStep
	steamCells = lineCells / 2
	steamRows  = 24
	inletRows  = 28
	spanS      = 2900. // J/(kg K)
	spanH      = 2.0e6 // J/kg; beyond 1073 K at every pressure
	stretch    = 0.15
	leastV     = 0.0065 // m3/kg: denser than this the tables are only continued
	wetEnd     = 16.6e6 // Pa
)

type steam struct {
	grid   grid
	rest   []patch // E, J/kg
	hgrid  grid    // over h - h"
	inlet  []patch // s - s", J/(kg K)
	throat []patch // ln(p0/pc)
}

func (a *steam) build(l *line) {
	a.grid = grid{lineLow, 1 / steamStep, steamCells}
	a.hgrid = newGrid(inletRows, 0, spanH)
	var rest, inlet, throat [][]float64
	for i := range steamCells + 1 {
		x := a.grid.node(i)
		rest = append(rest, restRow(l, x))
		y, d := a.inletRow(l, x)
		inlet, throat = append(inlet, y), append(throat, d)
	}
	a.rest, a.inlet, a.throat = patches(rest, true), patches(inlet, false), patches(throat, false)
}

// covered tells whether region 2 holds where it is evaluated. Up to wetEnd it does
// from the line on; above, the line is none, and the rows begin where region 2 does.
func covered(p float64, q *if97.Point) bool {
	return p < wetEnd || q.V > leastV && q.T > if97.Boundary23T(p)
}

// coldest is the temperature that a row begins at.
func coldest(p float64) float64 {
	if p < wetEnd {
		return if97.SaturationT(p)
	}
	return if97.Boundary23T(p)
}

// restRow is E at one X.
func restRow(l *line, x float64) []float64 {
	p := math.Exp(x)
	c, t := l.find(x)
	sg, _ := c.sg.at(t)
	row := make([]float64, steamRows+1)
	near, first := coldest(p), 0
	for j := 1; j <= steamRows; j++ {
		s := sg + spanS*deviation(j)
		q := steamPS(p, s, near)
		if !covered(p, &q) {
			continue
		}
		if first == 0 {
			first = j
		}
		near = q.T
		h, _ := c.wet(t, s)
		row[j] = q.H - h - l.drift(s)
	}
	// Below, through the first two good rows as y^2 (k1 + k2 y).
	y1, y2 := deviation(first), deviation(first+1)
	e1, e2 := row[first]/(y1*y1), row[first+1]/(y2*y2)
	for j := 1; j < first; j++ {
		y := deviation(j)
		row[j] = y * y * (e1 + (e2-e1)*(y-y1)/(y2-y1))
	}
	return row
}

// inletRow is s - s" and ln(p0/pc) at one X.
func (a *steam) inletRow(l *line, x float64) (above, throat []float64) {
	p := math.Exp(x)
	c, t := l.find(x)
	sg, _ := c.sg.at(t)
	hg, _ := c.hg.at(t)
	above, throat = make([]float64, inletRows+1), make([]float64, inletRows+1)
	near, first, delta := coldest(p), -1, 0.55
	for j := range above {
		q := steamPH(p, hg+a.hgrid.node(j), near)
		if !covered(p, &q) {
			continue
		}
		if first < 0 {
			first = j
		}
		near = q.T
		if j > 0 {
			above[j] = q.S - sg
		}
		cross, _ := l.crossing(q.S)
		delta = dryThroat(q, cross, delta)
		throat[j] = delta
	}
	for j := range first {
		above[j] = above[first] * float64(j) / float64(first)
		throat[j] = throat[first]
	}
	return above, throat
}

// deviation is the share of spanS at row j.
func deviation(j int) float64 {
	z := float64(j) / steamRows
	return z * (stretch + (1-stretch)*z)
}

// steamPS is steam at p and entropy s, by Newton's method from a temperature
// near it.
func steamPS(p, s, t float64) if97.Point {
	for range 30 {
		q := if97.Region2(p, t)
		d := (s - q.S) * t / q.Cp
		t += max(-60, min(60, d))
		if math.Abs(d) < 1e-9*t {
			return q
		}
	}
	return if97.Region2(p, t)
}

// steamPH is steam at p and enthalpy h.
func steamPH(p, h, t float64) if97.Point {
	for range 30 {
		q := if97.Region2(p, t)
		d := (h - q.H) / q.Cp
		t += max(-60, min(60, d))
		if math.Abs(d) < 1e-9*t {
			return q
		}
	}
	return if97.Region2(p, t)
}

// dryThroat is ln(p0/pc) where steam from rest at q reaches its speed of
// sound, W^2 = 2 (h0 - h). Beyond the crossing of the line it takes p v as a
// power of p with the exponent that it has there and its trend: a smooth continuation, used only
// by the cells that the crossing lies in.
func dryThroat(q if97.Point, cross, near float64) float64 {
	x0 := math.Log(q.P)
	t := q.T
	// p v at the crossing, its exponent there and that exponent's slope by X.
	var e if97.Point
	var w, n0, n1 float64
	if cross > x0-1 {
		exponent := func(x float64) float64 {
			e = steamPS(math.Exp(x), q.S, t)
			w = e.P * e.V
			return 1 - w/(e.W*e.W)
		}
		n1 = exponent(cross + 0.03)
		n0 = exponent(cross)
		n1 = (n1 - n0) / 0.03
	}
	miss := func(d float64) float64 {
		x := x0 - d
		if x < cross {
			d := x - cross
			w1 := w * math.Exp(d*(n0+d*n1/2))
			// Simpson's rule for the enthalpy.
			wm := w * math.Exp(d/2*(n0+d*n1/4))
			return w1/(1-n0-n1*d) - 2*(q.H-e.H-d*(w+4*wm+w1)/6)
		}
		e := steamPS(math.Exp(x), q.S, t)
		t = e.T
		return e.W*e.W - 2*(q.H-e.H)
	}
	a, b := near+0.01, near
	fa, fb := miss(a), miss(b)
	for range 30 {
		if fa == fb {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		c = max(0.2, min(1, c))
		a, fa = b, fb
		b = c
		if math.Abs(a-b) < 1e-5 {
			break
		}
		fb = miss(b)
	}
	return b
}

// find is the patch of X and of the distance y from the line, and the place.
func (a *steam) find(x, y float64, l *steamPlace) {
	i, t, free := a.grid.find(x)
	l.x, l.zx = t, free/steamStep
	free = 1
	if !(y > 0) {
		y, free = 0, 0
	}
	// 2 (1-stretch) z + stretch.
	root := math.Sqrt(stretch*stretch + y*(4*(1-stretch)/spanS))
	z := (root - stretch) * (steamRows / (2 * (1 - stretch)))
	j := int(z)
	if z >= steamRows {
		j, z, free = steamRows-1, steamRows, 0
	}
	l.z = z - float64(j)
	l.zy = free * steamRows / spanS / root
	l.zyy = -l.zy * (2 * (1 - stretch) / spanS) / (root * root)
	l.cell = &a.rest[i*steamRows+j]
}

// steamPlace is a place in the table of E: zx and zy are the slopes of the
// coordinates by X and y.
type steamPlace struct {
	cell              *patch
	x, z, zx, zy, zyy float64
}
