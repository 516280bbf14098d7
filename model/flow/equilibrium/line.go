package equilibrium

import (
	"math"

	"underdisc/model/fluid/if97"
)

// Where water and steam are in equilibrium every property at one pressure is
// linear in entropy. With X = ln p,
//
//	h = A(X) + s B(X),  p v = dh/dX at constant s = a(X) + s b(X)
//
// where b = p (v"-v')/(s"-s') and a = p v' - s' b; A and B are their integrals,
// so that h and v agree exactly and differences of h are as good as v. B is the
// temperature but for the formulation's own inconsistency of 1e-5.
const (
	lineLow   = 5.9 // ln(365 Pa), about 267 K
	lineStep  = 0.05
	lineCells = 224 // to ln(26.7 MPa)
	lineTop   = 16.75
)

// lineCell is the line in one cell of X.
type lineCell struct {
	a, b       cubic
	sumA, sumB float64 // A and B at the cell's start
	sg, hg     cubic   // of steam on the line
	vl, vg     cubic   // specific volumes of both
	p          float64 // pressure at the cell's start
}

type line struct {
	grid  grid
	cells []lineCell
	// rest is h of steam on the line less A + s B, a few J/kg for the reason
	// above.
	rest  []cubic
	sgrid grid
	x     []cubic // X on the steam line, over s
}

func (l *line) build() {
	l.grid = grid{lineLow, 1 / lineStep, lineCells}
	var f [6][]float64
	for i := range lineCells + 1 {
		x := l.grid.node(i)
		if x > lineTop {
			// Past 168 bar the line is that of no fluid: only a smooth bound for
			// the table of steam. Quadratic through the last three nodes.
			for k := range f {
				n := len(f[k])
				f[k] = append(f[k], 3*f[k][n-1]-3*f[k][n-2]+f[k][n-3])
			}
			continue
		}
		p := math.Exp(x)
		t := if97.SaturationT(p)
		w, g := if97.Region1(p, t), if97.Region2(p, t)
		b := p * (g.V - w.V) / (g.S - w.S)
		for k, y := range [...]float64{p*w.V - w.S*b, b, g.S, g.H, w.V, g.V} {
			f[k] = append(f[k], y)
		}
	}
	var c [6][]cubic
	for k := range f {
		c[k] = cubics(f[k])
	}
	l.cells = make([]lineCell, lineCells)
	sumB := if97.SaturationT(math.Exp(lineLow))
	sumA := f[3][0] - f[2][0]*sumB
	rest := make([]float64, lineCells+1)
	for i := range l.cells {
		rest[i] = f[3][i] - sumA - f[2][i]*sumB
		l.cells[i] = lineCell{c[0][i], c[1][i], sumA, sumB, c[2][i], c[3][i], c[4][i], c[5][i],
			math.Exp(l.grid.node(i))}
		sumA += lineStep * c[0][i].area(1)
		sumB += lineStep * c[1][i].area(1)
	}
	rest[lineCells] = f[3][lineCells] - sumA - f[2][lineCells]*sumB
	l.rest = cubics(rest)
	l.invert(f[2])
}

// invert tables X over s on the steam line.
func (l *line) invert(sg []float64) {
	const n = 140
	l.sgrid = newGrid(n, sg[lineCells], sg[0])
	x := make([]float64, n+1)
	for k := range x {
		s := l.sgrid.node(k)
		i := 0
		for i < lineCells-1 && sg[i+1] > s {
			i++
		}
		t := (s - sg[i]) / (sg[i+1] - sg[i])
		for range 4 {
			f, d := l.cells[i].sg.at(t)
			t -= (f - s) / d
		}
		x[k] = l.grid.node(i) + t*lineStep
	}
	l.x = cubics(x)
}

// crossing is X where an isentrope from steam meets the line, and its slope.
// Above the line's range in s it never does.
func (l *line) crossing(s float64) (x, slope float64) {
	i, t, free := l.sgrid.find(s)
	if free == 0 && i > 0 {
		return math.Inf(-1), 0
	}
	x, slope = l.x[i].at(t)
	return x, slope * l.sgrid.per * free
}

// drift is h of steam on the line with entropy s less A + s B, constant beyond
// the line's ends.
func (l *line) drift(s float64) float64 {
	x, _ := l.crossing(s)
	i, t, _ := l.grid.find(x)
	d, _ := l.rest[i].at(t)
	return d
}

// find is the cell of X and the place in it.
func (l *line) find(x float64) (c *lineCell, t float64) {
	i, t, _ := l.grid.find(x)
	return &l.cells[i], t
}

// pressure is e^X, by the series to the seventh power, good to 1e-15.
func (c *lineCell) pressure(t float64) float64 {
	y := lineStep * t
	y2 := y * y
	y4 := y2 * y2
	return c.p * ((1 + y) + y2*(1./2+y*(1./6)) + y4*((1./24+y*(1./120))+y2*(1./720+y*(1./5040))))
}

// wet is an equilibrium mixture at X and entropy s: h in J/kg and w = p v in
// J/kg.
func (c *lineCell) wet(t, s float64) (h, w float64) {
	a, b := &c.a, &c.b
	k0, k1, k2, k3 := a[0]+s*b[0], a[1]+s*b[1], a[2]+s*b[2], a[3]+s*b[3]
	w = k0 + t*(k1+t*(k2+t*k3))
	h = c.sumA + s*c.sumB + lineStep*t*(k0+t*(k1*(1./2)+t*(k2*(1./3)+t*(k3*(1./4)))))
	return
}

// bends are the slopes of w by X.
func (c *lineCell) bends(t, s float64) (wx, wxx float64) {
	a, b := &c.a, &c.b
	k1, k2, k3 := a[1]+s*b[1], a[2]+s*b[2], a[3]+s*b[3]
	return (k1 + t*(2*k2+3*t*k3)) / lineStep, (2*k2 + 6*t*k3) / (lineStep * lineStep)
}

// byS are the slopes of h and w by s, and the slope of the latter by X.
func (c *lineCell) byS(t float64) (hs, ws, wsx float64) {
	ws, wsx = c.b.at(t)
	return c.sumB + lineStep*c.b.area(t), ws, wsx / lineStep
}
