package scene

import (
	"math"
	"strconv"
)

// factor is the size of a pressure unit, Pa, and decimals the places that a
// pressure is shown with: fixed, so that a number that changes keeps its width.
func (u Units) factor() (size float64, decimals int) {
	switch u.Pressure {
	case PSI:
		return 6894.757293168, 1
	case KPa:
		return 1e3, 0
	}
	return 1e5, 2
}

// shown is an absolute pressure, Pa, as the number that stands for it.
func (u Units) shown(p float64) float64 {
	size, _ := u.factor()
	if u.Gauge {
		p -= u.Ambient
	}
	return p / size
}

// absolute is the reverse of shown.
func (u Units) absolute(x float64) float64 {
	size, _ := u.factor()
	x *= size
	if u.Gauge {
		x += u.Ambient
	}
	return x
}

// PressureOf writes an absolute pressure, Pa, without its unit.
func (u Units) PressureOf(p float64) string {
	_, n := u.factor()
	return places(u.shown(p), n)
}

// PressureName is the unit of PressureOf, gauge or absolute said.
func (u Units) PressureName() string {
	name := [...]string{"bar", "psi", "kPa"}[u.Pressure]
	switch {
	case u.Pressure == PSI && u.Gauge:
		return "psig"
	case u.Pressure == PSI:
		return "psia"
	case u.Gauge:
		return name + " gauge"
	}
	return name + " abs"
}

// Difference writes a difference of two pressures, Pa, without its unit.
func (u Units) Difference(dp float64) string {
	size, n := u.factor()
	return places(dp/size, n)
}

// DifferenceName is the unit of Difference.
func (u Units) DifferenceName() string { return [...]string{"bar", "psi", "kPa"}[u.Pressure] }

// Flow writes a mass flow, kg/s, with its unit, to three figures.
func (u Units) Flow(w float64) string {
	x, n, unit := u.flowIn(w)
	return places(x, n) + unit
}

// flowIn is a mass flow in its unit, and the places that give it three figures;
// a small one in kg/s is told in g/s.
func (u Units) flowIn(w float64) (x float64, decimals int, unit string) {
	switch {
	case u.PoundsPerHour:
		x, unit = w*3600/0.45359237, " lb/h"
	case !u.KilogramsPerSecond:
		x, unit = w*3600, " kg/h"
	case math.Abs(w) < 0.09995:
		x, unit = 1e3*w, " g/s"
	default:
		x, unit = w, " kg/s"
	}
	x, decimals = figures(x, 3)
	return x, decimals, unit
}

// figures is a number to so many figures, and the places to write it with: no
// more than three.
func figures(x float64, n int) (rounded float64, decimals int) {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x, n - 1
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-float64(n-1))
	if math.Round(math.Abs(x)/step) >= math.Pow(10, float64(n)) { // 9.996 is 10.0
		step *= 10
	}
	decimals = min(max(-int(math.Round(math.Log10(step))), 0), 3)
	if step < 1 {
		return x, decimals
	}
	return math.Round(x/step) * step, decimals
}

// Temperature writes a temperature, K, with its unit.
func (u Units) Temperature(t float64) string {
	if u.Fahrenheit {
		return places(t*1.8-459.67, 0) + " degF"
	}
	return places(t-273.15, 0) + " degC"
}

// Force writes a force, N.
func Force(f float64) string {
	x, n, unit := forceIn(f)
	return places(x, n) + unit
}

func forceIn(f float64) (x float64, decimals int, unit string) {
	if math.Abs(f) >= 99.5 {
		return f / 1e3, 2, " kN"
	}
	return f, 0, " N"
}

// Current writes a current, A, without its unit.
func Current(i float64) string {
	if math.IsInf(i, 1) {
		return "none" // no current does
	}
	return places(i, currentPlaces)
}

const currentPlaces = 2

// Millimetres writes a length, m.
func Millimetres(x float64) string { return places(1e3*x, 1) + " mm" }

// Span writes a stretch of time, s, in the unit that suits it.
func Span(dt float64) string {
	x, n, unit := spanIn(dt)
	return places(x, n) + unit
}

func spanIn(dt float64) (x float64, decimals int, unit string) {
	switch a := math.Abs(dt); {
	case a < 0.09995:
		return 1e3 * dt, 1, " ms"
	case a < 0.9995:
		return 1e3 * dt, 0, " ms"
	case a < 9.995:
		return dt, 2, " s"
	}
	return dt, 1, " s"
}

// places writes a number with n places; one that rounds to zero has no sign.
func places(x float64, n int) string {
	return strconv.FormatFloat(unsigned(x, n), 'f', n, 64)
}
