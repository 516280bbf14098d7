package water

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"sort"
	"testing"

	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// worst keeps the largest deviations and where they were met.
type worst struct {
	most  map[string]float64
	where map[string]string
	count map[string]int
}

func newWorst() *worst {
	return &worst{map[string]float64{}, map[string]string{}, map[string]int{}}
}

func (w *worst) see(what string, d, p, t, v float64) {
	w.count[what]++
	if d = math.Abs(d); !(d <= w.most[what]) {
		w.most[what] = d
		w.where[what] = fmt.Sprintf("%.6g bar, %.6g K, %.5g m3/kg", p/1e5, t, v)
	}
}

// hold fails what is over its limit, or was never looked at.
func (w *worst) hold(t *testing.T, limits map[string]float64) {
	t.Helper()
	var names []string
	for what := range limits {
		names = append(names, what)
	}
	sort.Strings(names)
	for _, what := range names {
		t.Logf("%-32s %8.2g  (limit %.2g) at %s, of %d", what, w.most[what], limits[what], w.where[what], w.count[what])
		if w.count[what] == 0 || !(w.most[what] <= limits[what]) {
			t.Errorf("%s: %.3g at %s, limit %.3g", what, w.most[what], w.where[what], limits[what])
		}
	}
}

// points is how many random points a test takes: a tenth, unless the long tests
// are asked for.
func points(long int) int {
	if os.Getenv("UNDERDISC_LONG") != "" {
		return long
	}
	return long / 10
}

// TestAccuracy compares the tables with IF97's own equations at random points of
// the whole range, half of them within 1 % of the pressure of saturation. The
// points are made from p and T, so IF97 needs no iteration here. The limits are
// those of the project; what is reached is logged.
func TestAccuracy(t *testing.T) {
	w := Shared()
	r := rand.New(rand.NewSource(1))
	dev := newWorst()
	var s fluid.State
	for n := range points(1_000_000) {
		near := n%2 == 0
		switch n / 2 % 3 {
		case 0:
			steam(w, r, near, dev, &s)
		case 1:
			water(w, r, near, dev, &s)
		case 2:
			mixture(w, r, near, dev, &s)
		}
	}
	dev.hold(t, map[string]float64{
		"steam T, K":                   1e-3,
		"steam p, relative":            5e-6,
		"steam s, kJ/(kg K)":           5e-6,
		"steam w, relative":            1e-5,
		"steam dT/du, relative":        1e-4,
		"steam dp/du, relative":        1e-4,
		"steam dp/dv, relative":        3e-5,
		"water v at p and u, relative": 1e-6,
		"water T, K":                   1e-4,
		"water s, kJ/(kg K)":           5e-6,
		"water w, relative":            1e-5,
		"wet T, K":                     1e-4,
		"wet p, relative":              1e-6,
		"wet quality":                  1e-6,
		"wet s, kJ/(kg K)":             5e-6,
		"wet w, relative":              1e-5,
	})
}

// logBetween is random, evenly in the logarithm.
func logBetween(r *rand.Rand, a, b float64) float64 {
	return a * math.Exp(r.Float64()*math.Log(b/a))
}

func steam(w *Water, r *rand.Rand, near bool, dev *worst, s *fluid.State) {
	var x if97.Point
	if near {
		t := coldT + (622.5-coldT)*r.Float64()
		x = if97.Region2(if97.SaturationP(t)*(1-0.01*r.Float64()), t)
	} else {
		p := logBetween(r, 700, 22e6)
		low := if97.T13
		if p < wetTop {
			low = if97.SaturationT(p)
		}
		x = if97.Region2(p, low+(steamHot-low)*r.Float64())
	}
	if x.V < narrowest || x.V > vapourMax {
		return
	}
	// Where IF97 and the table take a point for different sides of the line, the
	// sides agree, and it counts all the same.
	w.At(x.V, x.U, s)
	see := func(what string, d float64) { dev.see("steam "+what, d, x.P, x.T, x.V) }
	see("T, K", s.T-x.T)
	see("p, relative", s.P/x.P-1)
	e, c := w.Rest(x.V, x.U)
	see("s, kJ/(kg K)", (e-x.S)/1e3)
	if s.X < 1 {
		return // slopes and sound have a kink there
	}
	see("w, relative", c/x.W-1)
	see("dT/du, relative", s.Tu*x.Cv-1)
	// dp/dT at constant v is -VT/Vp; dp/dv at constant u follows from
	// w^2 = v^2 (p p_u - p_v).
	pu := -x.VT / x.Vp / x.Cv
	see("dp/du, relative", s.Pu/pu-1)
	see("dp/dv, relative", s.Pv/(x.P*pu-x.W*x.W/(x.V*x.V))-1)
}

