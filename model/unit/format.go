package unit

import (
	"math"
	"strconv"
	"strings"
)

// digits that Format shows: enough for any gauge and any drawing.
const digits = 6

// Format writes v [SI] with six significant digits in the unit that people
// use for a quantity of this size; Parse reads it back to those digits.
// Pressures are absolute. For an unknown dimension it is the bare number.
func Format(v float64, dim Dimension) string {
	e := find(dim)
	if e == nil {
		return round(v, digits)
	}
	name := e.zero
	if v != 0 {
		name = e.show[0].name
		for _, s := range e.show {
			if math.Abs(v) >= s.from {
				name = s.name
			}
		}
	}
	return join(e.named(name).show(v), name)
}

// In writes v [SI] like Format, but in the unit named, one that Parse accepts
// for dim. It is false when the unit is not one. Where a unit has a zero of
// its own, the digits count from absolute zero.
func In(v float64, dim Dimension, name string) (string, bool) {
	e := find(dim)
	if e == nil {
		return "", false
	}
	s := e.named(tidy(name))
	if s == nil {
		return "", false
	}
	return join(s.show(v), s.name), true
}

// Exact writes v [SI] in the SI unit with the fewest digits that Parse maps
// back to the same float64. A number that is not finite is written as such,
// and Parse refuses it.
func Exact(v float64, dim Dimension) string {
	if v == 0 {
		v = 0 // drops the sign of a negative zero
	}
	return join(plain(v), SI(dim))
}

// show gives the digits of v [SI] in unit s. With a shifted zero the digits
// count from the SI value, so that 0 degC does not show the rounding of
// 273.15 K.
func (s *scale) show(v float64) string {
	f, _ := s.factor.Float64()
	if s.add == nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return round(v/f, digits)
	}
	a, _ := s.add.Float64()
	decimals := digits - 1 - int(math.Floor(math.Log10(max(math.Abs(v), a)/f)))
	x, err := strconv.ParseFloat(strconv.FormatFloat((v-a)/f, 'f', max(decimals, 0), 64), 64)
	if err != nil {
		return round((v-a)/f, digits)
	}
	return plain(x)
}

// round gives n significant digits without trailing zeros.
func round(v float64, n int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil { // rounding up past the largest float64
		r = v
	}
	if r == 0 {
		r = 0
	}
	return plain(r)
}

// plain writes the shortest digits of v, with an exponent only where zeros
// would be counted.
func plain(v float64) string {
	if a := math.Abs(v); a == 0 || (a >= 1e-4 && a < 1e9) || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', -1, 64), "e")
	sign := ""
	if strings.HasPrefix(exponent, "-") {
		sign = "-"
	}
	return mantissa + "e" + sign + strings.TrimLeft(exponent, "+-0")
}

func join(number, name string) string {
	if name == "" {
		return number
	}
	return number + " " + name
}
