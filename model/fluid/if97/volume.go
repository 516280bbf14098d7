package if97

import (
	"fmt"
	"math"
)

// enough is the share of v and of T within which one more step of Newton's method
// needs no check: what it leaves is of the order of its square.
const enough = 1e-8

// seam is how far, in K, the equations either side of 623.15 K are followed across
// it: they do not quite agree there, and some (v, u) would lie in neither.
const seam = 0.05

// VU is water and steam of specific volume v in m3/kg and internal energy u in
// J/kg, to round-off; W and the slopes to about 1e-8 of themselves. Internal energy
// rises with temperature at constant volume, in every phase and across: so it
// searches T, and then iterates within the phase. It errs outside regions 1 to 4.
func VU(v, u float64) (Mix, error) {
	if !(v > 0 && v <= math.MaxFloat64 && math.Abs(u) <= math.MaxFloat64) {
		return Mix{}, fmt.Errorf("specific volume %g m3/kg, internal energy %g J/kg: give a positive volume, both finite", v, u)
	}
	// Within 1 K is near enough to iterate from, unless a boundary lies between.
	for _, near := range []float64{1, 0} {
		var guess Mix
		root(500, MinT, MaxT, func(t float64) (y, slope float64) {
			guess, slope = vt(v, t)
			if y = guess.U - u; math.Abs(y) < near*slope {
				y = 0
			}
			return y, slope
		})
		if m, ok := from(v, u, &guess); ok {
			return m, nil
		}
	}
	return Mix{}, fmt.Errorf("specific volume %g m3/kg, internal energy %g J/kg: no water or steam within %g to %g K and %g Pa",
		v, u, MinT, MaxT, float64(MaxP))
}

// VUFrom is VU from a state nearby: a few steps of Newton's method if it lies in
// the same region, else a search.
func VUFrom(v, u float64, guess Mix) (Mix, error) {
	if m, ok := from(v, u, &guess); ok {
		return m, nil
	}
	return VU(v, u)
}

// from iterates within the region of guess, of which it reads X, P and T, and
// reports whether it came to a state of that region.
func from(v, u float64, guess *Mix) (Mix, bool) {
	p, t := guess.P, guess.T
	switch {
	case guess.X > 0 && guess.X < 1:
		return wetFrom(v, u, t)
	case t > T13 && p > Boundary23P(t):
		return region3From(v, u, t)
	case guess.X == 0:
		m, ok := pairFrom(Region1, v, u, p, t)
		// The last digits of v are worth 1e-5 Pa.
		return m, ok && m.T <= T13+seam && m.P >= SaturationP(m.T)*(1-1e-9)-1e-4
	}
	m, ok := pairFrom(Region2, v, u, p, t)
	m.X = 1
	if m.T <= T13 {
		return m, ok && m.P <= SaturationP(m.T)*(1+1e-9)
	}
	return m, ok && m.P <= Boundary23P(m.T)*(1+1e-4)
}

func inside(m *Mix) bool {
	return m.T >= MinT-slack && m.T <= MaxT+slack && m.P > 0 && m.P <= MaxP*(1+1e-9)
}

// pairFrom solves v(p, T) = v and u(p, T) = u in region 1 or 2.
func pairFrom(region func(p, t float64) Point, v, u, p, t float64) (m Mix, ok bool) {
	for range 12 {
		x := region(p, t)
		m.Pv, m.Pu, m.Tv, m.Tu = x.slopes()
		dv, du := v-x.V, u-x.U
		p += m.Pv*dv + m.Pu*du
		dt := m.Tv*dv + m.Tu*du
		t += dt
		if math.Abs(dv) <= enough*v && math.Abs(dt) <= enough*t {
			m.P, m.T, m.V, m.U, m.H, m.W = p, t, v, u, u+p*v, x.W
			m.S = x.S + (du+p*dv)/t
			return m, inside(&m)
		}
		if !(p > 0 && t > 200 && t < 1500) {
			break
		}
	}
	return m, false
}

