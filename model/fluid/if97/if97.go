// Package if97 is the IAPWS Industrial Formulation 1997 for water and steam,
// IAPWS R7-97(2012): regions 1 (water), 2 (steam), 3 (around the critical
// point) and 4 (saturation). It is the project's exact reference; the balances
// use tables made from it. SI units throughout: Pa, K, m3/kg, J/kg, J/(kg K).
package if97

import "math"

// Constants of the release, section 3.
const (
	R         = 461.526 // J/(kg K)
	CriticalT = 647.096 // K
	CriticalP = 22.064e6
	CriticalD = 322.0 // kg/m3
	// MinT and T13 bound region 1, T13 and MaxT region 2, in K; MaxP regions
	// 1 to 3, in Pa. Region 5, above MaxT, is not part of this package.
	MinT = 273.15
	T13  = 623.15
	MaxT = 1073.15
	MaxP = 100e6
)

// Point is water or steam in one phase.
type Point struct {
	P, T   float64 // Pa, K
	V      float64 // specific volume, m3/kg
	U, H   float64 // internal energy, enthalpy, J/kg
	S      float64 // entropy, J/(kg K)
	Cp, Cv float64 // J/(kg K)
	W      float64 // speed of sound, m/s
	Vp, VT float64 // dv/dp at constant T, dv/dT at constant p
}

// term is n a^i b^j of a sum.
type term struct {
	i, j int
	n    float64
}

// powers fills p with base^lo ... base^hi; p[k-lo] is base^k. lo <= 0 <= hi.
func powers(p []float64, base float64, lo, hi int) {
	p[-lo] = 1
	for k := 1; k <= hi; k++ {
		p[k-lo] = p[k-1-lo] * base
	}
	if lo < 0 {
		inv := 1 / base
		for k := -1; k >= lo; k-- {
			p[k-lo] = p[k+1-lo] * inv
		}
	}
}

// gibbs is a dimensionless Gibbs energy with its derivatives by pi and tau.
type gibbs struct{ g, gp, gpp, gt, gtt, gpt float64 }

// point turns it into properties; dpi = 1/p*, dtau = T*.
func (g *gibbs) point(p, t, pstar, tstar float64) Point {
	tau := tstar / t
	pi := p / pstar
	x := Point{P: p, T: t}
	x.V = R * t / pstar * g.gp
	x.H = R * tstar * g.gt
	x.U = R * t * (tau*g.gt - pi*g.gp)
	x.S = R * (tau*g.gt - g.g)
	x.Cp = -R * tau * tau * g.gtt
	a := g.gp - tau*g.gpt
	x.Cv = x.Cp + R*a*a/g.gpp
	x.W = g.gp * math.Sqrt(R*t/(a*a/(tau*tau*g.gtt)-g.gpp))
	x.Vp = R * t / (pstar * pstar) * g.gpp
	x.VT = R / pstar * a
	return x
}

// Region1 is liquid water at pressure p and temperature t, equation 7. Valid
// from 273.15 to 623.15 K and from saturation to 100 MPa; smooth a little
// beyond. Outside it yields what the sums give.
func Region1(p, t float64) Point {
	const pstar, tstar = 16.53e6, 1386.0
	a, b := 7.1-p/pstar, tstar/t-1.222
	var pa [35]float64 // a^-2 .. a^32
	var pb [62]float64 // b^-43 .. b^17
	powers(pa[:], a, -2, 32)
	powers(pb[:], b, -43, 17)
	var g gibbs
	for k := range region1Terms {
		x := &region1Terms[k]
		i, j := float64(x.i), float64(x.j)
		ai, bj := pa[x.i+2], pb[x.j+43]
		ai1, bj1 := i*pa[x.i+1], j*pb[x.j+42]
		g.g += x.n * ai * bj
		g.gp -= x.n * ai1 * bj
		g.gt += x.n * ai * bj1
		g.gpt -= x.n * ai1 * bj1
		g.gpp += x.n * i * (i - 1) * pa[x.i] * bj
		g.gtt += x.n * ai * j * (j - 1) * pb[x.j+41]
	}
	return g.point(p, t, pstar, tstar)
}

