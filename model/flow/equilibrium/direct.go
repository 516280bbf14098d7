package equilibrium

import (
	"fmt"
	"math"

	"underdisc/model/fluid/if97"
)

// Expansion is the isentropic flow from one state of rest, searched for in IF97
// itself: slow, and the reference for the tables.
type Expansion struct {
	P0, H0, S0 float64 // Pa, J/kg, J/(kg K)
	Boil       float64 // Pa, where it crosses the saturation line; 0 if nowhere
	// ByEnthalpy takes the drop in the wet as a difference of IF97's enthalpies
	// instead of as the integral of v dp; see drop.
	ByEnthalpy bool

	start  if97.Point
	liquid bool // begins as water
}

// least is the lowest pressure an expansion is followed to, Pa: the triple
// point's.
const least = 611.657

// Direct begins at specific volume v in m3/kg and internal energy u in J/kg.
func Direct(v, u float64) (Expansion, error) {
	// Wet: the line at T gives u at this v.
	wet := func(t float64) float64 {
		p := if97.SaturationP(t)
		w, g := if97.Region1(p, t), if97.Region2(p, t)
		x := (v - w.V) / (g.V - w.V)
		return w.U + x*(g.U-w.U) - u
	}
	if lo, hi := 273.16, 623.15; wet(lo) < 0 && wet(hi) > 0 {
		t := zero(wet, lo, hi)
		p := if97.SaturationP(t)
		w, g := if97.Region1(p, t), if97.Region2(p, t)
		if x := (v - w.V) / (g.V - w.V); x >= 0 && x <= 1 {
			return Wet(p, x)
		}
	}
	// From the saturation line at the same v or u, in steps of u.
	region, p, t, steps := if97.Region1, 0.0, 0.0, 1
	liquid := v < 0.0031 && u < 1.7e6
	if liquid {
		t = zero(func(t float64) float64 { return if97.Region1(if97.SaturationP(t), t).U - u }, 260, 630)
		p = if97.SaturationP(t)
	} else {
		region, p, t, steps = if97.Region2, if97.MaxP/6, if97.T13, 20
		if v < if97.Region2(if97.SaturationP(265), 265).V && v > if97.Region2(if97.SaturationP(t), t).V {
			t = zero(func(t float64) float64 { return math.Log(if97.Region2(if97.SaturationP(t), t).V / v) }, 265, t)
			p = if97.SaturationP(t)
		}
	}
	start := region(p, t)
	for i := 1; i <= steps; i++ {
		share := float64(i) / float64(steps)
		v1, u1 := start.V+share*(v-start.V), start.U+share*(u-start.U)
		for range 50 {
			x := region(p, t)
			a, b := v1-x.V, u1-x.U
			up, ut := -x.T*x.VT-x.P*x.Vp, x.Cp-x.P*x.VT
			d := x.Vp*ut - x.VT*up
			dp, dt := (a*ut-b*x.VT)/d, (b*x.Vp-a*up)/d
			if math.Abs(dp) < 1e-11*p+1e-3 && math.Abs(dt) < 1e-11*t {
				if i == steps {
					return begin(x, liquid)
				}
				break
			}
			p = max(p/2, min(p+dp, 2*p+1e7))
			t += max(-50, min(50, dt))
		}
	}
	return Expansion{}, fmt.Errorf("no water or steam found at %.6g m3/kg, %.6g J/kg", v, u)
}

// Wet begins at pressure p with the mass share x of steam.
func Wet(p, x float64) (Expansion, error) {
	if !(p >= least && p <= 16.53e6) {
		return Expansion{}, fmt.Errorf("pressure %.6g Pa: wet inlets go from %g to 16.53e6 Pa", p, least)
	}
	t := if97.SaturationT(p)
	w, g := if97.Region1(p, t), if97.Region2(p, t)
	e := Expansion{P0: p, H0: w.H + x*(g.H-w.H), S0: w.S + x*(g.S-w.S), Boil: p}
	if x >= 1 {
		e.start = g
	} else {
		e.start, e.liquid = w, x <= 0
	}
	return e, nil
}

// Throttled begins at pressure p and enthalpy h, as behind a throttle.
func Throttled(p, h float64) (Expansion, error) {
	if !(p >= least && p <= 30e6) {
		return Expansion{}, fmt.Errorf("pressure %.6g Pa: inlets go from %g to 30e6 Pa", p, least)
	}
	region, t, liquid := if97.Region2, 700.0, false
	if p <= 16.53e6 {
		ts := if97.SaturationT(p)
		w, g := if97.Region1(p, ts), if97.Region2(p, ts)
		if h >= w.H && h <= g.H {
			return Wet(p, (h-w.H)/(g.H-w.H))
		}
		t = ts
		liquid = h < w.H
	} else {
		liquid = h < 1.67e6
		t = 600
	}
	if liquid {
		region = if97.Region1
	}
	for range 60 {
		x := region(p, t)
		d := (h - x.H) / x.Cp
		if math.Abs(d) < 1e-11*t {
			return begin(x, liquid)
		}
		t += max(-60, min(60, d))
	}
	return Expansion{}, fmt.Errorf("no water or steam found at %.6g Pa, %.6g J/kg", p, h)
}

// From begins at pressure p and temperature t, in one phase.
func From(p, t float64) (Expansion, error) {
	if p <= 16.53e6 && t < if97.SaturationT(p) || p > 16.53e6 && t <= if97.T13 {
		return begin(if97.Region1(p, t), true)
	}
	return begin(if97.Region2(p, t), false)
}

