package network

import "math"

// inductance is that of coil i with its mover where it stands, and its slope
// by the mover's position.
func (n *Network) inductance(i int) (l, slope float64) {
	c := &n.Coils[i]
	if !c.Moves {
		return c.Inductance, 0
	}
	m := &n.Movers[c.Mover]
	g := 1 + (m.Travel-n.parts[c.Mover].pos)/c.Gap
	return c.Inductance + 2*c.PullFactor*c.Gap/g, 2 * c.PullFactor / (g * g)
}

// speed is a mover's speed, zero while it is held.
func (n *Network) speed(i Part, modes []int8) float64 {
	if !travelling(modes[n.parts[i].mode]) {
		return 0
	}
	return n.parts[i].vel
}

// resistance of coil i, with its temperature where that is followed.
func (n *Network) resistance(i int, y []float64) float64 {
	c := &n.Coils[i]
	if k := n.copperVar[i]; k >= 0 {
		return c.Resistance * (1 + copperSlope*(y[k]-coldCopper))
	}
	return c.Resistance
}

// Copper: resistance rises by 0.393 % of that at 20 degC per kelvin (any table
// of materials).
const copperSlope, coldCopper = 0.00393, 293.15

// currentRate is di/dt of coil i under the voltage v.
func (n *Network) currentRate(i int, v float64, y []float64, modes []int8) float64 {
	c := &n.Coils[i]
	l, slope := n.inductance(i)
	r, cur := n.resistance(i, y), y[n.coilVar[i]]
	if c.Omega > 0 {
		return (v/math.Hypot(r, c.Omega*l)-cur)*r/l - cur*n.speed(c.Mover, modes)*slope/l
	}
	return (v - r*cur - cur*n.speed(c.Mover, modes)*slope) / l
}

// curve is d2L/dx2 of coil i, whose slope is given.
func (n *Network) curve(i int, slope float64) float64 {
	c := &n.Coils[i]
	g := 1 + (n.Movers[c.Mover].Travel-n.parts[c.Mover].pos)/c.Gap
	return 2 * slope / (g * c.Gap)
}

// copperRate is dT/dt of the winding.
func (n *Network) copperRate(i int, y []float64) float64 {
	c, cur := &n.Coils[i], y[n.coilVar[i]]
	return (cur*cur*n.resistance(i, y) - c.Loss*(y[n.copperVar[i]]-c.Around)) / c.Copper
}

func (n *Network) coilJacobian(i int, y []float64, modes []int8, j []float64) {
	c, jc := &n.Coils[i], n.coilJac[i]
	l, slope := n.inductance(i)
	w := n.speed(c.Mover, modes)
	r, cur := n.resistance(i, y), y[n.coilVar[i]]
	v := n.voltage(i, modes)
	moves := c.Moves && travelling(modes[n.parts[c.Mover].mode])
	byR := 0.0 // of the rate, by resistance
	if c.Omega > 0 {
		z := math.Hypot(r, c.Omega*l)
		j[jc[0]] = -(r + w*slope) / l
		byR = (v/z-cur)/l - v*r*r/(z*z*z*l)
		if moves {
			// By the inductance, which the mover changes.
			j[jc[1]] = slope*(-v*c.Omega*c.Omega*r/(z*z*z)-((v/z-cur)*r-cur*w*slope)/(l*l)) - cur*w*n.curve(i, slope)/l
			j[jc[2]] = -cur * slope / l
		}
	} else {
		j[jc[0]] = -(r + w*slope) / l
		byR = -cur / l
		if moves {
			rate := n.currentRate(i, v, y, modes)
			j[jc[1]] = -(cur*w*n.curve(i, slope) + rate*slope) / l
			j[jc[2]] = -cur * slope / l
		}
	}
	if n.copperVar[i] >= 0 {
		rise := c.Resistance * copperSlope
		k := n.copperJac[i]
		j[k[0]] = byR * rise
		j[k[1]] = (cur*cur*rise - c.Loss) / c.Copper
		j[k[2]] = 2 * cur * r / c.Copper
	}
}
