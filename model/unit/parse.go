package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Parse reads a quantity of dimension dim and returns it in SI: pressures
// absolute in Pa, temperatures in K. The result is finite and is the float64
// nearest to the exact value of the text.
//
// The error is an *Error. It tells a missing unit from an unknown one, from
// one of another dimension, from a pressure that does not say gauge or
// absolute, and from something that is no decimal number. Pressures below a
// vacuum and temperatures below absolute zero are refused.
func Parse(text string, dim Dimension) (float64, error) {
	e := find(dim)
	if e == nil {
		return 0, &Error{Found: "dimension " + quote(string(dim)) + " is not known", Want: "one of " + dimensionNames()}
	}
	number, rest := split(strings.TrimSpace(text))
	if number == "" || len(text) > longest {
		return 0, &Error{Found: quote(text) + " is not a decimal number with its unit", Want: e.want()}
	}
	name := tidy(rest)
	s := e.named(name)
	if s == nil {
		return 0, e.reject(text, name)
	}
	v, ok := s.convert(number)
	if !ok {
		return 0, &Error{Found: quote(text) + " is too large", Want: e.brief()}
	}
	if v < 0 && (dim == Pressure || dim == Temperature) {
		floor := "0 Pa abs or more"
		if dim == Temperature {
			floor = "0 K or more"
		}
		return 0, &Error{Found: quote(text) + " lies below absolute zero", Want: floor}
	}
	return v, nil
}

// split cuts a decimal number off the front: sign, digits with at most one
// point, exponent. number is "" when there is none.
func split(text string) (number, rest string) {
	i := 0
	if i < len(text) && (text[i] == '+' || text[i] == '-') {
		i++
	}
	digits := 0
	point := false
	for ; i < len(text); i++ {
		c := text[i]
		if c == '.' && !point {
			point = true
		} else if isDigit(c) {
			digits++
		} else {
			break
		}
	}
	if digits == 0 {
		return "", text
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		j := i + 1
		if j < len(text) && (text[j] == '+' || text[j] == '-') {
			j++
		}
		k := j
		for k < len(text) && isDigit(text[k]) {
			k++
		}
		if k > j {
			i = k
		}
	}
	return text[:i], strings.TrimSpace(text[i:])
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

var spelling = strings.NewReplacer(
	"²", "2", "³", "3", "^", "",
	"µ", "u", "μ", "u", // micro sign, Greek mu
	"Ω", "ohm", "Ω", "ohm", // ohm sign, Greek omega
	"°", "deg",
	"·", " ", "⋅", " ", "*", " ",
)

var tighten = strings.NewReplacer(" /", "/", "/ ", "/", " (", "(", "( ", "(", " )", ")", "deg C", "degC", "deg F", "degF")

// tidy brings the spellings of a unit to the one of the table.
func tidy(name string) string {
	name = strings.Join(strings.Fields(spelling.Replace(name)), " ")
	return strings.TrimSpace(tighten.Replace(tighten.Replace(name)))
}

func (e *entry) named(name string) *scale {
	for i := range e.units {
		s := &e.units[i]
		if s.name == name {
			return s
		}
		for _, a := range s.also {
			if a == name {
				return s
			}
		}
	}
	return nil
}

// convert works in exact rationals and rounds once. It is false on overflow.
func (s *scale) convert(number string) (float64, bool) {
	rough, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0, false
	}
	x := new(big.Rat)
	if rough != 0 { // also keeps 1e-999999999 from being written out in full
		if _, ok := x.SetString(number); !ok {
			return 0, false
		}
	}
	x.Mul(x, s.factor)
	if s.add != nil {
		x.Add(x, s.add)
	}
	v, _ := x.Float64()
	return v, !math.IsInf(v, 0)
}

// reject finds the reason why name is no unit of e.
func (e *entry) reject(text, name string) error {
	switch {
	case strings.IndexAny(name, "0123456789.,_+-xX") == 0:
		return &Error{Found: quote(text) + " has a number in a form that is not read",
			Want: "a decimal number such as 1250.5 or 1.2505e3, then the unit: " + e.want()}
	case name == "":
		return &Error{Found: quote(text) + " has no unit", Want: e.want()}
	case e.dim == Pressure && find(PressureDifference).named(name) != nil:
		return &Error{Found: quote(text) + " does not say gauge or absolute",
			Want: "for instance " + e.example + " or 11.0 bar g (gauge counts from 1.01325 bar)"}
	case e.dim == PressureDifference && find(Pressure).named(name) != nil:
		return &Error{Found: quote(text) + " says gauge or absolute, which a difference is not", Want: e.want()}
	}
	for i := range book {
		if book[i].named(name) != nil {
			return &Error{Found: quote(text) + " is " + book[i].noun, Want: e.brief()}
		}
	}
	want := e.want()
	for i := range e.units {
		if strings.EqualFold(e.units[i].name, name) {
			want += "; capitals matter: " + e.units[i].name
			break
		}
	}
	return &Error{Found: quote(text) + " has an unknown unit", Want: want}
}

func dimensionNames() string {
	names := make([]string, len(book))
	for i := range book {
		names[i] = string(book[i].dim)
	}
	return strings.Join(names, ", ")
}
