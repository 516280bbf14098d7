package if97

import "math"

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

// SaturationSlope is dp/dT of equation 30, in Pa/K.
func SaturationSlope(t float64) float64 {
	n := &saturation
	r := 1 / (t - n[9])
	th := t + n[8]*r
	a := th*th + n[0]*th + n[1]
	b := n[2]*th*th + n[3]*th + n[4]
	c := n[5]*th*th + n[6]*th + n[7]
	be := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	// a be^2 + b be + c = 0 holds along the line.
	slope := -(be*(be*(2*th+n[0])+2*n[2]*th+n[3]) + 2*n[5]*th + n[6]) / (2*a*be + b)
	return 4e6 * be * be * be * slope * (1 - n[8]*r*r)
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
