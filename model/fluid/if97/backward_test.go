package if97

import (
	"fmt"
	"math"
	"testing"
)

// Tables 7, 9, 24 and 29 of IAPWS R7-97(2012): MPa, kJ/kg or kJ/(kg K), K.
// Trust: seen, and reproduced with an independent library.
func TestBackward(t *testing.T) {
	for _, x := range []struct {
		table string
		of    func(p, y float64) float64
		p, y  float64
		want  string
	}{
		{"7", Region1TPH, 3, 500, "391.798509"},
		{"7", Region1TPH, 80, 500, "378.108626"},
		{"7", Region1TPH, 80, 1500, "611.041229"},
		{"9", Region1TPS, 3, 0.5, "307.842258"},
		{"9", Region1TPS, 80, 0.5, "309.979785"},
		{"9", Region1TPS, 80, 3, "565.899909"},
		{"24, 2a", Region2TPH, 0.001, 3000, "534.433241"},
		{"24, 2a", Region2TPH, 3, 3000, "575.373370"},
		{"24, 2a", Region2TPH, 3, 4000, "1010.77577"},
		{"24, 2b", Region2TPH, 5, 3500, "801.299102"},
		{"24, 2b", Region2TPH, 5, 4000, "1015.31583"},
		{"24, 2b", Region2TPH, 25, 3500, "875.279054"},
		{"24, 2c", Region2TPH, 40, 2700, "743.056411"},
		{"24, 2c", Region2TPH, 60, 2700, "791.137067"},
		{"24, 2c", Region2TPH, 60, 3200, "882.756860"},
		{"29, 2a", Region2TPS, 0.1, 7.5, "399.517097"},
		{"29, 2a", Region2TPS, 0.1, 8, "514.127081"},
		{"29, 2a", Region2TPS, 2.5, 8, "1039.84917"},
		{"29, 2b", Region2TPS, 8, 6, "600.484040"},
		{"29, 2b", Region2TPS, 8, 7.5, "1064.95556"},
		{"29, 2b", Region2TPS, 90, 6, "1038.01126"},
		{"29, 2c", Region2TPS, 20, 5.75, "697.992849"},
		{"29, 2c", Region2TPS, 80, 5.25, "854.011484"},
		{"29, 2c", Region2TPS, 80, 5.75, "949.017998"},
	} {
		printed(t, fmt.Sprintf("table %s, T(%g, %g)", x.table, x.p, x.y), x.of(x.p*1e6, x.y*1e3), x.want)
	}
}

// Section 6.3: p = 100 MPa where h = 3516.004323 kJ/kg. Trust: memory, and
// computed with an independent library (python3-iapws 1.5, _hbc_P).
func TestBoundary2bc(t *testing.T) {
	printed(t, "p at 3516.004323 kJ/kg", Boundary2bcP(3516.004323e3)/1e6, "100.000000")
}

// The backward equations give back the temperature within the release's
// tolerance: 25 mK in region 1, 10 mK in 2a and 2b, 25 mK in 2c (sections 5.2
// and 6.3; trust: memory, and in agreement with what is found).
func TestBackwardAgreesWithForward(t *testing.T) {
	limits := []float64{0.025, 0.010, 0.025}
	worst := make([]float64, 3)
	see := func(i int, t, a, b float64) {
		worst[i] = max(worst[i], math.Abs(a-t), math.Abs(b-t))
	}
	for i := range 60 {
		p := 1e3 * math.Pow(1e5, float64(i)/59) // 1 kPa to 100 MPa
		for j := range 80 {
			t := MinT + (MaxT-MinT)*float64(j)/79
			switch {
			case t <= T13 && p >= SaturationP(t):
				x := Region1(p, t)
				see(0, t, Region1TPH(p, x.H), Region1TPS(p, x.S))
			case t <= T13 || p <= Boundary23P(t):
				x := Region2(p, t)
				n := 1
				if p > 4e6 && x.S < 5850 {
					n = 2
				}
				see(n, t, Region2TPH(p, x.H), Region2TPS(p, x.S))
			}
		}
	}
	t.Logf("worst, K: region 1, 2a and 2b, 2c: %.4f", worst)
	for i, limit := range limits {
		if worst[i] == 0 || worst[i] > limit {
			t.Errorf("%s: %g K, the release allows %g", []string{"1", "2a and 2b", "2c"}[i], worst[i], limit)
		}
	}
}
