package if97

import "math"

// wet is water l and steam g in equilibrium, together of volume v, or with the
// share x of steam where v is NaN. xT is dx/dT at constant v.
func wet(l, g *Point, v, x float64) (m Mix, xT float64) {
	dv, du := g.V-l.V, g.U-l.U
	if math.IsNaN(v) {
		v = l.V + x*dv
	} else {
		x = (v - l.V) / dv
	}
	slope := SaturationSlope(l.T)
	lv, lu := l.along(slope)
	gv, gu := g.along(slope)
	xT = -(lv + x*(gv-lv)) / dv
	phi := du / dv
	m = Mix{X: x, P: SaturationP(l.T), T: l.T, V: v}
	m.U = l.U + x*du
	m.H = m.U + m.P*v
	m.S = l.S + x*(g.S-l.S)
	m.Tu = 1 / (lu + x*(gu-lu) + xT*du)
	m.Tv = -phi * m.Tu
	m.Pu, m.Pv = slope*m.Tu, slope*m.Tv
	m.W = v * math.Sqrt(m.P*m.Pu-m.Pv)
	return m, xT
}
