package if97

import "math"

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
	var pa, pb ring
	pa.fill(a, 0, 32)
	pb.fill(b, -41, 17)
	var s sums
	s.add(region1Terms, &pa, &pb)
	ia, ib := 1/a, 1/b
	g := gibbs{s.f, -s.fa * ia, s.faa * ia * ia, s.fb * ib, s.fbb * ib * ib, -s.fab * ia * ib}
	return g.point(p, t, pstar, tstar)
}

// Region2 is steam at pressure p and temperature t, equations 15 to 17. Valid
// from 273.15 to 1073.15 K, from zero pressure to saturation or, above
// 623.15 K, to the boundary with region 3.
func Region2(p, t float64) Point {
	const pstar, tstar = 1e6, 540.0
	pi, tau := p/pstar, tstar/t
	b := tau - 0.5
	if b == 0 {
		b = 1e-30 // at 1080 K exactly, where b^j/b is to stay finite
	}
	var pp, pb, pt ring
	pp.fill(pi, 0, 24)
	pb.fill(b, 0, 58)
	pt.fill(tau, -5, 3)
	var o, r sums // of the ideal gas, the rest
	o.add(region2Ideal, &pp, &pt)
	r.add(region2Rest, &pp, &pb)
	ip, it, ib := 1/pi, 1/tau, 1/b
	g := gibbs{
		g:   math.Log(pi) + o.f + r.f,
		gp:  (1 + r.fa) * ip,
		gpp: (r.faa - 1) * ip * ip,
		gt:  o.fb*it + r.fb*ib,
		gtt: o.fbb*it*it + r.fbb*ib*ib,
		gpt: r.fab * ip * ib,
	}
	return g.point(p, t, pstar, tstar)
}

// Region3 is the fluid at density d (kg/m3) and temperature t, equation 28.
func Region3(d, t float64) Point {
	delta, tau := d/CriticalD, CriticalT/t
	var pd, pt ring
	pd.fill(delta, 0, 11)
	pt.fill(tau, 0, 26)
	var s sums
	s.add(region3Terms, &pd, &pt)
	s.f += region3Log * math.Log(delta)
	s.fa += region3Log
	s.faa -= region3Log
	x := Point{T: t, V: 1 / d}
	x.P = d * R * t * s.fa
	x.U = R * t * s.fb
	x.H = x.U + R*t*s.fa
	x.S = R * (s.fb - s.f)
	x.Cv = -R * s.fbb
	e := s.fa - s.fab
	q := 2*s.fa + s.faa
	x.Cp = x.Cv + R*e*e/q
	x.W = math.Sqrt(R * t * (q - e*e/s.fbb))
	// p(d, T): dp/dd = R T q, dp/dT = d R e.
	x.Vp = -x.V * x.V / (R * t * q)
	x.VT = -x.Vp * d * R * e
	return x
}
