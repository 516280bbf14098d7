package water

import (
	"math"
	"math/rand"
	"testing"

	"underdisc/model/fluid"
)

// harmless checks what an integration relies on at any trial state.
func harmless(t *testing.T, w *Water, v, u float64) {
	t.Helper()
	var s fluid.State
	w.At(v, u, &s)
	for _, x := range []float64{s.P, s.T, s.H, s.Pv, s.Pu, s.Tv, s.Tu, s.Hv, s.Hu, s.X} {
		if math.IsNaN(x) {
			t.Fatalf("v %g, u %g: %+v", v, u, s)
		}
	}
	e, c := w.Rest(v, u)
	if !(s.P > 0 && s.T > 0 && s.Tu > 0 && s.P*s.Pu > s.Pv && s.X >= 0 && s.X <= 1 && c > 0) || math.IsNaN(e) {
		t.Fatalf("v %g, u %g: %+v, s %g, w %g", v, u, s, e, c)
	}
}

// TestTrialStates asks for anything: no NaN, no negative p, T, T_u or square of
// the speed of sound.
func TestTrialStates(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(7))
	for range points(3_000_000) {
		// Everywhere around the range, and far from it.
		harmless(t, w, logBetween(r, 5e-4, 1e3), -1e6+6e6*r.Float64())
		harmless(t, w, logBetween(r, 9.5e-4, 2e-3), -2e5+2.2e6*r.Float64())
		harmless(t, w, logBetween(r, 1e-12, 1e12), logBetween(r, 1, 1e14)*float64(1-2*r.Intn(2)))
	}
	for _, v := range []float64{1e-9, 1e-3, vapourMin, vapourEdge, vapourMax, liquidMaxV, widest} {
		for _, u := range []float64{0, liquidLow, liquidHigh, coldest, hottest, -1e12, 1e12} {
			harmless(t, w, v, u)
			harmless(t, w, math.Nextafter(v, 0), math.Nextafter(u, -1e300))
			harmless(t, w, math.Nextafter(v, 1e300), math.Nextafter(u, 1e300))
		}
	}
}

func TestNoState(t *testing.T) {
	w := Shared()
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range [][2]float64{{0, 1e6}, {-1, 1e6}, {nan, 1e6}, {inf, 1e6}, {1, nan}, {1, inf}, {1, -inf}} {
		var s fluid.State
		w.At(c[0], c[1], &s)
		e, a := w.Rest(c[0], c[1])
		for _, x := range []float64{s.P, s.T, s.H, s.Pv, s.Pu, s.Tv, s.Tu, s.Hv, s.Hu, e, a} {
			if !math.IsNaN(x) {
				t.Errorf("v %g, u %g: got %+v, want NaN", c[0], c[1], s)
				break
			}
		}
		if w.Valid(c[0], c[1]) {
			t.Errorf("v %g, u %g is called valid", c[0], c[1])
		}
	}
}

