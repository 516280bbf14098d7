package scenarios

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// exactly writes a number [SI] with a unit so that reading it gives the very
// same float64: in the unit that people use for a quantity of this size if that
// takes no more digits, and else in SI. A negative zero is written as zero.
func exactly(v float64, dim unit.Dimension) string {
	si := unit.Exact(v, dim)
	_, name, _ := strings.Cut(unit.Format(v, dim), " ")
	if name == "" || name == unit.SI(dim) || dim == unit.Temperature {
		return si
	}
	one, err := unit.Parse("1 "+name, dim)
	if err != nil {
		return si
	}
	digits, _, _ := strings.Cut(si, " ")
	for most := 1; most <= 17; most++ {
		number := strings.Replace(strconv.FormatFloat(v/one, 'g', most, 64), "e+", "e", 1)
		if len(number) > len(digits) {
			break
		}
		if back, err := unit.Parse(number+" "+name, dim); err == nil && back == v {
			return plainly(number) + " " + name
		}
	}
	return si
}

// plainly writes a number of moderate size without an exponent, if it has one:
// the same digits, so the same number.
func plainly(number string) string {
	if !strings.Contains(number, "e") {
		return number
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || !(math.Abs(v) >= 1e-4 && math.Abs(v) < 1e6) {
		return number
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// second writes a time; always in s, so that those below each other compare at
// a glance.
func second(t float64) string { return unit.Exact(t, unit.Time) }

// exactValue writes the value of a parameter as a file holds it.
func exactValue(prm plant.Param, v plant.Value) string {
	if prm.Numeric() {
		return exactly(v.Number, prm.Dim)
	}
	return asWord(v.Word)
}

// notWords are words that YAML takes for something else.
var notWords = []string{"null", "true", "false", "yes", "no", "on", "off", "y", "n"}

// asWord writes a word so that it stays one.
func asWord(word string) string {
	if slices.Contains(notWords, word) || !isWord(word) {
		return inQuotes(word)
	}
	return word
}

// inQuotes writes any text on one line. Of YAML's escapes it needs two.
func inQuotes(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(onOneLine(text)) + `"`
}

// onOneLine makes every space and every sign that cannot be seen a space.
func onOneLine(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool {
		return !strconv.IsPrint(r) || r == ' '
	}), " ")
}