// Region2 is steam at pressure p and temperature t, equations 15 to 17. Valid
// from 273.15 to 1073.15 K, from zero pressure to saturation or, above
// 623.15 K, to the boundary with region 3.
func Region2(p, t float64) Point {
	const pstar, tstar = 1e6, 540.0
	pi, tau := p/pstar, tstar/t
	var g gibbs
	var pt [12]float64 // tau^-7 .. tau^3
	powers(pt[:], tau, -7, 3)
	g.g, g.gp, g.gpp = math.Log(pi), 1/pi, -1/(pi*pi)
	for k := range region2Ideal {
		x := &region2Ideal[k]
		j := float64(x.j)
		g.g += x.n * pt[x.j+7]
		if x.j != 0 {
			// The lowest power needed is -7, since the sum stops at -5.
			g.gt += x.n * j * pt[x.j+6]
			g.gtt += x.n * j * (j - 1) * pt[x.j+5]
		}
	}
	var pp [27]float64 // pi^-2 .. pi^24
	var pb [61]float64 // b^-2 .. b^58
	powers(pp[:], pi, -2, 24)
	powers(pb[:], tau-0.5, -2, 58)
	for k := range region2Rest {
		x := &region2Rest[k]
		i, j := float64(x.i), float64(x.j)
		ai, bj := pp[x.i+2], pb[x.j+2]
		ai1 := i * pp[x.i+1]
		g.g += x.n * ai * bj
		g.gp += x.n * ai1 * bj
		g.gpp += x.n * i * (i - 1) * pp[x.i] * bj
		if x.j != 0 {
			bj1 := j * pb[x.j+1]
			g.gt += x.n * ai * bj1
			g.gpt += x.n * ai1 * bj1
			if x.j != 1 {
				g.gtt += x.n * ai * j * (j - 1) * pb[x.j]
			}
		}
	}
	return g.point(p, t, pstar, tstar)
}

// Region3 is the fluid at density d (kg/m3) and temperature t, equation 28.
func Region3(d, t float64) Point {
	delta, tau := d/CriticalD, CriticalT/t
	var pd [14]float64 // delta^-2 .. delta^11
	var pt [29]float64 // tau^-2 .. tau^26
	powers(pd[:], delta, -2, 11)
	powers(pt[:], tau, -2, 26)
	f := region3Log * math.Log(delta)
	fd := region3Log / delta
	fdd := -region3Log / (delta * delta)
	var ft, ftt, fdt float64
	for k := range region3Terms {
		x := &region3Terms[k]
		i, j := float64(x.i), float64(x.j)
		a, b := pd[x.i+2], pt[x.j+2]
		a1, b1 := i*pd[x.i+1], j*pt[x.j+1]
		f += x.n * a * b
		fd += x.n * a1 * b
		fdd += x.n * i * (i - 1) * pd[x.i] * b
		ft += x.n * a * b1
		ftt += x.n * a * j * (j - 1) * pt[x.j]
		fdt += x.n * a1 * b1
	}
	x := Point{T: t, V: 1 / d}
	x.P = d * R * t * delta * fd
	x.U = R * CriticalT * ft
	x.H = x.U + R*t*delta*fd
	x.S = R * (tau*ft - f)
	x.Cv = -R * tau * tau * ftt
	e := delta*fd - delta*tau*fdt
	q := 2*delta*fd + delta*delta*fdd
	x.Cp = x.Cv + R*e*e/q
	x.W = math.Sqrt(R * t * (q - e*e/(tau*tau*ftt)))
	// p(d, T): dp/dd = R T q, dp/dT = d R e.
	pd1, pt1 := R*t*q, d*R*e
	x.Vp = -x.V * x.V / pd1
	x.VT = -x.Vp * pt1
	return x
}

// SaturationP is the saturation pressure at t, equation 30, from 273.15 K to
// the critical point.
func SaturationP(t float64) float64 {
	n := &saturation
	th := t + n[8]/(t-n[9])
	a := th*th + n[0]*th + n[1]
	b := n[2]*th*th + n[3]*th + n[4]
	c := n[5]*th*th + n[6]*th + n[7]
	q := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1e6 * q * q * q * q
}

// SaturationT is the saturation temperature at p, equation 31, from 611.213 Pa
// to the critical point.
func SaturationT(p float64) float64 {
	n := &saturation
	be := math.Sqrt(math.Sqrt(p / 1e6))
	e := be*be + n[2]*be + n[5]
	f := n[0]*be*be + n[3]*be + n[6]
	g := n[1]*be*be + n[4]*be + n[7]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	return (n[9] + d - math.Sqrt((n[9]+d)*(n[9]+d)-4*(n[8]+n[9]*d))) / 2
}

// Boundary23P is the pressure that parts regions 2 and 3 at t, equation 5.
func Boundary23P(t float64) float64 {
	n := &boundary23
	return 1e6 * (n[0] + t*(n[1]+t*n[2]))
}

// Boundary23T is the same line's temperature at p, equation 6.
func Boundary23T(p float64) float64 {
	n := &boundary23
	return n[3] + math.Sqrt((p/1e6-n[4])/n[2])
}
