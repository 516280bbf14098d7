package water

import (
	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// Water is tabled over u and over zeta = (v' - v)/(v' - v300): 0 on the
// saturation line, 1 at 300 bar. p and T are tabled less what saturated water has
// at the same u, so the line comes out exact.
const (
	liquidLow   = -15e3 // J/kg, about 269.6 K
	liquidHigh  = 1645e3
	liquidCells = 88
	liquidRows  = 12
	liquidFine  = 8 // cells of the lines in a cell of the table
	liquidLines = liquidCells * liquidFine
	liquidTop   = 30e6      // Pa
	liquidMaxV  = 1.0 / 256 // m3/kg, above every v'
	// Below this v the table's linear continuation would lose p_v to p p_u; p
	// goes on with a fixed slope by v instead, in Pa kg/m3.
	liquidMinV   = 8e-4
	stiff        = 1e12
	liquidStride = liquidRows + 1
)

// liquidLine is, in one cell of u, saturated water's T, p and v, and v at 300 bar.
type liquidLine struct{ t, p, v, top cubic }

type liquid struct {
	lines []liquidLine
	cells [][2]patch // T - Ts in K, p - ps in Pa
	rest  []patch    // s in J/(kg K)
}

func (a *liquid) build() {
	u := even(liquidLines, liquidLow, liquidHigh)
	var col [4][]float64
	for k := range col {
		col[k] = make([]float64, len(u))
	}
	line := make([]if97.Point, len(u))
	t, top := 269.6, 269.6
	for i := range u {
		t = root(func(t float64) float64 { return saturatedWater(t).U - u[i] }, t+1, t)
		top = root(func(t float64) float64 { return if97.Region1(liquidTop, t).U - u[i] }, top+1, top)
		line[i] = saturatedWater(t)
		col[0][i], col[1][i] = t, line[i].P
		col[2][i], col[3][i] = line[i].V, if97.Region1(liquidTop, top).V
	}
	ct, cp, cv, cw := cubics(u, col[0]), cubics(u, col[1]), cubics(u, col[2]), cubics(u, col[3])
	a.lines = make([]liquidLine, liquidLines)
	for i := range a.lines {
		a.lines[i] = liquidLine{ct[i], cp[i], cv[i], cw[i]}
	}
	a.fill(u, line, col[2], col[3])
}

// fill makes the table between saturated water, line with v vs, and v vt at 300
// bar, given at the nodes u of the lines.
func (a *liquid) fill(u []float64, line []if97.Point, vs, vt []float64) {
	x, z := even(liquidCells, liquidLow, liquidHigh), even(liquidRows, 0, 1)
	tt, pp, ss := newSurface(x, z), newSurface(x, z), newSurface(x, z)
	for i := range x {
		k := i * liquidFine
		q := line[k]
		t, p := q.T, q.P
		width := vs[k] - vt[k]
		for j, z := range z {
			if j > 0 {
				v := vs[k] - z*width
				q = invert(if97.Region1, v, u[k], ahead(q, if97.Region1, v-q.V, u[k]-q.U))
			}
			tt.f[i][j], pp.f[i][j], ss.f[i][j] = q.T-t, q.P-p, q.S
			if j == 0 || j == liquidRows {
				pv, _, tv, _ := gradient(q)
				e := j / liquidRows
				tt.ends[i][e], pp.ends[i][e], ss.ends[i][e] = -tv*width, -pv*width, -q.P/q.T*width
			}
		}
	}
	const n = liquidCells * liquidStride
	a.cells, a.rest = make([][2]patch, n), make([]patch, n)
	tt.fill(func(n int) *patch { return &a.cells[n][0] })
	pp.fill(func(n int) *patch { return &a.cells[n][1] })
	ss.fill(func(n int) *patch { return &a.rest[n] })
}

// clamp keeps u in the table: what is inside, what is left over, and 1 or, when
// clamped, 0.
func (a *liquid) clamp(u float64) (in, over, free float64) {
	if u < liquidLow {
		return liquidLow, u - liquidLow, 0
	}
	if u > liquidHigh {
		return liquidHigh, u - liquidHigh, 0
	}
	return u, 0, 1
}

// line finds the lines at u, which must be in the table.
func (a *liquid) line(u float64) (l *liquidLine, t float64) {
	t = (u - liquidLow) * (liquidLines / (liquidHigh - liquidLow))
	i := min(int(t), liquidLines-1)
	return &a.lines[i], t - float64(i)
}

// place is where a (v, u) lies in the table: the patch, the places in it, and
// their slopes.
type place struct {
	i         int
	x, xu     float64
	z, zu, zv float64
}

// find places (v, u) and yields p and T of the saturated water with that u. u
// must be in the table.
func (a *liquid) find(v, u float64, l *place) (ts, tsu, ps, psu float64) {
	const scale = liquidLines / (liquidHigh - liquidLow)
	c, t := a.line(u)
	vs, vsu := c.v.at(t)
	vt, vtu := c.top.at(t)
	vsu *= scale
	width := liquidRows / (vs - vt)
	z := (vs - v) * width
	l.zv = -width
	l.zu = width*vsu - z*(vsu-vtu*scale)*(width/liquidRows)
	j := liquidRows
	if z < liquidRows {
		j = int(z)
	}
	x := (u - liquidLow) * (liquidCells / (liquidHigh - liquidLow))
	i := min(int(x), liquidCells-1)
	l.i, l.x, l.z = i*liquidStride+j, x-float64(i), z-float64(j)
	l.xu = liquidCells / (liquidHigh - liquidLow)
	ts, tsu = c.t.at(t)
	ps, psu = c.p.at(t)
	return ts, tsu * scale, ps, psu * scale
}

// at fills p, T and their slopes. Outside the table's range of u it goes on
// along the saturation line's end, with the compression of the end.
func (a *liquid) at(v, u float64, s *fluid.State) {
	var l place
	in, over, free := a.clamp(u)
	if v < liquidMinV {
		a.at(liquidMinV, u, s)
		s.P += stiff * (liquidMinV - v)
		s.Pv, s.Tv = -stiff, 0
		return
	}
	ts, tsu, ps, psu := a.find(v, in, &l)
	k := &a.cells[l.i]
	t, tx, tz := k[0].at(l.x, l.z)
	p, px, pz := k[1].at(l.x, l.z)
	s.T = ts + t + over*tsu
	s.P = ps + p + over*psu
	s.Tv, s.Tu = tz*l.zv, tsu+free*(tx*l.xu+tz*l.zu)
	s.Pv, s.Pu = pz*l.zv, psu+free*(px*l.xu+pz*l.zu)
	s.X = 0
}
