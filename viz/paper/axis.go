package paper

import (
	"math"
	"slices"
	"strconv"
)

// Axis is the span that a chart shows, and the values that it writes beside.
type Axis struct {
	From, To float64
	Ticks    []Tick
}

// Tick is one value written beside an axis.
type Tick struct {
	At   float64
	Text string
}

// NewAxis spans from..to with about n ticks at round values.
func NewAxis(from, to float64, n int) Axis {
	if !(to > from) {
		to = from + 1
	}
	step := Step((to - from) / float64(n))
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	a := Axis{From: from, To: to}
	for k := math.Ceil(from/step - 1e-9); k*step <= to+1e-9*step; k++ {
		a.Ticks = append(a.Ticks, Tick{k * step, strconv.FormatFloat(k*step+0, 'f', decimals, 64)}) // +0: no "-0"
	}
	return a
}

// AxisUpTo spans 0..top with ticks at its two ends alone.
func AxisUpTo(top float64, text string) Axis {
	return Axis{From: 0, To: top, Ticks: []Tick{{0, "0"}, {top, text}}}
}

// Step is the smallest of 1, 2, 5 times a power of ten that is no less than
// about the given width.
func Step(width float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(width)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= 0.99*width {
			return m * power
		}
	}
	return 10 * power
}

// Spread moves places apart so that neighbours are at least gap from each
// other and all lie in low..high, as near as can be to where they are wanted,
// in the same order. Where there is no room for that they share what there is.
func Spread(wanted []float64, gap, low, high float64) []float64 {
	n := len(wanted)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case wanted[a] < wanted[b]:
			return -1
		case wanted[a] > wanted[b]:
			return 1
		}
		return 0
	})
	if n > 1 {
		gap = min(gap, (high-low)/float64(n-1))
	}
	// Groups of places that touch; each sits at the mean of what its members
	// want, moved into the bounds.
	type group struct {
		sum   float64 // of wanted place less the place within the group
		count int
		at    float64 // of the first member
	}
	var groups []group
	place := func(g *group) {
		g.at = g.sum / float64(g.count)
		g.at = max(low, min(g.at, high-gap*float64(g.count-1)))
	}
	for _, i := range order {
		g := group{sum: wanted[i], count: 1}
		place(&g)
		for len(groups) > 0 {
			prev := groups[len(groups)-1]
			if prev.at+gap*float64(prev.count) <= g.at {
				break
			}
			g.sum = prev.sum + g.sum - gap*float64(prev.count*g.count)
			g.count += prev.count
			place(&g)
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	out := make([]float64, n)
	k := 0
	for _, g := range groups {
		for j := range g.count {
			out[order[k]] = g.at + gap*float64(j)
			k++
		}
	}
	return out
}
