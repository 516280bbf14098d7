package network

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

// currentRate is di/dt of coil i under the voltage v.
func (n *Network) currentRate(i int, v, current float64, modes []int8) float64 {
	c := &n.Coils[i]
	l, slope := n.inductance(i)
	return (v - c.Resistance*current - current*n.speed(c.Mover, modes)*slope) / l
}

func (n *Network) coilJacobian(i int, y []float64, modes []int8, j []float64) {
	c, jc := &n.Coils[i], n.coilJac[i]
	l, slope := n.inductance(i)
	w := n.speed(c.Mover, modes)
	j[jc[0]] = -(c.Resistance + w*slope) / l
	if !c.Moves || !travelling(modes[n.parts[c.Mover].mode]) {
		return
	}
	k := n.coilVar[i]
	m := &n.Movers[c.Mover]
	g := 1 + (m.Travel-n.parts[c.Mover].pos)/c.Gap
	curve := 2 * slope / (g * c.Gap) // d2L/dx2
	v := 0.0
	if c.Relay >= 0 && modes[n.relayMode+c.Relay] == RelayOn {
		v = c.Supply
	}
	rate := n.currentRate(i, v, y[k], modes)
	j[jc[1]] = -(y[k]*w*curve + rate*slope) / l
	j[jc[2]] = -y[k] * slope / l
}