// region3From solves u(v, T) = u in region 3.
func region3From(v, u, t float64) (m Mix, ok bool) {
	for range 12 {
		x := Region3(1/v, t)
		du := u - x.U
		dt := du / x.Cv
		t += dt
		if math.Abs(dt) <= enough*t {
			m = x.mix()
			m.T, m.U = t, u
			m.P += m.Pu * du
			m.H = u + m.P*v
			m.S += du / t
			ok = inside(&m) && t >= T13-seam && x.Vp < 0 && m.P >= Boundary23P(t)*(1-1e-4)
			if t >= CriticalT {
				m.X = 1
				return m, ok
			}
			const side = 1e-9 // of the pressure of saturation, and rounding
			if ps := SaturationP(t); v*CriticalD < 1 {
				return m, ok && m.P >= ps*(1-side)
			} else {
				m.X = 1
				return m, ok && m.P <= ps*(1+side)
			}
		}
		if !(t > 500 && t < 1500) {
			break
		}
	}
	return m, false
}

// wetFrom solves for the temperature at which water and steam in equilibrium
// have v and u.
func wetFrom(v, u, t float64) (m Mix, ok bool) {
	by3 := t > T13
	for range 12 {
		if !(t >= MinT-1 && t < CriticalT) || by3 && t < T13-1 {
			break
		}
		t = max(t, MinT)
		l, g := saturated(t, by3)
		m, xT := wet(&l, &g, v, 0)
		dt := (u - m.U) * m.Tu
		t += dt
		if math.Abs(dt) <= enough*t {
			m.X += xT * dt
			m.P += m.Pu * (u - m.U)
			m.S += (u - m.U) / t
			m.T, m.U, m.H = t, u, u+m.P*v
			const side = 1e-12 // of v, for rounding
			ok = inside(&m) && !(by3 && t < T13-seam) && !(!by3 && t > T13+seam)
			ok = ok && m.X >= -side*v/(g.V-l.V) && m.X <= 1+side
			m.X = min(max(m.X, 0), 1)
			return m, ok
		}
	}
	return m, false
}

// vt is the state at v and t, enough of it to start from, and du/dT at constant
// v. U is infinite where it would take more than the highest pressure.
func vt(v, t float64) (m Mix, cv float64) {
	if t <= CriticalT {
		l, g := Saturated(t)
		switch {
		case v > l.V && v < g.V:
			m, _ = wet(&l, &g, v, 0)
			return m, 1 / m.Tu
		case t <= T13 && v <= l.V:
			return vtIn(Region1, v, l, MaxP, 0)
		case t <= T13:
			return vtIn(Region2, v, Region2(min(g.P, R*t/v), t), g.P, 1)
		}
	}
	top := Boundary23P(t)
	if top < MaxP {
		if x := Region2(top, t); v < x.V {
			x = Region3(1/v, t)
			m = x.mix()
			if t >= CriticalT || v*CriticalD >= 1 {
				m.X = 1
			}
			return m, x.Cv
		}
	}
	top = min(top, MaxP)
	return vtIn(Region2, v, Region2(min(top, R*t/v), t), top, 1)
}

// vtIn solves v(p) = v at the temperature of x, for p up to top; for steam in
// logarithms, in which it is nearly straight.
func vtIn(region func(p, t float64) Point, v float64, x Point, top, steam float64) (m Mix, cv float64) {
	if region(top, x.T).V > v {
		return Mix{U: math.Inf(1)}, 1
	}
	for range 30 {
		d := v - x.V
		p := x.P + d/x.Vp
		if steam == 1 {
			p = x.P * math.Exp(math.Log(v/x.V)*x.V/(x.P*x.Vp))
		}
		x = region(min(p, top), x.T)
		if math.Abs(d) < 1e-13*v {
			break
		}
	}
	m = x.mix()
	m.X = steam
	return m, x.Cv
}
