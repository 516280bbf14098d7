package words

import (
	"math"
	"slices"
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

// Shares are the shares of air, steam and water in the mass of what a volume
// holds. Their sum is 1: where the balances took air for water, it is air.
func Shares(c *plant.Contents) (air, steam, water float64) {
	air = math.Min(math.Max(c.Air, 0), 1)
	gas := math.Max(air, c.Quality)
	return air, gas - air, 1 - gas
}

// withAir words what an open pipe holds, with shares that sum to 100 % as they are
// written.
func withAir(c *plant.Contents) []string {
	air, steam, water := Shares(c)
	var names []string
	var parts []float64
	for i, share := range []float64{air, steam, water} {
		if share > trace {
			names = append(names, [...]string{"air", "steam", "water"}[i])
			parts = append(parts, share)
		}
	}
	if len(names) == 1 {
		return names
	}
	var shares []string
	for i, share := range percents(parts) {
		shares = append(shares, share+" "+names[i])
	}
	both := strings.Join(shares, ", ")
	return []string{both + " by mass", both, strings.Join(names, ", ")}
}

// percents writes shares that make up all, in whole percents, or in tenths where
// one is small. The largest takes what rounding leaves over.
func percents(shares []float64) []string {
	scale, digits := 100.0, 0
	if slices.Min(shares) < 0.0995 {
		scale, digits = 1000, 1
	}
	counts, left, largest := make([]float64, len(shares)), scale, 0
	for i, s := range shares {
		counts[i] = math.Round(scale * s)
		left -= counts[i]
		if s > shares[largest] {
			largest = i
		}
	}
	counts[largest] += left
	out := make([]string, len(shares))
	for i, n := range counts {
		out[i] = strconv.FormatFloat(100*n/scale, 'f', digits, 64) + " %"
	}
	return out
}

// Filling says how much water lies in a volume of a steam plant, and what fills
// the rest: "3.4 mL of water in 150 mL, steam above it".
func Filling(c *plant.Contents) string {
	air, steam, _ := Shares(c)
	gas := "steam"
	switch {
	case air > trace && steam > trace:
		gas = "air and steam"
	case air > trace:
		gas = "air"
	}
	switch {
	case c.Water < Drop*c.Volume:
		return gas + ", no water"
	case c.Water > (1-Drop)*c.Volume:
		return "full of water, " + Water(c.Volume)
	}
	return Water(c.Water) + " of water in " + Water(c.Volume) + ", " + gas + " above it"
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
