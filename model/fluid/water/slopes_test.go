package water

import (
	"math"
	"math/rand"
	"testing"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// inside makes a random state of one phase, well inside it and the range.
func inside(r *rand.Rand, phase phase) (v, u float64) {
	p := logBetween(r, 1000, 160e5)
	t := if97.SaturationT(p)
	q := 0.01 + 0.98*r.Float64()
	switch phase {
	case inVapour:
		x := if97.Region2(p, t+1+q*(1050-t))
		if x.V > 250 {
			return inside(r, phase)
		}
		return x.V, x.U
	case inLiquid:
		t = 275 + 345*q
		p = if97.SaturationP(t)
		x := if97.Region1(p+q*(29e6-p), t)
		return x.V, x.U
	}
	l, g := if97.Region1(p, t), if97.Region2(p, t)
	return l.V + q*(g.V-l.V), l.U + q*(g.U-l.U)
}

// TestSlopes holds the slopes against central differences of the functions
// themselves: they are not another table's.
func TestSlopes(t *testing.T) {
	w := Shared()
	for _, c := range []struct {
		name  string
		phase phase
		dv    float64 // share of v for differences
	}{
		{"steam", inVapour, 1e-5}, {"wet", inWet, 1e-5}, {"water", inLiquid, 1e-6},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewSource(5))
			dev := newWorst()
			for range 20000 {
				v, u := inside(r, c.phase)
				var s, a, b, e, f fluid.State
				if w.fill(v, u, &s) != c.phase {
					t.Fatalf("v %g, u %g is of phase %d", v, u, w.fill(v, u, &s))
				}
				dv, du := v*c.dv, 20.0
				w.At(v-dv, u, &a)
				w.At(v+dv, u, &b)
				w.At(v, u-du, &e)
				w.At(v, u+du, &f)
				see := func(name string, got, want, unit float64) {
					dev.see(name, (got-want)/unit, s.P, s.T, v)
				}
				// In units of what the whole state amounts to, water's p in the
				// slope of its own v.
				see("Pv", s.Pv, (b.P-a.P)/(2*dv), math.Max(math.Abs(s.Pv), s.P/v))
				see("Tv", s.Tv, (b.T-a.T)/(2*dv), math.Max(math.Abs(s.Tv), s.T/v))
				see("Hv", s.Hv, (b.H-a.H)/(2*dv), math.Max(math.Abs(s.Pv*v), s.P))
				see("Pu", s.Pu, (f.P-e.P)/(2*du), math.Max(math.Abs(s.Pu), s.P/1e6))
				see("Tu", s.Tu, (f.T-e.T)/(2*du), s.Tu)
				see("Hu", s.Hu, (f.H-e.H)/(2*du), s.Hu)
			}
			limits := map[string]float64{}
			for k := range dev.most {
				limits[k] = 5e-7
			}
			dev.hold(t, limits)
		})
	}
}

// TestEntropy follows the entropy: T ds = du + p dv. Tables of s, p and T are
// made apart, so this ties them together.
func TestEntropy(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(6))
	dev := newWorst()
	for range 20000 {
		for i, name := range []string{"steam", "wet", "water"} {
			phase := []phase{inVapour, inWet, inLiquid}[i]
			v, u := inside(r, phase)
			var s fluid.State
			w.At(v, u, &s)
			dv, du := v*1e-5, 50.0
			a, _ := w.Rest(v-dv, u)
			b, _ := w.Rest(v+dv, u)
			e, _ := w.Rest(v, u-du)
			f, _ := w.Rest(v, u+du)
			dev.see(name+" T ds/du", s.T*(f-e)/(2*du)-1, s.P, s.T, v)
			if phase == inLiquid {
				continue // T ds/dv there is a small difference of large numbers
			}
			dev.see(name+" T/p ds/dv", s.T/s.P*(b-a)/(2*dv)-1, s.P, s.T, v)
		}
	}
	dev.hold(t, map[string]float64{
		"steam T ds/du": 5e-5, "steam T/p ds/dv": 5e-5,
		"wet T ds/du": 2e-5, "wet T/p ds/dv": 1e-4, // IF97's own
		"water T ds/du": 1e-6,
	})
}
