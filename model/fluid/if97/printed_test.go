package if97

import (
	"strconv"
	"strings"
	"testing"
)

// printed fails unless got, rounded to as many significant digits as want has,
// is want: as a table prints it, "0.100215168e-2".
func printed(t *testing.T, what string, got float64, want string) {
	t.Helper()
	if !sameDigits(got, want) {
		t.Errorf("%s: got %.10g, printed %s", what, got, want)
	}
}

func sameDigits(got float64, want string) bool {
	mantissa, _, _ := strings.Cut(want, "e")
	digits := strings.TrimLeft(strings.ReplaceAll(mantissa, ".", ""), "-0")
	x, err := strconv.ParseFloat(want, 64)
	if err != nil {
		panic(err)
	}
	n := len(digits) - 1
	return strconv.FormatFloat(got, 'e', n, 64) == strconv.FormatFloat(x, 'e', n, 64)
}

func TestSameDigits(t *testing.T) {
	for _, x := range []struct {
		got  float64
		want string
		same bool
	}{
		{0.00100215168, "0.100215168e-2", true},
		{0.0010021516849, "0.100215168e-2", true},
		{0.0010021516851, "0.100215168e-2", false},
		{302.5, "302.500", true},
		{302.51, "302.500", false},
		{302.51, "302.5", true},
		{-0.05, "-0.050", true},
	} {
		if sameDigits(x.got, x.want) != x.same {
			t.Errorf("%v as %s: want same %v", x.got, x.want, x.same)
		}
	}
}
