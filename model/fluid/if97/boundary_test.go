package if97

import (
	"math"
	"math/rand"
	"testing"
)

// Across the seams of the formulation, and across the saturation line, VU finds
// a state for every (v, u), and p and T change no more from one to the next than
// the slopes allow and the seams jump: at fixed v and u p by some 1e-4 and T by
// some 10 mK.
func TestAcrossSeams(t *testing.T) {
	const steps = 200
	r := rand.New(rand.NewSource(3))
	seams := map[string]func() (a, b Point){
		"1|3": func() (a, b Point) {
			p := 17e6 + 82e6*r.Float64()
			return Region1(p, T13-0.05), density3(p*1.0001, T13+0.05, true)
		},
		"2|3": func() (a, b Point) {
			at := T13 + 0.1 + 239*r.Float64()
			p := Boundary23P(at)
			return Region2(p*0.999, at), density3(p*1.001, at, false)
		},
		"2|3 seen from warmth": func() (a, b Point) {
			at := T13 + 1 + 238*r.Float64()
			p := Boundary23P(at)
			return Region2(p, at+0.05), density3(p, at-0.05, false)
		},
		"1|wet": func() (a, b Point) {
			at := MinT + 1 + 348*r.Float64()
			l, g := Saturated(at)
			b, x := l, 1e-3*r.Float64()
			b.V += x * (g.V - l.V)
			b.U += x * (g.U - l.U)
			return Region1(l.P*1.01, at-0.1), b
		},
		"2|wet": func() (a, b Point) {
			at := MinT + 1 + 348*r.Float64()
			l, g := Saturated(at)
			b, x := g, 1e-2*r.Float64()
			b.V += x * (l.V - g.V)
			b.U += x * (l.U - g.U)
			return Region2(g.P*0.99, at+0.1), b
		},
		"wet at 623.15 K": func() (a, b Point) {
			x := 0.02 + 0.96*r.Float64()
			at := func(t float64) (p Point) {
				l, g := Saturated(t)
				p.V, p.U = l.V+x*(g.V-l.V), l.U+x*(g.U-l.U)
				return p
			}
			return at(T13 - 0.05), at(T13 + 0.05)
		},
	}
	for name, ends := range seams {
		worstP, worstT := 0.0, 0.0
		for range 30 {
			a, b := ends()
			var last Mix
			for i := range steps + 1 {
				f := float64(i) / steps
				v, u := a.V+f*(b.V-a.V), a.U+f*(b.U-a.U)
				m, err := VU(v, u)
				if err != nil {
					t.Fatalf("%s: %v, between %+v and %+v", name, err, a, b)
				}
				if i > 0 {
					w, err := VUFrom(v, u, last)
					if err != nil {
						t.Fatalf("%s, warm: %v", name, err)
					}
					dv, du := (b.V-a.V)/steps, (b.U-a.U)/steps
					// What both slopes leave unexplained.
					smooth := func(d, x1, y1, x2, y2 float64) float64 {
						e1, e2 := x1*dv+y1*du, x2*dv+y2*du
						return math.Max(0, math.Max(d-math.Max(e1, e2), math.Min(e1, e2)-d))
					}
					worstP = max(worstP, smooth(w.P-last.P, w.Pv, w.Pu, last.Pv, last.Pu)/w.P)
					worstT = max(worstT, smooth(w.T-last.T, w.Tv, w.Tu, last.Tv, last.Tu))
				}
				last = m
			}
		}
		t.Logf("%-22s jump of p %.1e, of T %.2g mK", name, worstP, worstT*1e3)
		if worstP > 5e-4 || worstT > 0.05 {
			t.Errorf("%s: p jumps by %g, T by %g K", name, worstP, worstT)
		}
	}
}
