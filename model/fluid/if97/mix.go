package if97

// Mix is water, steam, or both in equilibrium, with what balances in specific
// volume and internal energy need.
type Mix struct {
	// X is the mass share of steam: 0 in water, 1 in steam. Above the critical
	// temperature it is 1; in region 3 below it, the denser side is water.
	X      float64
	P, T   float64 // Pa, K
	V      float64 // m3/kg
	U, H   float64 // J/kg
	S      float64 // J/(kg K)
	W      float64 // speed of sound, m/s; of a mixture, in equilibrium
	Pv, Pu float64 // slopes of P by V at constant U and by U at constant V
	Tv, Tu float64 // slopes of T
}

// slopes yields those of p and t by v and u. With dp/dT = b at constant v, the
// first law is du = cv dT + (T b - p) dv.
func (x *Point) slopes() (pv, pu, tv, tu float64) {
	pv = 1 / x.Vp
	b := -x.VT * pv
	tu = 1 / x.Cv
	tv = (x.P - x.T*b) * tu
	return pv + b*tv, b * tu, tv, tu
}

// mix is the point as a Mix.
func (x *Point) mix() Mix {
	m := Mix{P: x.P, T: x.T, V: x.V, U: x.U, H: x.H, S: x.S, W: x.W}
	m.Pv, m.Pu, m.Tv, m.Tu = x.slopes()
	return m
}

// along yields the slopes of v and u by T along the saturation line, where p
// rises by slope.
func (x *Point) along(slope float64) (v, u float64) {
	v = x.VT + x.Vp*slope
	return v, x.Cp - x.T*x.VT*slope - x.P*v
}
