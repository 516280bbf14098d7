package flow

import (
	"math"

	"underdisc/model/fluid"
)

// ThermalNozzle is isentropic flow through a nozzle of a gas whose heat
// capacity depends on temperature:
//
//	G = p0/sqrt(R T0) psi(r, T0), r = pd/p0
//	psi = r T0/T sqrt(2 (h(T0) - h(T))/(R T0)), s(T) - s(T0) = R ln r
//
// constant below the critical ratio rc(T0), where the speed is that of sound,
// 2 (h(T0) - h(T)) = gamma(T) R T. Close to r = 1 psi gives way to the cubic of
// Nozzle, with the same error. For a constant heat capacity it is Nozzle.
//
// psi^2/(1-r) is a polynomial in r whose coefficients are cubics in T0, within
// 1e-9 of the equations (tested), from 60 to 2000 K; for T0 beyond, psi is what
// it is there.
type ThermalNozzle struct {
	r    float64
	rows [thermalRows]thermalRow
}

const (
	thermalFrom = 60.0 // K
	thermalStep = 10.0 // K
	thermalRows = 194  // to 2000 K
	// The polynomial's interval in r reaches below the critical ratio of every
	// gas, which is 0.487 for gamma 5/3. Its Chebyshev coefficients fall fivefold
	// each: the nearest singularity is at r = 0.
	thermalLow   = 0.45
	thermalTerms = 14
)

// thermalColumns are the functions of T0 in a row.
const (
	columnRatio  = thermalTerms + iota // rc
	columnChoked                       // psi at rc
	columnA                            // the cubic near r = 1
	columnB
	thermalColumns
)

// thermalRow is a cubic in the part of the step in T0 for each column.
type thermalRow [thermalColumns][4]float64

// NewThermalNozzle makes the law for a gas, in some milliseconds.
func NewThermalNozzle(g *fluid.ThermalGas) *ThermalNozzle {
	n := &ThermalNozzle{r: g.R}
	// Two nodes more at each end, for the slopes.
	var node [thermalRows + 5][thermalColumns]float64
	for i := range node {
		node[i] = thermalNode(g, thermalFrom+thermalStep*float64(i-2))
	}
	slope := func(i, k int) float64 { // fourth order
		return (8*(node[i+1][k]-node[i-1][k]) - (node[i+2][k] - node[i-2][k])) / 12
	}
	for i := range n.rows {
		for k := range thermalColumns {
			f, m0, m1 := node[i+2][k], slope(i+2, k), slope(i+3, k)
			d := node[i+3][k] - f
			n.rows[i][k] = [4]float64{f, m0, 3*d - 2*m0 - m1, m0 + m1 - 2*d}
		}
	}
	return n
}

// thermalNode is all columns at one T0.
func thermalNode(g *fluid.ThermalGas, t0 float64) (c [thermalColumns]float64) {
	const m = thermalTerms
	var value [m]float64
	for i := range m {
		z := (1 - thermalLow) / 2 * (1 - math.Cos(math.Pi*(float64(i)+0.5)/m))
		psi, _ := thermalPsi(g, t0, 1-z)
		value[i] = psi * psi / z
	}
	powersOf(value[:], c[:m])
	c[columnRatio] = thermalRatio(g, t0)
	c[columnChoked], _ = thermalPsi(g, t0, c[columnRatio])
	p, dpdr := thermalPsi(g, t0, 1-linearBelow)
	z, s := linearBelow, -dpdr
	c[columnB] = (s*z - p) / (2 * z * z * z)
	c[columnA] = p/z - c[columnB]*z*z
	return c
}

// thermalRatio is the critical ratio: the throat's temperature by Newton's
// method with the slope of a constant heat capacity, which gains three digits
// or more each time.
func thermalRatio(g *fluid.ThermalGas, t0 float64) float64 {
	t := 0.85 * t0
	for range 30 {
		cp := g.Cp(t)
		w2 := cp / (cp - g.R) * g.R * t
		d := (2*(g.Enthalpy(t0)-g.Enthalpy(t)) - w2) / (2*cp + w2/t)
		t += d
		if math.Abs(d) < 1e-13*t0 {
			break
		}
	}
	return math.Exp((g.Entropy(t) - g.Entropy(t0)) / g.R)
}

