package water

import (
	"math"

	"underdisc/model/fluid/if97"
)

const gasConstant = if97.R

// Ts over p, from 2^8 Pa on by octaves, up to where the wet table ends.
const (
	lineLow  = 8
	lineBits = 5
)

type saturation struct{ t []cubic }

func (a *saturation) build(high float64) {
	var p, t []float64
	for i := 0; ; i++ {
		x := node(i, lineBits, lineLow)
		p, t = append(p, x), append(t, if97.SaturationT(x))
		if t[i] > high {
			break
		}
	}
	a.t = cubics(p, t)
}

// Saturation is the line where water and steam are in equilibrium, at one T.
type Saturation struct {
	T, P, PT float64 // K, Pa, dp/dT in Pa/K
	// Water (l) and steam (g): specific volume m3/kg, internal energy and
	// enthalpy J/kg, entropy J/(kg K).
	Vl, Vg, Ul, Ug, Hl, Hg, Sl, Sg float64
	VlT, VgT, UlT, UgT             float64 // slopes along the line
}

// Saturated fills s at a temperature in K, from 273.15 to 622.5 K (165 bar). It
// agrees with At.
func (w *Water) Saturated(t float64, s *Saturation) {
	i, x := w.wet.line(t)
	c := &w.wet.lines[i]
	k := w.wet.perK
	psi, psit := c.psi.at(x)
	phi, phit := c.phi.at(x)
	s.T = t
	s.P, s.PT = c.p.at(x)
	s.Vl, s.VlT = c.vl.at(x)
	s.Vg, s.VgT = c.vg.at(x)
	s.Ul, s.Ug = psi+s.Vl*phi, psi+s.Vg*phi
	s.UlT = k * (psit + s.Vl*phit + s.VlT*phi)
	s.UgT = k * (psit + s.Vg*phit + s.VgT*phi)
	s.PT *= k
	s.VlT *= k
	s.VgT *= k
	s.Hl, s.Hg = s.Ul+s.P*s.Vl, s.Ug+s.P*s.Vg
	sigma, _ := c.sigma.at(x)
	chi, _ := c.chi.at(x)
	s.Sl, s.Sg = sigma+s.Vl*chi, sigma+s.Vg*chi
}

// SaturatedT is the temperature of saturation at p in Pa, K, and its slope dT/dp,
// K/Pa. Range 256 Pa to 165 bar; beyond it goes on linearly, and below at the
// lowest value.
func (w *Water) SaturatedT(p float64) (t, slope float64) {
	a := w.line.t
	if !(p >= 1<<lineLow) {
		return a[0][0] + 0*p, 0
	}
	i, x, xp := octave(math.Min(p, 1<<30), lineBits, lineLow)
	if i >= len(a) {
		// Slopes by place must be those of the last cell.
		last := node(len(a)-1, lineBits, lineLow)
		_, _, xp = octave(last, lineBits, lineLow)
		t, slope = a[len(a)-1].at(1)
		slope *= xp
		return t + (p-node(len(a), lineBits, lineLow))*slope, slope
	}
	t, slope = a[i].at(x)
	return t, slope * xp
}
