package water

import (
	"math"
	"math/rand"
	"testing"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// TestStartStates asks for states by p and T, p and quality, p and enthalpy, and
// looks whether At gives them back.
func TestStartStates(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(4))
	var s fluid.State
	same := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol*math.Abs(want)) {
			t.Fatalf("%s %.12g, want %.12g", what, got, want)
		}
	}
	for range 20000 {
		p := 700 * math.Exp(r.Float64()*math.Log(16.4e6/700))
		ts := if97.SaturationT(p)
		for _, T := range []float64{
			ts + 0.02 + r.Float64()*r.Float64()*(1073-ts),
			ts - 0.02 - r.Float64()*r.Float64()*(ts-0.02-273.16),
		} {
			v, u, err := w.PT(p, T)
			if v == 0 && T > ts && if97.Region2(p, T).V > 256 {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			w.At(v, u, &s)
			same("T", s.T, T, 1e-10)
			if T > ts {
				same("p", s.P, p, 1e-10)
			} else {
				same("p", s.P, p+0.5, 0.5/p+1e-9) // rounding of v is worth 0.5 Pa
			}
			// Throttled to a lower pressure, the enthalpy stays.
			pt := 700 * math.Exp(r.Float64()*math.Log(p/700))
			v, u, ok := w.PH(pt, s.H, &s)
			if !ok {
				t.Fatalf("no throttled state from %g Pa, %g K to %g Pa", p, T, pt)
			}
			h := s.H
			h0 := s
			w.At(v, u, &s)
			if math.Abs(s.H/h-1) > 1e-10 {
				t.Logf("p %g T %g pt %g %+v %+v", p, T, pt, h0, s)
			}
			same("h", s.H, h, 1e-10)
			if s.X > 0 {
				same("throttled p", s.P, pt, 1e-8)
			} else {
				same("throttled p", s.P, pt, 1e-9+1/pt)
			}
		}
		x := r.Float64()
		v, u, err := w.PX(p, x)
		if err != nil {
			t.Fatal(err)
		}
		w.At(v, u, &s)
		same("wet p", s.P, p, 4e-9)
		same("quality", s.X, x, 1e-8)
	}
}

func TestStartStatesRefused(t *testing.T) {
	w := Shared()
	for _, c := range []struct {
		what string
		p, t float64
	}{
		{"no pressure", 0, 400},
		{"pressure not a number", math.NaN(), 400},
		{"ice", 1e5, 270},
		{"on the line", 1e5, if97.SaturationT(1e5)},
		{"too hot", 1e5, 1100},
		{"around the critical point", 21e6, 648},
		{"dense steam", 21.9e6, 652},
		{"too thin", 500, 700},
		{"beyond the pressures of water", 31e6, 400},
		{"water near the critical point", 20e6, 630},
	} {
		if v, u, err := w.PT(c.p, c.t); err == nil {
			t.Errorf("%s: got v %g, u %g, want an error", c.what, v, u)
		}
	}
	for _, c := range [][2]float64{{500, 0.5}, {17e6, 0.5}, {1e6, -0.1}, {1e6, 1.1}, {1e6, math.NaN()}} {
		if _, _, err := w.PX(c[0], c[1]); err == nil {
			t.Errorf("p %g, quality %g: want an error", c[0], c[1])
		}
	}
	for _, c := range [][2]float64{{0, 1e6}, {-1, 1e6}, {math.NaN(), 1e6}, {1e5, math.Inf(1)}} {
		if _, _, ok := w.PH(c[0], c[1], nil); ok {
			t.Errorf("p %g, h %g: want no state", c[0], c[1])
		}
	}
}
