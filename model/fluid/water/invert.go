package water

import (
	"math"

	"underdisc/model/fluid/if97"
)

// region is one of the formulation's equations in pressure and temperature.
type region func(p, t float64) if97.Point

// invert finds the point of a region at (v, u) by Newton's method from a point
// nearby. It is for making tables: no bounds are watched.
func invert(at region, v, u float64, near if97.Point) if97.Point {
	x := near
	p, t := x.P, x.T
	for range 20 {
		a, b := v-x.V, u-x.U
		pv, pu, tv, tu := gradient(x)
		dp, dt := pv*a+pu*b, tv*a+tu*b
		p, t = math.Max(p+dp, p/2), t+dt
		x = at(p, t)
		if math.Abs(dp) < 1e-9*p && math.Abs(dt) < 1e-9*t {
			break // Newton squares the error: the point just made is exact
		}
	}
	return x
}

// gradient is the slopes of p and T by v and u.
func gradient(x if97.Point) (pv, pu, tv, tu float64) {
	up, ut := -x.T*x.VT-x.P*x.Vp, x.Cp-x.P*x.VT
	d := x.Vp*ut - x.VT*up
	return ut / d, -x.VT / d, -up / d, x.Vp / d
}

// ahead is the start for invert a step away from x.
func ahead(x if97.Point, at region, dv, du float64) if97.Point {
	pv, pu, tv, tu := gradient(x)
	return at(x.P+pv*dv+pu*du, x.T+tv*dv+tu*du)
}

// root finds where f vanishes by the secant method from two points near it.
func root(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	for range 40 {
		if fb == fa {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		a, fa = b, fb
		b = c
		if math.Abs(b-a) < 1e-13*math.Abs(b) {
			break
		}
		fb = f(b)
	}
	return b
}

// saturatedWater and saturatedSteam are the ends of the wet region at t.
func saturatedWater(t float64) if97.Point { return if97.Region1(if97.SaturationP(t), t) }
func saturatedSteam(t float64) if97.Point { return if97.Region2(if97.SaturationP(t), t) }
