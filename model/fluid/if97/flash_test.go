package if97

import (
	"math"
	"math/rand"
	"strings"
	"testing"
)

// somewhere is a random state of regions 1 to 4, a half of them within 1 % of
// the saturation pressure or of the range's edge.
func somewhere(r *rand.Rand) Mix {
	t := MinT + (MaxT-MinT)*r.Float64()
	if r.Intn(3) == 0 {
		t = MinT + (CriticalT-0.01-MinT)*r.Float64()
		l, g := Saturated(t)
		m, _ := wet(&l, &g, math.NaN(), r.Float64())
		return m
	}
	p := 100 * math.Pow(MaxP/100, r.Float64())
	if r.Intn(2) == 0 {
		p = MaxP * (0.99 + 0.01*r.Float64())
		if t < CriticalT {
			p = SaturationP(t) * (0.99 + 0.02*r.Float64())
		}
	}
	x, err := PT(p, t)
	if err != nil {
		panic(err)
	}
	m := x.mix()
	m.X = 1
	if t < CriticalT && p >= SaturationP(t) {
		m.X = 0
	}
	return m
}

// deviation of m from want: the largest of those of p, T, v, h and s, as a share,
// where of the water's p it is the v that it is worth.
func deviation(m, want Mix) float64 {
	share := func(a, b float64) float64 { return math.Abs(a-b) / math.Abs(b) }
	p := share(m.P, want.P)
	if want.X == 0 {
		p = math.Abs((m.P-want.P)/want.Pv) / want.V
	}
	return max(p, share(m.T, want.T), share(m.V, want.V),
		math.Abs(m.H-want.H)/4e5, math.Abs(m.S-want.S)/1e3, math.Abs(m.X-want.X))
}

// Whatever pair of properties a state is asked for by, it is the same.
func TestRoundTrips(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	kinds := []string{"PH", "PS", "VU", "VUFrom"}
	// By the critical point, where small changes of p and T are large ones of v,
	// the last digits are worth more.
	limits := []float64{1e-10, 1e-7}
	names := []string{"", ", within 1 K of the critical point"}
	var worst [2][4]float64
	var where [2][4]Mix
	for range 20000 {
		want := somewhere(r)
		near := want
		near.P *= 1.003
		near.T += 0.1
		var got [4]Mix
		var err [4]error
		got[0], err[0] = PH(want.P, want.H)
		got[1], err[1] = PS(want.P, want.S)
		got[2], err[2] = VU(want.V, want.U)
		got[3], err[3] = VUFrom(want.V, want.U, near)
		c := 0
		if math.Abs(want.T-CriticalT) < 1 {
			c = 1
		}
		for i := range got {
			if err[i] != nil {
				t.Fatalf("%s: %v\nof %+v", kinds[i], err[i], want)
			}
			if d := deviation(got[i], want); !(d <= worst[c][i]) {
				worst[c][i], where[c][i] = d, want
			}
		}
	}
	for c, limit := range limits {
		for i, kind := range kinds {
			x := where[c][i]
			t.Logf("%-6s %.2g at %.8g Pa, %.8g K, X %.4g%s", kind, worst[c][i], x.P, x.T, x.X, names[c])
			if !(worst[c][i] > 0 && worst[c][i] <= limit) {
				t.Errorf("%s is off by %g at %+v%s", kind, worst[c][i], x, names[c])
			}
		}
	}
}

// The slopes are those of VU itself, and the sound of a mixture is that of small
// isentropic changes.
func TestMixSlopes(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	looked := 0
	for range 3000 {
		m := somewhere(r)
		e := 1e-5
		if m.X == 0 {
			e = 1e-6
		}
		var n [4]Mix
		ok := true
		for i, d := range [][2]float64{{-e * m.V, 0}, {e * m.V, 0}, {0, -1e5 * e}, {0, 1e5 * e}} {
			var err error
			n[i], err = VUFrom(m.V+d[0], m.U+d[1], m)
			same := (n[i].X > 0 && n[i].X < 1) == (m.X > 0 && m.X < 1)
			edge := math.Abs(m.T-T13) < 1 || math.Abs(m.T-MinT) < 1 || m.T > T13 && m.P > 0.9*Boundary23P(m.T)
			ok = ok && err == nil && same && !edge
		}
		if !ok {
			continue
		}
		looked++
		for _, x := range [][4]float64{ // the last is how well it is known
			{m.Pv, n[1].P - n[0].P, 2 * e * m.V, 1e-5}, {m.Tv, n[1].T - n[0].T, 2 * e * m.V, 1e-11},
			{m.Pu, n[3].P - n[2].P, 2e5 * e, 1e-5}, {m.Tu, n[3].T - n[2].T, 2e5 * e, 1e-11},
		} {
			rough := x[3]/x[2] + 1e-4*math.Abs(x[0])
			if got := x[1] / x[2]; math.Abs(got-x[0]) > rough {
				t.Fatalf("slope %g, by differences %g, at %+v", x[0], got, m)
			}
		}
		c := m.V * math.Sqrt(m.P*m.Pu-m.Pv)
		if math.Abs(c-m.W) > 1e-8*m.W {
			t.Fatalf("speed of sound %g, from the slopes %g, at %+v", m.W, c, m)
		}
	}
	t.Logf("%d states", looked)
	if looked < 1000 {
		t.Errorf("only %d states looked at", looked)
	}
}

func TestRefusals(t *testing.T) {
	for name, x := range map[string]struct {
		ask  func() error
		want string
	}{
		"PT region 5":   {func() error { _, err := PT(1e6, 1100); return err }, "region 5"},
		"PT cold":       {func() error { _, err := PT(1e6, 200); return err }, "from 273.15"},
		"PT pressure":   {func() error { _, err := PT(2e8, 400); return err }, "up to 1e+08 Pa"},
		"PT NaN":        {func() error { _, err := PT(math.NaN(), 400); return err }, "pressure NaN"},
		"PH hot":        {func() error { _, err := PH(1e5, 6e6); return err }, "lies outside"},
		"PH cold":       {func() error { _, err := PH(1e5, -1e5); return err }, "lies outside"},
		"PH thin cold":  {func() error { _, err := PH(100, 1e6); return err }, "lies outside"},
		"PS hot":        {func() error { _, err := PS(1e5, 1e5); return err }, "lies outside"},
		"PS pressure":   {func() error { _, err := PS(0, 5e3); return err }, "pressure 0 Pa"},
		"PH NaN":        {func() error { _, err := PH(1e5, math.NaN()); return err }, "enthalpy NaN"},
		"PH 30 MPa NaN": {func() error { _, err := PH(3e7, math.NaN()); return err }, "enthalpy NaN"},
		"VU hot":        {func() error { _, err := VU(0.1, 5e6); return err }, "no water or steam"},
		"VU cold":       {func() error { _, err := VU(0.001, -1e5); return err }, "no water or steam"},
		"VU dense":      {func() error { _, err := VU(0.0005, 1e5); return err }, "no water or steam"},
		"VU negative":   {func() error { _, err := VU(-1, 1e5); return err }, "positive volume"},
	} {
		err := x.ask()
		if err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, x.want)
		} else {
			t.Log(err)
		}
	}
}
