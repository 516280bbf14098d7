package water

import (
	"math"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// Steam is tabled over v, 2^-7 to 2^8 m3/kg, and over a coordinate z that is 0
// on the saturation line, so that no cell lies across it:
//
//	(u - us(v))/span = z (stretch + (1 - stretch) z)
//
// The stretch makes cells narrow near the line, where the formulation has a
// steep layer below 1 bar. T and p v are tabled less what they are on the line at
// the same v, which has finer cells of its own; so the line comes out exact. Cells
// are cubic in both coordinates, joined with two continuous derivatives.
const (
	vapourLow     = -7 // the table starts at 2^-7 = 0.0078125 m3/kg
	vapourOctaves = 15
	vapourBits    = 4 // 2^4 cells an octave
	vapourRows    = 32
	edgeMore      = 1 // 2^1 cells of the line in one of the table
	edgeBits      = vapourBits + edgeMore
	stretch       = 0.15
	span          = 1.3e6 // J/kg; z = 1 is beyond 1073 K at every v

	vapourMin   = 1.0 / 128
	vapourMax   = 256.0
	vapourEdge  = vapourMax - 1.0/(1<<45) // the last number below it
	vapourCells = vapourOctaves << vapourBits
)

// steamLine is saturated steam in one cell of v: u, T, w = p v.
type steamLine struct{ u, t, w cubic }

type vapour struct {
	edge  []steamLine
	cells [][2]patch // T - Ts in K; p v - ps v in J/kg
	rest  []patch    // s - R ln v in J/(kg K)
}

func (a *vapour) build() {
	v := nodes(vapourOctaves<<edgeBits, edgeBits, vapourLow)
	us, ts, ws := make([]float64, len(v)), make([]float64, len(v)), make([]float64, len(v))
	line := make([]if97.Point, len(v))
	t := 629.0 // saturated steam there is denser than the table's first node
	for i, v := range v {
		line[i] = saturatedSteam(root(func(t float64) float64 {
			return math.Log(saturatedSteam(t).V / v)
		}, t, t-0.5))
		t = line[i].T
		us[i], ts[i], ws[i] = line[i].U, t, line[i].P*v
	}
	cu, ct, cw := cubics(v, us), cubics(v, ts), cubics(v, ws)
	a.edge = make([]steamLine, len(cu))
	for i := range a.edge {
		a.edge[i] = steamLine{cu[i], ct[i], cw[i]}
	}
	a.fill(line, us, ts, ws)
}

// fill makes the table above the line given at the nodes of edge.
func (a *vapour) fill(line []if97.Point, us, ts, ws []float64) {
	const skip = 1 << edgeMore
	x, z := nodes(vapourCells, vapourBits, vapourLow), even(vapourRows, 0, 1)
	tt, ww, ss := newSurface(x, z), newSurface(x, z), newSurface(x, z)
	for i, v := range x {
		k := i * skip
		q := line[k]
		last := q.U
		for j, z := range z {
			u := us[k] + span*z*(stretch+(1-stretch)*z)
			if j > 0 {
				q = invert(if97.Region2, v, u, ahead(q, if97.Region2, 0, u-last))
				last = u
			}
			tt.f[i][j], ww.f[i][j] = q.T-ts[k], q.P*v-ws[k]
			ss.f[i][j] = q.S - if97.R*math.Log(v)
			if j == 0 || j == vapourRows {
				_, pu, _, tu := gradient(q)
				uz := span * (stretch + 2*(1-stretch)*z)
				e := j / vapourRows
				tt.ends[i][e], ww.ends[i][e], ss.ends[i][e] = tu*uz, pu*v*uz, uz/q.T
			}
		}
	}
	const n = vapourCells * (vapourRows + 1)
	a.cells, a.rest = make([][2]patch, n), make([]patch, n)
	tt.fill(func(n int) *patch { return &a.cells[n][0] })
	ww.fill(func(n int) *patch { return &a.cells[n][1] })
	ss.fill(func(n int) *patch { return &a.rest[n] })
}

// line finds saturated steam at v, which must be inside the table: the cell i of
// edge, the place x in it, and the slope of x by v.
func (a *vapour) line(v float64) (i int, x, slope float64) {
	return octave(v, edgeBits, vapourLow)
}

// saturated is us(v). v must be inside the table.
func (a *vapour) saturated(v float64) float64 {
	i, x, _ := a.line(v)
	us, _ := a.edge[i].u.at(x)
	return us
}

// row finds the row, the place z in it and the slope of z by u, where u is du
// above the saturation line.
func row(du float64) (j int, z, slope float64) {
	// 2 (1-stretch) z + stretch, also the slope of u by z.
	root := math.Sqrt(stretch*stretch + 4*(1-stretch)/span*du)
	z = (root - stretch) * (vapourRows / (2 * (1 - stretch)))
	j = vapourRows
	if z < vapourRows {
		j = int(z)
	}
	return j, z - float64(j), vapourRows / span / root
}

// patch is the number of the patch at cell i and place x of the edge and row j,
// and the place in it.
func (a *vapour) patch(i, j int, x float64) (k int, y float64) {
	return i>>edgeMore*(vapourRows+1) + j, (float64(i&(1<<edgeMore-1)) + x) * (1.0 / (1 << edgeMore))
}

// at fills p, T and their slopes: du above the line, whose cell, place and slope
// by v are i, x, xv.
func (a *vapour) at(v, du float64, i int, x, xv float64, s *fluid.State) {
	j, z, zu := row(du)
	n, y := a.patch(i, j, x)
	k := &a.cells[n]
	t, tx, tz := k[0].at(y, z)
	w, wx, wz := k[1].at(y, z)
	tz, wz = tz*zu, wz*zu
	c := &a.edge[i]
	_, ux := c.u.at(x)
	ts, tsx := c.t.at(x)
	ws, wsx := c.w.at(x)
	const fine = 1.0 / (1 << edgeMore)
	s.T, s.Tu, s.Tv = ts+t, tz, xv*(tsx+fine*tx-tz*ux)
	iv := 1 / v
	p := (ws + w) * iv
	s.P, s.Pu, s.Pv = p, wz*iv, (xv*(wsx+fine*wx-wz*ux)-p)*iv
	s.X = 1
}