func water(w *Water, r *rand.Rand, near bool, dev *worst, s *fluid.State) {
	t := coldT + (622.5-coldT)*r.Float64()
	p := if97.SaturationP(t)
	if near {
		p *= 1 + 0.01*r.Float64()
	} else {
		p += (liquidTop - p) * r.Float64()
	}
	x := if97.Region1(p, t)
	w.At(x.V, x.U, s)
	see := func(what string, d float64) { dev.see("water "+what, d, x.P, x.T, x.V) }
	see("T, K", s.T-x.T)
	e, c := w.Rest(x.V, x.U)
	see("s, kJ/(kg K)", (e-x.S)/1e3)
	if s.X > 0 {
		// On the line but for rounding.
		see("v at p and u, relative", s.X*(if97.Region2(p, t).V/x.V-1))
		return
	}
	see("v at p and u, relative", (s.P-x.P)/s.Pv/x.V)
	see("w, relative", c/x.W-1)
}

func mixture(w *Water, r *rand.Rand, near bool, dev *worst, s *fluid.State) {
	t := coldT + (622.5-coldT)*r.Float64()
	p := if97.SaturationP(t)
	l, g := saturatedWater(t), saturatedSteam(t)
	q := r.Float64()
	if near {
		q = math.Pow(10, -8*q)
		if r.Intn(2) == 0 {
			q = 1 - q
		}
	}
	v, u := l.V+q*(g.V-l.V), l.U+q*(g.U-l.U)
	w.At(v, u, s)
	see := func(what string, d float64) { dev.see("wet "+what, d, p, t, v) }
	see("T, K", s.T-t)
	see("quality", s.X-q)
	e, c := w.Rest(v, u)
	see("s, kJ/(kg K)", (e-l.S-q*(g.S-l.S))/1e3)
	if s.X == 0 || s.X == 1 {
		return
	}
	see("p, relative", s.P/p-1)
	// Equilibrium sound by differences of IF97 along its line.
	const h = 0.05
	psi := func(t float64) (psi, phi float64) {
		l, g := saturatedWater(t), saturatedSteam(t)
		phi = (g.U - l.U) / (g.V - l.V)
		return l.U - l.V*phi, phi
	}
	slope := func(f func(float64) float64) float64 {
		return (8*(f(t+h)-f(t-h)) - f(t+2*h) + f(t-2*h)) / (12 * h)
	}
	_, phi := psi(t)
	ut := slope(func(t float64) float64 { a, b := psi(t); return a + v*b })
	pt := slope(if97.SaturationP)
	see("w, relative", c/(v*math.Sqrt(pt/ut*(p+phi)))-1)
}

// TestLine holds both sides of the saturation line against each other and
// against IF97's pressure of saturation.
func TestLine(t *testing.T) {
	w := Shared()
	dev := newWorst()
	var a, b fluid.State
	var sat Saturation
	for n := range points(100_000) {
		T := coldT + (622.5-coldT)*math.Mod(float64(n)*0.6180339887, 1)
		p := if97.SaturationP(T)
		g, l := saturatedSteam(T), saturatedWater(T)
		see := func(what string, d float64) { dev.see(what, d, p, T, g.V) }

		i, y, yv := w.vapour.line(g.V)
		us := w.vapour.saturated(g.V)
		w.vapour.at(g.V, 0, i, y, yv, &a)
		w.wet.at(g.V, us, &b)
		see("jump of p to steam, relative", a.P/b.P-1)
		see("jump of T to steam, K", a.T-b.T)
		see("steam's p on the line, relative", a.P/p-1)
		see("line of steam, u in J/kg", us-g.U)

		c, x := w.liquid.line(l.U)
		v, _ := c.v.at(x)
		w.liquid.at(v, l.U, &a)
		w.wet.at(v, l.U, &b)
		see("jump of p to water, relative", a.P/b.P-1)
		see("jump of T to water, K", a.T-b.T)
		see("water's p on the line, relative", a.P/p-1)
		see("line of water, v relative", v/l.V-1)

		w.Saturated(T, &sat)
		for _, c := range [][2]float64{{sat.P, p}, {sat.Vl, l.V}, {sat.Vg, g.V}, {sat.Hg, g.H}, {sat.Sg, g.S}} {
			see("Saturated, relative", c[0]/c[1]-1)
		}
		see("Saturated h', J/kg", sat.Hl-l.H)
		see("Saturated s', J/(kg K)", sat.Sl-l.S)
		ts, slope := w.SaturatedT(p)
		see("SaturatedT, K", ts-T)
		see("its slope, relative", slope*sat.PT-1)
	}
	dev.hold(t, map[string]float64{
		"jump of p to steam, relative":    1e-7,
		"jump of T to steam, K":           1e-5,
		"steam's p on the line, relative": 1e-7,
		"line of steam, u in J/kg":        3e-2,
		"jump of p to water, relative":    1e-7,
		"jump of T to water, K":           1e-6,
		"water's p on the line, relative": 1e-8,
		"line of water, v relative":       1e-9,
		"Saturated, relative":             5e-7,
		"Saturated h', J/kg":              1e-2,
		"Saturated s', J/(kg K)":          1e-4,
		"SaturatedT, K":                   3e-6,
		"its slope, relative":             5e-6,
	})
}