// begin finds where the expansion from a state in one phase crosses the line.
func begin(x if97.Point, liquid bool) (Expansion, error) {
	if !within(x.P, x.T, liquid) {
		return Expansion{}, fmt.Errorf("%.6g Pa, %.6g K: outside IF97's regions 1 and 2", x.P, x.T)
	}
	e := Expansion{P0: x.P, H0: x.H, S0: x.S, start: x, liquid: liquid}
	side := func(t float64) float64 {
		if liquid {
			return if97.Region1(if97.SaturationP(t), t).S - x.S
		}
		return x.S - if97.Region2(if97.SaturationP(t), t).S
	}
	if lo, hi := 273.16, 624.0; side(lo) < 0 && side(hi) > 0 {
		// Steam expands along x.S towards a line whose s grows as p falls.
		e.Boil = min(if97.SaturationP(zero(side, lo, hi)), x.P)
	} else if !(side(lo) >= 0) {
		return e, fmt.Errorf("%.6g Pa, %.6g K: its isentrope runs past IF97's regions 1 and 2", x.P, x.T)
	}
	return e, nil
}

// within tells whether p and t lie in region 1 or region 2, or by rounding beyond
// the line.
func within(p, t float64, liquid bool) bool {
	const slack = 1e-4
	if !(t >= if97.MinT && t <= if97.MaxT*(1+slack) && p > 0 && p <= if97.MaxP) {
		return false
	}
	if t > if97.T13 {
		return !liquid && p <= if97.Boundary23P(t)*(1+slack)
	}
	ps := if97.SaturationP(t)
	return liquid && p >= ps*(1-slack) || !liquid && p <= ps*(1+slack)
}

// At is enthalpy, specific volume and the square of the speed of sound at p.
func (e *Expansion) At(p float64) (h, v, ww float64) {
	if p < e.Boil {
		t := if97.SaturationT(p)
		w, g := if97.Region1(p, t), if97.Region2(p, t)
		x := (e.S0 - w.S) / (g.S - w.S)
		return w.H + x*(g.H-w.H), w.V + x*(g.V-w.V), 0
	}
	region := if97.Region2
	if e.liquid {
		region = if97.Region1
	}
	t := e.start.T
	if !e.liquid {
		t *= math.Pow(p/e.P0, 0.22)
	}
	var x if97.Point
	for range 40 {
		x = region(p, t)
		d := (e.S0 - x.S) * t / x.Cp
		t += max(-60, min(60, d))
		if math.Abs(d) < 1e-12*t {
			break
		}
	}
	return x.H, x.V, x.W * x.W
}

// drop is h0 - h(p) and v(p). In the wet it is the integral of v dp from the
// crossing on, by Gauss's rule of five points in ln p. IF97's own difference of
// enthalpies there does not quite agree with its v (its Gibbs energies differ on
// the line): nothing in steam, but in cold water, where the drop is a millionth of
// h, by 1 % at 20 mbar and 0.2 % at 1 bar.
func (e *Expansion) drop(p float64) (drop, v float64) {
	h, v, _ := e.At(p)
	if p >= e.Boil || e.ByEnthalpy {
		return e.H0 - h, v
	}
	top := min(e.Boil, e.P0)
	if e.Boil < e.P0 {
		h, _, _ := e.At(e.Boil)
		drop = e.H0 - h
	}
	a := math.Log(top / p)
	for k, node := range [...]float64{0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640} {
		q := p * math.Exp(a*(1+node)/2)
		_, v, _ := e.At(q)
		drop += [...]float64{0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891}[k] / 2 * a * q * v
	}
	return drop, v
}

// Through is G with the downstream pressure p in the throat.
func (e *Expansion) Through(p float64) float64 {
	drop, v := e.drop(p)
	return math.Sqrt(2*max(0, drop)) / v
}

// Critical is the critical flux in kg/(s m2) and the throat's pressure: the
// maximum in the phase of the inlet, at the crossing, or in the wet.
func (e *Expansion) Critical() (g, p float64) {
	try := func(q, b float64) {
		if b > g {
			g, p = b, q
		}
	}
	const deep = 0.3 // no throat lies so far below its inlet or its boiling point
	if e.Boil < e.P0 && !e.liquid {
		try(e.peak(max(e.Boil, deep*e.P0), e.P0))
	}
	if e.liquid || e.Boil > deep*e.P0 {
		try(e.Boil, e.Through(e.Boil))
		try(e.peak(max(least/2, deep*e.Boil), e.Boil*(1-1e-15)))
	}
	return g, p
}

// peak is where G is greatest between two pressures, by golden section in ln p
// (the flux is smooth and has one peak in each phase).
func (e *Expansion) peak(lo, hi float64) (p, g float64) {
	const golden = 0.6180339887498949
	a, b := math.Log(lo), math.Log(hi)
	f := func(x float64) float64 { return e.Through(math.Exp(x)) }
	c, d := b-golden*(b-a), a+golden*(b-a)
	fc, fd := f(c), f(d)
	for b-a > 1e-5 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - golden*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + golden*(b-a)
			fd = f(d)
		}
	}
	x := (a + b) / 2
	return math.Exp(x), f(x)
}

// Flux is G at a downstream pressure, critical if that is lower than the
// throat's.
func (e *Expansion) Flux(pd float64) float64 {
	g, p := e.Critical()
	if pd <= p {
		return g
	}
	if pd >= e.P0 {
		return 0
	}
	return e.Through(pd)
}

// zero finds where f vanishes between a and b, where its signs differ, by false
// position of which an end that stays is halved (the Illinois rule).
func zero(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	for range 200 {
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if fc == 0 || math.Abs(c-b) < 1e-14*math.Abs(c) {
			return c
		}
		if (fc < 0) == (fb < 0) {
			fa /= 2
		} else {
			a, fa = b, fb
		}
		b, fb = c, fc
	}
	return b
}
