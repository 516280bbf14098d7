package if97

import (
	"fmt"
	"testing"
)

// The verification values are those of IAPWS R7-97(2012), in its units: K, MPa,
// m3/kg, kJ/kg, kJ/(kg K), m/s. Trust: seen, and reproduced with an independent
// library. A change in any coefficient that matters shows here.

// row is a line of the release's tables: v, h, u, s, cp, w.
type row [6]string

func (r row) check(t *testing.T, at string, x Point) {
	t.Helper()
	for i, got := range []float64{x.V, x.H / 1e3, x.U / 1e3, x.S / 1e3, x.Cp / 1e3, x.W} {
		printed(t, at+" "+[]string{"v", "h", "u", "s", "cp", "w"}[i], got, r[i])
	}
}

// Tables 5 and 15.
func TestRegions1And2(t *testing.T) {
	for _, x := range []struct {
		region func(p, t float64) Point
		t, p   float64
		row    row
	}{
		{Region1, 300, 3, row{"0.100215168e-2", "115.331273", "112.324818", "0.392294792", "4.17301218", "1507.73921"}},
		{Region1, 300, 80, row{"0.971180894e-3", "184.142828", "106.448356", "0.368563852", "4.01008987", "1634.69054"}},
		{Region1, 500, 3, row{"0.120241800e-2", "975.542239", "971.934985", "2.58041912", "4.65580682", "1240.71337"}},
		{Region2, 300, 0.0035, row{"39.4913866", "2549.91145", "2411.69160", "8.52238967", "1.91300162", "427.920172"}},
		{Region2, 700, 0.0035, row{"92.3015898", "3335.68375", "3012.62819", "10.1749996", "2.08141274", "644.289068"}},
		{Region2, 700, 30, row{"0.542946619e-2", "2631.49474", "2468.61076", "5.17540298", "10.3505092", "480.386523"}},
	} {
		x.row.check(t, fmt.Sprintf("%g K, %g MPa", x.t, x.p), x.region(x.p*1e6, x.t))
	}
}

// Table 33; its first column is p where the others have v.
func TestRegion3(t *testing.T) {
	for _, x := range []struct {
		t, d float64
		p    string
		row  row
	}{
		{650, 500, "25.5837018", row{"0.00200000000", "1863.43019", "1812.26279", "4.05427273", "13.8935717", "502.005554"}},
		{650, 200, "22.2930643", row{"0.00500000000", "2375.12401", "2263.65868", "4.85438792", "44.6579342", "383.444594"}},
		{750, 500, "78.3095639", row{"0.00200000000", "2258.68845", "2102.06932", "4.46971906", "6.34165359", "760.696041"}},
	} {
		at := fmt.Sprintf("%g K, %g kg/m3", x.t, x.d)
		got := Region3(x.d, x.t)
		printed(t, at+" p", got.P/1e6, x.p)
		x.row.check(t, at, got)
	}
}

// Tables 35 and 36.
func TestSaturation(t *testing.T) {
	for at, want := range map[float64]string{300: "0.353658941e-2", 500: "2.63889776", 600: "12.3443146"} {
		printed(t, fmt.Sprintf("p of saturation at %g K", at), SaturationP(at)/1e6, want)
	}
	for at, want := range map[float64]string{0.1: "372.755919", 1: "453.035632", 10: "584.149488"} {
		printed(t, fmt.Sprintf("T of saturation at %g MPa", at), SaturationT(at*1e6), want)
	}
}

// Section 4, below equation 6.
func TestBoundary23(t *testing.T) {
	printed(t, "p at 623.15 K", Boundary23P(623.15)/1e6, "16.5291643")
	printed(t, "T at 16.5291643 MPa", Boundary23T(16.5291643e6), "623.150000")
}

// Dry saturated steam, MPa: v, h, w, the isentropic exponent w²/(p v), cp/cv.
// Computed with an independent library (python3-iapws 1.5, _Region2 and _TSat_P).
func TestDrySaturatedSteam(t *testing.T) {
	for _, x := range []struct {
		p   float64
		row [5]string
	}{
		{0.1, [5]string{"1.6940225", "2674.950", "472.054", "1.31542", "1.33699"}},
		{1, [5]string{"0.19434888", "2777.120", "500.894", "1.29095", "1.40648"}},
		{3, [5]string{"0.066664079", "2803.265", "504.065", "1.27046", "1.55147"}},
		{7, [5]string{"0.027379563", "2772.569", "489.284", "1.24910", "1.90621"}},
		{10, [5]string{"0.018033575", "2725.473", "472.438", "1.23768", "2.29660"}},
		{15, [5]string{"0.010340092", "2610.865", "437.439", "1.23373", "3.62376"}},
	} {
		s := Region2(x.p*1e6, SaturationT(x.p*1e6))
		for i, got := range []float64{s.V, s.H / 1e3, s.W, s.W * s.W / (s.P * s.V), s.Cp / s.Cv} {
			printed(t, fmt.Sprintf("%g MPa %s", x.p, []string{"v", "h", "w", "kappa", "cp/cv"}[i]), got, x.row[i])
		}
	}
}
