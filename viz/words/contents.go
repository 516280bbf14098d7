package words

import (
	"math"
	"strconv"
	"strings"

	"underdisc/model/plant"
)

// trace is a share of the mass that counts as none.
const trace = 5e-4

// Drop is the share of a volume below which water in it is a film, and is neither
// drawn nor told.
const Drop = 1e-5

// Mixture says what a volume of a steam plant holds, by mass, in several
// wordings, longest first: "wet steam: 97 % steam, 3 % water by mass".
func Mixture(c *plant.Contents) []string {
	if c.Air > trace {
		return withAir(c)
	}
	switch {
	case c.Quality >= 1-trace:
		return []string{"steam"}
	case c.Quality <= trace:
		return []string{"water"}
	}
	steam, water := percent(c.Quality)+" steam", percent(1-c.Quality)+" water"
	both := steam + ", " + water
	return []string{"wet steam: " + both + " by mass", both + " by mass", both, steam}
}

// withAir words what an open pipe holds: its quality counts the air, too.
func withAir(c *plant.Contents) []string {
	var shares, names []string
	for _, p := range []struct {
		name  string
		share float64
	}{{"air", c.Air}, {"steam", c.Quality - c.Air}, {"water", 1 - c.Quality}} {
		if p.share > trace {
			names = append(names, p.name)
			shares = append(shares, percent(p.share)+" "+p.name)
		}
	}
	if len(names) == 1 {
		return names
	}
	both := strings.Join(shares, ", ")
	return []string{both + " by mass", both, strings.Join(names, ", ")}
}

// Warm tells whether the temperature of what a pipe holds says something: with
// air in it, it is not that of steam and water alone.
func Warm(c *plant.Contents) bool { return c.Air <= 0.02 }

// percent writes a share: to a tenth near nothing and near all, and never as
// all or nothing.
func percent(x float64) string {
	n := 0
	if x < 0.0995 || x > 0.9005 {
		n = 1
	}
	p := math.Min(math.Max(100*x, 0.1), 99.9)
	return strconv.FormatFloat(p, 'f', n, 64) + " %"
}

// Water writes a volume of water [m3].
func Water(v float64) string {
	ml := 1e6 * v
	switch {
	case ml < 0.095:
		return strconv.FormatFloat(ml, 'f', 2, 64) + " mL"
	case ml < 9.95:
		return strconv.FormatFloat(ml, 'f', 1, 64) + " mL"
	case ml < 999.5:
		return strconv.FormatFloat(ml, 'f', 0, 64) + " mL"
	}
	return strconv.FormatFloat(1e3*v, 'f', 1, 64) + " L"
}

// Degrees writes a temperature [K].
func Degrees(t float64) string { return strconv.FormatFloat(t-273.15, 'f', 1, 64) + " degC" }