// thermalPsi is the flow function at a ratio 0 < r < 1 and its slope by r, from
// the equations themselves and without regard to choking: what the tables are
// made from.
func thermalPsi(g *fluid.ThermalGas, t0, r float64) (psi, slope float64) {
	s := g.Entropy(t0) + g.R*math.Log(r)
	t := t0 * math.Pow(r, g.R/g.Cp(t0))
	for range 30 {
		d := (s - g.Entropy(t)) / g.Cp(t) * t
		t += d
		if math.Abs(d) < 1e-14*t0 {
			break
		}
	}
	e := 2 * (g.Enthalpy(t0) - g.Enthalpy(t)) / (g.R * t0)
	psi = r * t0 / t * math.Sqrt(e)
	// d ln T = R/cp d ln r; de = -2 T/(T0 r) dr.
	slope = psi * ((1-g.R/g.Cp(t))/r - t/(t0*r*e))
	return psi, slope
}

// find is the row for a T0 and the part of its step; outside, an end and
// whether the slope by T0 is nothing.
func (n *ThermalNozzle) find(t float64) (row *thermalRow, x float64, out bool) {
	x = (t - thermalFrom) / thermalStep
	switch {
	case !(x > 0):
		return &n.rows[0], 0, true
	case x >= thermalRows:
		return &n.rows[thermalRows-1], 1, true
	}
	i := int(x)
	return &n.rows[i], x - float64(i), false
}

// at is a cubic's value.
func (c *thermalRow) at(k int, x float64) float64 {
	a := &c[k]
	return a[0] + x*(a[1]+x*(a[2]+x*a[3]))
}

// both is a cubic's value and slope by T0.
func (c *thermalRow) both(k int, x float64) (f, slope float64) {
	a := &c[k]
	return a[0] + x*(a[1]+x*(a[2]+x*a[3])), (a[1] + x*(2*a[2]+3*x*a[3])) / thermalStep
}

// Flux implements Law.
func (n *ThermalNozzle) Flux(up *fluid.State, down float64) float64 {
	q := up.P / math.Sqrt(n.r*up.T)
	r := down / up.P
	row, x, _ := n.find(up.T)
	if r <= row.at(columnRatio, x) {
		return q * row.at(columnChoked, x)
	}
	z := 1 - r
	if z < linearBelow {
		return q * z * (row.at(columnA, x) + row.at(columnB, x)*z*z)
	}
	t := 1 - 2/(1-thermalLow)*z
	sum := 0.0
	for k := thermalTerms - 1; k >= 0; k-- {
		sum = sum*t + row.at(k, x)
	}
	return q * math.Sqrt(z*sum)
}

// psi is the flow function with its slopes by r and by T0.
func (n *ThermalNozzle) psi(t0, r float64) (psi, byR, byT float64, choked bool) {
	row, x, out := n.find(t0)
	z := 1 - r
	switch {
	case r <= row.at(columnRatio, x):
		psi, byT = row.both(columnChoked, x)
		choked = true
	case z < linearBelow:
		a, at := row.both(columnA, x)
		b, bt := row.both(columnB, x)
		psi, byR, byT = z*(a+b*z*z), -(a + 3*b*z*z), z*(at+bt*z*z)
	default:
		const per = 2 / (1 - thermalLow)
		t := 1 - per*z
		var q, qt, qT float64
		for k := thermalTerms - 1; k >= 0; k-- {
			c, ct := row.both(k, x)
			qt = qt*t + q
			q = q*t + c
			qT = qT*t + ct
		}
		psi = math.Sqrt(z * q)
		byR = (z*per*qt - q) / (2 * psi)
		byT = z * qT / (2 * psi)
	}
	if out {
		byT = 0
	}
	return
}

// FluxSlopes implements Law.
func (n *ThermalNozzle) FluxSlopes(up *fluid.State, down float64, f *Flux) {
	i := 1 / math.Sqrt(n.r*up.T)
	r := down / up.P
	psi, byR, byT, choked := n.psi(up.T, r)
	f.Choked = choked
	f.G = up.P * i * psi
	f.Gp = i * byR
	gp := i * (psi - r*byR)
	gt := up.P*i*byT - 0.5*f.G/up.T
	f.Gv = gp*up.Pv + gt*up.Tv
	f.Gu = gp*up.Pu + gt*up.Tu
}
