package flow

import "math"

// turns is the Reynolds number at which the friction factors of laminar flow
// between planes, 96/Re, and of turbulent flow in a smooth duct of the same
// hydraulic diameter, 0.316/Re^(1/4) (Blasius; e.g. White, Fluid Mechanics,
// sections 6.6 and 6.8, memory), are equal: (96/0.316)^(4/3).
const turns = 2042.5

// Turbulent makes the law go on with the turbulent friction factor from the
// Reynolds number at which it exceeds the laminar one, up to 1e5, and returns
// the law. Without it a gap that is wide for its pressure passes too much: of
// saturated steam at 40 bar into 10 bar, 18 um wide and 30 mm long, 28 % too
// much, at a Reynolds number of 3700. The flux has a kink there, not a jump; in nature the one goes
// over into the other between Reynolds numbers of about 2000 and 3000. In
// planes the factor of round ducts is good for 15 %.
func (c *Clearance) Turbulent() *Clearance {
	c.turbulent = true
	return c
}

// rough solves al W (Re/turns)^(3/4) + end W^2 = d, beginning with the laminar
// flow w, which is more, by Newton's method, which from there falls to the
// solution without overshoot. fall is the first term.
func (c *Clearance) rough(w, al, d, mu float64) (flow, fall float64) {
	k := c.speed / (turns * mu)
	for range 20 {
		r := math.Sqrt(k * w)
		fall = al * w * r * math.Sqrt(r)
		step := (fall + c.end*w*w - d) / (1.75*fall/w + 2*c.end*w)
		w -= step
		if math.Abs(step) < 1e-9*w { // the next would be its square
			break
		}
	}
	r := math.Sqrt(k * w)
	return w, al * w * r * math.Sqrt(r)
}