// TestSeams walks over the borders where one way of computing gives over to
// another: p and T do not jump.
func TestSeams(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(8))
	var a, b fluid.State
	const tiny = 1e-11
	step := func(name string, v1, u1, v2, u2, tol float64) {
		t.Helper()
		w.At(v1, u1, &a)
		w.At(v2, u2, &b)
		dp := math.Abs(a.P-b.P) - math.Max(math.Abs(a.Pv), math.Abs(b.Pv))*math.Abs(v2-v1) -
			math.Max(math.Abs(a.Pu), math.Abs(b.Pu))*math.Abs(u2-u1)
		if dp > tol*a.P || math.Abs(a.T/b.T-1) > tol {
			t.Fatalf("%s at v %g, u %g: p %.9g and %.9g Pa, T %.9g and %.9g K", name, v1, u1, a.P, b.P, a.T, b.T)
		}
	}
	for range 2000 {
		q := r.Float64()
		// Thin steam and mixture.
		u := 1e6 + 3e6*q
		step("v of 256 m3/kg", vapourEdge, u, vapourMax, u, 1e-8)
		// The hot end of the table of steam.
		v := logBetween(r, vapourMin, 250)
		us := w.vapour.saturated(v)
		step("hot steam", v, us+span*(1-tiny), v, us+span*(1+tiny), 1e-8)
		// Water at 300 bar and at the ends of the table in u.
		u = liquidLow + (liquidHigh-liquidLow)*q
		c, x := w.liquid.line(u)
		top, _ := c.top.at(x)
		step("water at 300 bar", top*(1-tiny), u, top*(1+tiny), u, 1e-6)
		for _, u := range []float64{liquidLow, liquidHigh} {
			c, x := w.liquid.line(u)
			vs, _ := c.v.at(x)
			v = vs * (1 - 0.02*q)
			step("end of water", v, u-0.001, v, u+0.001, 1e-6)
		}
		v = liquidMinV
		u = liquidLow + (liquidHigh-liquidLow)*q
		step("compressed water", v*(1-tiny), u, v*(1+tiny), u, 1e-8)
		// Mixture at the ends of the wet table.
		v = logBetween(r, 0.0011, 200)
		u = w.wet.low[0] + v*w.wet.low[1]
		if u > coldest {
			step("cold mixture", v, u-0.001, v, u+0.001, 1e-6)
		}
		v = 0.002 + 0.0057*q
		u = w.wet.top[0] + v*w.wet.top[1]
		step("hot mixture", v, u-0.001, v, u+0.001, 1e-6)
		// Mixture where the table of steam begins.
		u = 1e5 + (w.vapour.saturated(vapourMin)-1e5)*q*0.999999
		step("mixture at v of 2^-7 m3/kg", math.Nextafter(vapourMin, 0), u, vapourMin, u, 1e-7)
		// Bent u.
		step("coldest", v, coldest-0.001, v, coldest+0.001, 1e-6)
	}
}

func TestNoAllocation(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(9))
	var s fluid.State
	var l Saturation
	for _, phase := range []phase{inVapour, inWet, inLiquid} {
		v, u := inside(r, phase)
		if n := testing.AllocsPerRun(100, func() {
			w.At(v, u, &s)
			w.Rest(v, u)
			w.Saturated(s.T, &l)
			w.SaturatedT(s.P)
			w.PH(s.P/2, s.H, &s)
			w.Valid(v, u)
		}); n != 0 {
			t.Errorf("phase %d: %g allocations", phase, n)
		}
	}
}

func TestValid(t *testing.T) {
	w := Shared()
	at := func(v, u float64, err error) [2]float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return [2]float64{v, u}
	}
	for name, c := range map[string][2]float64{
		"wet at 40 bar":      at(w.PX(40e5, 0.3)),
		"wet at 0.02 bar":    at(w.PX(2000, 0.9)),
		"wet at 165 bar":     at(w.PX(16.49e6, 0.5)),
		"steam, hot":         at(w.PT(1e5, 1073)),
		"steam at 220 bar":   at(w.PT(21.9e6, 1000)),
		"cold water, 1 bar":  at(w.PT(1e5, 274)),
		"water at 200 bar":   at(w.PT(20e6, 500)),
		"thin steam, 700 Pa": at(w.PT(700, 300)),
	} {
		if !w.Valid(c[0], c[1]) {
			t.Errorf("%s, v %g, u %g: called out of range", name, c[0], c[1])
		}
	}
	for name, c := range map[string][2]float64{
		"ice":                  {1.09e-3, -3.3e5},
		"frozen mixture":       {50, -1e5},
		"near critical":        {0.0035, 2e6},
		"dense and hot":        {0.005, 3e6},
		"beyond 1073 K":        {1, 3.8e6},
		"water beyond 300 bar": {9.7e-4, 5e5},
		"very thin":            {300, 2.5e6},
	} {
		if w.Valid(c[0], c[1]) {
			t.Errorf("%s, v %g, u %g: called in range", name, c[0], c[1])
		}
	}
}
