package flow

import (
	"math"

	"underdisc/model/fluid"
)

// Capillary is laminar flow of a perfect gas through a long round tube, such
// as the impulse line of a gauge, isothermal along it (Hagen-Poiseuille,
// W = rho pi d^4 dp/(128 mu L), integrated over a perfect gas):
//
//	W = pi d^4 (pu^2 - pd^2)/(256 mu L R T)
//
// W mass flow [kg/s], d bore [m], L length [m], mu viscosity [Pa s],
// pu and pd the pressures at the ends [Pa], T upstream temperature [K].
// Positive out of the upstream side.
//
// Range: Reynolds number 4W/(pi d mu) below 2000, and L well above the inlet
// length 0.06 d Re. Entry and exit, about 2.3 dynamic heads, are left out:
// they take 0.036 Re d/L of the friction's share of the pressure, 1.5 % at
// Re 1700 and L/d 4000. Source: e.g. White, Fluid Mechanics, section 6.4, for
// the incompressible law (memory); the integration is elementary.
type Capillary struct {
	conduction float64 // W T/(pu^2 - pd^2)
}

// NewCapillary makes the law for a bore of diameter d and a length l, both in
// m and above zero. Its flux is W itself: the effective area is 1.
func NewCapillary(g *fluid.Gas, d, l float64) *Capillary {
	d2 := d * d
	return &Capillary{conduction: math.Pi * d2 * d2 / (256 * g.Viscosity * l * g.R)}
}

// Flux implements Law.
func (c *Capillary) Flux(up *fluid.State, down float64) float64 {
	return c.conduction / up.T * (up.P - down) * (up.P + down)
}

// FluxSlopes implements Law.
func (c *Capillary) FluxSlopes(up *fluid.State, down float64, f *Flux) {
	k := c.conduction / up.T
	*f = Flux{G: k * (up.P - down) * (up.P + down), Gp: -2 * k * down}
	gp, gt := 2*k*up.P, -f.G/up.T
	f.Gv = gp*up.Pv + gt*up.Tv
	f.Gu = gp*up.Pu + gt*up.Tu
}
