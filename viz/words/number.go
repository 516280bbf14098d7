package words

import (
	"fmt"
	"math"
	"strconv"

	"underdisc/model/unit"
)

// Bar writes an absolute pressure [Pa] in bar, without the unit.
func Bar(p float64) string { return strconv.FormatFloat(p/1e5, 'f', 2, 64) }

// Pressure writes an absolute pressure [Pa], both ways: "12.03 bar abs (11.02
// bar gauge)".
func Pressure(p float64) string {
	return fmt.Sprintf("%s bar abs (%s bar gauge)", Bar(p), Bar(p-unit.StandardAtmosphere))
}

// Difference writes a pressure difference [Pa]; small ones in mbar.
func Difference(dp float64) string {
	if math.Abs(dp) < 0.05e5 {
		return strconv.FormatFloat(dp/100, 'f', 0, 64) + " mbar"
	}
	return Bar(dp) + " bar"
}

// Force writes a force [N] in N or kN.
func Force(f float64) string {
	if math.Abs(f) >= 1000 {
		return strconv.FormatFloat(f/1000, 'f', 2, 64) + " kN"
	}
	return strconv.FormatFloat(f, 'f', 0, 64) + " N"
}

// Gap writes a stretch of time [s] to three or four figures in the unit that
// suits it.
func Gap(dt float64) string {
	switch a := math.Abs(dt); {
	case a < 1e-3:
		return strconv.FormatFloat(dt*1e6, 'f', 0, 64) + " us"
	case a < 0.9995:
		return strconv.FormatFloat(dt*1e3, 'f', 1, 64) + " ms"
	case a < 100:
		return strconv.FormatFloat(dt, 'f', 3, 64) + " s"
	}
	return strconv.FormatFloat(dt, 'f', 1, 64) + " s"
}

// Gaps writes a range of stretches of time; one if both ends read alike.
func Gaps(least, most float64) string {
	a, b := Gap(least), Gap(most)
	if a == b {
		return a
	}
	return a + " to " + b
}

// Clock writes a moment of the run [s] to the microsecond.
func Clock(t float64) string { return strconv.FormatFloat(t, 'f', 6, 64) + " s" }

// Times writes how often: "once", "11 times".
func Times(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
}

// Count writes a number of things: "1 bounce", "3 bounces".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// Current writes a current [A].
func Current(i float64) string {
	if math.IsInf(i, 1) {
		return "more current than any"
	}
	return strconv.FormatFloat(i, 'f', 2, 64) + " A"
}

// Voltage writes a voltage [V].
func Voltage(u float64) string { return strconv.FormatFloat(u, 'g', 4, 64) + " V" }

// Flow writes a mass flow [kg/s]; small ones in g/s.
func Flow(w float64) string {
	if math.Abs(w) < 0.1 {
		return strconv.FormatFloat(w*1e3, 'f', 2, 64) + " g/s"
	}
	return strconv.FormatFloat(w, 'f', 2, 64) + " kg/s"
}
