package plant

import (
	"math"

	"underdisc/model/fluid"
)

// lineDamping is what a flow that swings in a line loses to its wall, 1/s, for
// network.Channel.Damping. Against the wall fluid and temperature cannot swing;
// in a thin layer between they do so late, which takes from a plane wave of the
// circular frequency omega, per length (Kirchhoff 1868, in Weston, Proc. Phys. Soc. B
// 66 (1953) 695, equation 2),
//
//	alpha = sqrt(nu omega/2) (1 + (gamma-1)/sqrt(Pr))/(r w)
//
// with r the bore's radius, w the speed of sound, nu the kinematic viscosity. A
// mode so decays as exp(-alpha w t), and a flow with dW/dt = ... - D W as
// exp(-D t/2): D = 2 alpha w.
//
// omega is that of the quarter wave, pi w/(2 L), and the state that of the start.
// Higher modes lose more in truth, as the root of their frequency: they ring too
// long here, the n-th by sqrt(2n-1). A volume behind the line makes the wave slower,
// by a quarter if it is a third of the pipe's (cot kL = kL/3): it rings too short, by
// an eighth.
//
// Range: a layer thin against the bore: alpha falls short by one and a half times its
// share in the radius, sqrt(2 nu/omega)/r. And laminar, that is a speed of the swing
// below about 500 nu/sqrt(2 nu/omega), a few m/s in steam; above it the channel's own
// friction is larger, see there. Pr is taken as 1: air has 0.7, saturated steam 1.4 at
// 40 bar, which makes 6 % of alpha; at 100 bar a sixth. In a wet fluid, of which heat
// goes into the change of phase, the part of the heat is left out.
func lineDamping(m *Medium, r *Run, v, u float64) float64 {
	mu, ok := m.Fluid.(fluid.Viscous)
	if !ok {
		mu, ok = m.Void.(fluid.Viscous)
	}
	if !ok {
		return 0
	}
	var s fluid.State
	m.At(v, u, &s)
	if m.Water != nil && s.X == 1 {
		// Dry steam from a drum is on the saturation line, where the heat
		// capacity has no value: it is asked for half a kelvin inside.
		m.At(v, u*(1+5e-4), &s)
	}
	eta, _, _ := mu.Mu(&s)
	w := s.V * math.Sqrt(s.P*s.Pu-s.Pv)
	omega := math.Pi * w / (2 * r.Length)
	heat := 0.0
	if m.Water == nil || s.X == 0 || s.X == 1 {
		heat = capacityRatio(&s) - 1
	}
	alpha := math.Sqrt(eta*s.V*omega/2) * (1 + heat) / (r.Bore / 2 * w)
	return 2 * alpha * w
}

// capacityRatio is cp/cv, of a state of one phase. Along a line of one pressure
// du = -(Pv/Pu) dv.
func capacityRatio(s *fluid.State) float64 {
	slope := -s.Pv / s.Pu
	cp := (s.Hv + s.Hu*slope) / (s.Tv + s.Tu*slope)
	return cp * s.Tu
}
