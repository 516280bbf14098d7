package water

import (
	"fmt"
	"math"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

const (
	wetTop     = 16.5e6  // Pa, up to where water and steam in equilibrium are covered
	steamTop   = 22e6    // Pa
	steamHot   = 1073.15 // K
	coldT      = 273.15  // K
	narrowest  = 0.0088  // m3/kg, of steam
	waterHot   = if97.T13
	ambiguous  = 0.01 // K: nearer than this to the line, p and T do not tell the phase
	wetBottom  = 612.0
	iterations = 30
)

// PT is the water or steam at p in Pa and t in K, in one phase. At gives the
// same p and T back.
func (w *Water) PT(p, t float64) (v, u float64, err error) {
	if !(p > 0 && p <= liquidTop) {
		return 0, 0, fmt.Errorf("pressure %.6g Pa: water and steam are covered up to %g Pa", p, float64(liquidTop))
	}
	if !(t >= coldT && t <= steamHot) {
		return 0, 0, fmt.Errorf("temperature %.6g K: water and steam are covered from %g to %g K", t, coldT, steamHot)
	}
	vapour := t > waterHot
	if p <= if97.SaturationP(waterHot) {
		ts, _ := w.SaturatedT(p)
		if math.Abs(t-ts) < ambiguous {
			return 0, 0, fmt.Errorf("at %.6g Pa water boils at %.6g K: there p and T do not tell how much is steam; give the quality", p, ts)
		}
		vapour = t > ts
	}
	if !vapour {
		x := if97.Region1(p, t)
		v, u = x.V, x.U
		var s fluid.State
		for range 3 {
			if u > liquidHigh || u < liquidLow {
				break
			}
			w.liquid.at(v, u, &s)
			v, u = correct(&s, p, t, v, u)
		}
	} else {
		x := if97.Region2(p, t)
		v, u = x.V, x.U
		if v < narrowest || p > steamTop || t > waterHot && p > if97.Boundary23P(t) {
			return 0, 0, fmt.Errorf("%.6g Pa and %.6g K: steam is covered up to %g Pa where it takes at least %g m3/kg", p, t, steamTop, narrowest)
		}
		if v > vapourMax {
			return 0, 0, fmt.Errorf("%.6g Pa and %.6g K: steam is covered up to %g m3/kg, this takes %.6g", p, t, vapourMax, v)
		}
		var s fluid.State
		for range 3 {
			in := math.Max(vapourMin, math.Min(v, vapourEdge))
			i, x, xv := w.vapour.line(in)
			us, _ := w.vapour.edge[i].u.at(x)
			w.vapour.at(in, math.Max(u-us, 0), i, x, xv, &s)
			v, u = correct(&s, p, t, v, u)
		}
	}
	if !w.Valid(v, u) {
		return 0, 0, fmt.Errorf("%.6g Pa and %.6g K lie outside what is covered: water to %g K and %g Pa, steam to %g K and %g Pa",
			p, t, waterHot, float64(liquidTop), steamHot, steamTop)
	}
	return v, u, nil
}

// correct is one step of Newton's method towards p and t.
func correct(s *fluid.State, p, t, v, u float64) (float64, float64) {
	d := s.Pv*s.Tu - s.Pu*s.Tv
	a, b := p-s.P, t-s.T
	return v + (a*s.Tu-b*s.Pu)/d, u + (b*s.Pv-a*s.Tv)/d
}

// boil is the saturation line at p, to the last digit of the wet table.
func (w *Water) boil(p float64, s *Saturation) {
	t, _ := w.SaturatedT(p)
	w.Saturated(t, s)
	for range 2 {
		w.Saturated(s.T+(p-s.P)/s.PT, s)
	}
}

// PX is water and steam in equilibrium at p in Pa, x the mass share of steam.
func (w *Water) PX(p, x float64) (v, u float64, err error) {
	if !(p >= wetBottom && p <= wetTop) {
		return 0, 0, fmt.Errorf("pressure %.6g Pa: water and steam in equilibrium are covered from %g to %g Pa", p, wetBottom, wetTop)
	}
	if !(x >= 0 && x <= 1) {
		return 0, 0, fmt.Errorf("quality %.6g: the mass share of steam lies between 0 and 1", x)
	}
	var s Saturation
	w.boil(p, &s)
	return s.Vl + x*(s.Vg-s.Vl), s.Ul + x*(s.Ug-s.Ul), nil
}

// PH is the state at pressure p in Pa and specific enthalpy h in J/kg, as after a
// throttle. near, which may be nil, is where to start. It reports false if there
// is none to be found; whether what it finds is in range, Valid tells.
func (w *Water) PH(p, h float64, near *fluid.State) (v, u float64, ok bool) {
	if !(p > 0 && p <= math.MaxFloat64 && math.Abs(h) <= math.MaxFloat64) {
		return 0, 0, false
	}
	vapour := h > 1.9e6 // parts them above the wet table, where it matters little
	v = 0.01
	if p <= wetTop {
		var s Saturation
		w.boil(p, &s)
		if h > s.Hl && h < s.Hg {
			v = s.Vl + (h-s.Hl)/(s.Hg-s.Hl)*(s.Vg-s.Vl)
			return v, h - p*v, true
		}
		vapour = h >= s.Hg
		v = s.Vg
	}
	if !vapour {
		return w.liquidPH(p, h)
	}
	// The same h is nearly the same p v.
	if near != nil && near.X == 1 && near.P*near.V > 0 {
		v = math.Max(v, near.P*near.V/p)
	}
	// p(v, h - p v) in 1/v is nearly straight.
	var s fluid.State
	for range iterations {
		w.At(v, h-p*v, &s)
		step := (p - s.P) / (v * v * (p*s.Pu - s.Pv))
		d := 1/v + step
		if !(d > 0) {
			d = 0.5 / v
		}
		v = 1 / d
		if math.Abs(step*v) < 1e-13 {
			break
		}
	}
	w.At(v, h-p*v, &s)
	return v, h - p*v, math.Abs(s.P-p) < 1e-9*p
}

// liquidPH is PH in water.
func (w *Water) liquidPH(p, h float64) (v, u float64, ok bool) {
	for range 3 { // saturated water of that enthalpy
		in, _, _ := w.liquid.clamp(h - p*v)
		c, t := w.liquid.line(in)
		v, _ = c.v.at(t)
	}
	var s fluid.State
	for range iterations {
		w.liquid.at(v, h-p*v, &s)
		step := (p - s.P) / (s.Pv - p*s.Pu)
		v += step
		if math.Abs(step) < 1e-15*v {
			break
		}
	}
	// A few Pa are the last digits of v.
	return v, h - p*v, math.Abs(s.P-p) < 1e-9*p+1
}
