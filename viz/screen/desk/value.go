package desk

import (
	"math"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/viz/scene"
)

// unitFor is the unit that the one who looks has chosen for a dimension; empty
// where there is no choice.
func unitFor(dim unit.Dimension, u scene.Units) string {
	switch dim {
	case unit.Pressure:
		return u.PressureName()
	case unit.PressureDifference:
		return u.DifferenceName()
	case unit.Temperature:
		if u.Fahrenheit {
			return "degF"
		}
		return "degC"
	case unit.MassFlow:
		switch {
		case u.PoundsPerHour:
			return "lb/h"
		case u.KilogramsPerSecond:
			return "kg/s"
		}
		return "kg/h"
	}
	return ""
}

// shown writes a value in the units chosen.
func shown(v float64, dim unit.Dimension, u scene.Units) string {
	if name := unitFor(dim, u); name != "" {
		if s, ok := unit.In(v, dim, name); ok {
			return s
		}
	}
	return unit.Format(v, dim)
}

// unitOf is the unit behind the number that a text begins with.
func unitOf(text string) string {
	i := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.+-eE", r) })
	if i < 0 {
		return ""
	}
	return strings.TrimSpace(text[i:])
}

// value reads what was typed; a bare number is in the unit that the value is
// shown in.
func value(text string, prm plant.Param, u scene.Units) (plant.Value, error) {
	return plant.ParseValue(prm, completed(text, prm.Value.Number, prm.Dim, u))
}

func completed(text string, like float64, dim unit.Dimension, u scene.Units) string {
	text = strings.TrimSpace(text)
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		text += " " + unitOf(shown(like, dim, u))
	}
	return text
}

// seconds reads a time that may stand without its unit.
func seconds(text string) (float64, error) {
	return unit.Parse(completed(text, 1, unit.Time, scene.Units{}), unit.Time)
}

// stepped is the next value up or down from what is typed, in steps of about a
// twentieth of a size that is usual for it, within the range.
func stepped(text string, prm plant.Param, n int, usual float64, u scene.Units) string {
	v, err := value(text, prm, u)
	if err != nil {
		v = prm.Value
	}
	size := math.Max(math.Abs(usual), math.Abs(prm.Value.Number))
	if size == 0 {
		size = math.Abs(v.Number)
	}
	if size == 0 {
		size = example(prm.Dim)
	}
	step := nice(size / 20)
	to := math.Round(v.Number/step+float64(n)) * step
	r := prm.Range
	if !r.Contains(to) {
		to = math.Min(math.Max(to, r.Lo), r.Hi)
	}
	if !r.Contains(to) { // an end that is not itself allowed
		return text
	}
	return shown(to, prm.Dim, u)
}

func example(dim unit.Dimension) float64 {
	v, err := unit.Parse(unit.Example(dim), dim)
	if err != nil || v == 0 {
		return 1
	}
	return math.Abs(v)
}

// nice is 1, 2 or 5 times a power of ten, not below x.
func nice(x float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= x*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}
