package if97

import (
	"math"
	"testing"
)

var sink float64

func BenchmarkRegion1(b *testing.B) {
	for b.Loop() {
		sink += Region1(4e6, 500).V
	}
}

func BenchmarkRegion2(b *testing.B) {
	for b.Loop() {
		sink += Region2(4e6, 600).V
	}
}

func BenchmarkRegion3(b *testing.B) {
	for b.Loop() {
		sink += Region3(400, 650).V
	}
}

// The analytic derivatives are those of v(p, T), h(p, T) and of the saturation
// line: central differences agree.
func TestDerivatives(t *testing.T) {
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol*math.Abs(want)) {
			t.Errorf("%s: %.10g, by differences %.10g", what, got, want)
		}
	}
	for _, x := range []struct {
		name string
		at   func(p, t float64) Point
		p, t float64
	}{
		{"water", Region1, 4e6, 400}, {"steam", Region2, 4e6, 600}, {"steam near 1080 K", Region2, 1e5, 1080},
	} {
		c := x.at(x.p, x.t)
		dp, dt := x.p*1e-4, 1e-2
		a, b := x.at(x.p-dp, x.t), x.at(x.p+dp, x.t)
		near(x.name+" dv/dp", c.Vp, (b.V-a.V)/(2*dp), 1e-6)
		a, b = x.at(x.p, x.t-dt), x.at(x.p, x.t+dt)
		near(x.name+" dv/dT", c.VT, (b.V-a.V)/(2*dt), 1e-6)
		near(x.name+" cp", c.Cp, (b.H-a.H)/(2*dt), 1e-6)
		near(x.name+" ds/dT", c.Cp/c.T, (b.S-a.S)/(2*dt), 1e-6)
		// cp - cv = -T (dv/dT)^2 / (dv/dp).
		near(x.name+" cv", c.Cv, c.Cp+c.T*c.VT*c.VT/c.Vp, 1e-9)
		near(x.name+" u", c.U, c.H-c.P*c.V, 1e-9)
		near(x.name+" w", c.W*c.W, -c.V*c.V*c.Cp/(c.Cv*c.Vp), 1e-9)
	}
	a, b, c := Region3(400.01, 650), Region3(399.99, 650), Region3(400, 650)
	near("region 3 dv/dp", c.Vp, (b.V-a.V)/(b.P-a.P), 1e-6)
	a, b = Region3(400, 649.99), Region3(400, 650.01)
	near("region 3 dv/dT", c.VT, -c.Vp*(b.P-a.P)/0.02, 1e-6)
	near("region 3 cv", c.Cv, (b.U-a.U)/0.02, 1e-6)
	for _, at := range []float64{280, 400, 623, 640} {
		near("slope of saturation", SaturationSlope(at), (SaturationP(at+0.01)-SaturationP(at-0.01))/0.02, 1e-6)
		near("T of saturation", SaturationT(SaturationP(at)), at, 1e-9)
	}
}
