package fluid

import "math"

// Collisions is what the viscosity of a gas at low density follows from:
//
//	mu = 0.0266958e-6 sqrt(M T)/(Size^2 Omega(T/Depth)), ln Omega = sum b_i (ln T/Depth)^i
//
// (Lemmon and Jacobsen, Int. J. Thermophys. 25 (2004) 21, equations 2 and 3).
// At 20 bar and room temperature the viscosity is 2 % more.
type Collisions struct {
	M     float64 // molar mass, kg/kmol
	Depth float64 // K
	Size  float64 // nm
}

// omega holds the b_i, which the two gases share.
var omega = [5]float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

// At is the viscosity, Pa s, at t, and its slope by t.
func (c *Collisions) At(t float64) (mu, slope float64) {
	l := math.Log(t / c.Depth)
	b := &omega
	sum := b[0] + l*(b[1]+l*(b[2]+l*(b[3]+l*b[4])))
	by := b[1] + l*(2*b[2]+l*(3*b[3]+l*4*b[4]))
	mu = 0.0266958e-6 * math.Sqrt(c.M*t) / (c.Size * c.Size) * math.Exp(-sum)
	return mu, mu / t * (0.5 - by)
}

// Mu implements Viscous. Range: 60 to 2000 K, colder and hotter the values at
// these ends.
func (g *ThermalGas) Mu(s *State) (mu, byV, byU float64) {
	t := min(max(s.T, 60), 2000)
	mu, slope := g.collisions.At(t)
	if t != s.T {
		slope = 0
	}
	return mu, slope * s.Tv, slope * s.Tu
}
