package explain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/explain"
)

// Functions of known zero.
func TestRoot(t *testing.T) {
	cases := []struct {
		name      string
		f         func(float64) float64
		a, b      float64
		want      float64
		callsMost int
	}{
		{"straight", func(x float64) float64 { return 3 - x }, 0, 10, 3, 6},
		{"cubic", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265, 12},
		{"vertical slope", func(x float64) float64 { return math.Cbrt(x - 0.3) }, 0, 1, 0.3, 60},
		{"flat", func(x float64) float64 { return math.Pow(x-0.3, 9) }, 0, 1, 0.3, 150},
		{"step", func(x float64) float64 { return math.Copysign(1, x-0.7) }, 0, 1, 0.7, 60},
		{"zero at the start", func(x float64) float64 { return x }, 0, 1, 0, 2},
		{"zero at the end", func(x float64) float64 { return x - 1 }, 0, 1, 1, 2},
		{"backwards", func(x float64) float64 { return x - 0.25 }, 1, 0, 0.25, 6},
		{"no sign change, nearer at the start", func(x float64) float64 { return x + 1 }, 0, 1, 0, 2},
		{"no sign change, nearer at the end", func(x float64) float64 { return 2 - x }, 0, 1, 1, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			calls := 0
			got := explain.Root(c.a, c.b, 1e-12, func(x float64) float64 { calls++; return c.f(x) })
			assert.InDelta(t, c.want, got, 1e-9)
			assert.LessOrEqual(t, calls, c.callsMost)
		})
	}
}

// The time that a lagging reading takes to a level, put back into its formula,
// gives the level, and no earlier time does.
func TestLagReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.Float64Range(-5, 5).Draw(t, "reading")
		p := rapid.Float64Range(-5, 5).Draw(t, "sensed")
		r := rapid.SampledFrom([]float64{0, 0.3, -0.3, 2, -2}).Draw(t, "rate")
		tau := rapid.Float64Range(0.01, 3).Draw(t, "lag")
		level := rapid.Float64Range(-5, 8).Draw(t, "level")
		if math.Abs(y-level) < 1e-9 {
			t.Skip("there already, as far as numbers tell")
		}
		if r == 0 && math.Abs(p-level) < 1e-9 {
			t.Skip("reached only in the limit, or by rounding")
		}
		read := func(t float64) float64 { return p + r*(t-tau) + (y-p+r*tau)*math.Exp(-t/tau) }
		got := explain.LagReaches(y, p, r, tau, level)
		first := -1.0
		for i := range 60000 {
			if at := float64(i) * 2e-3; read(at) >= level {
				first = at
				break
			}
		}
		if first < 0 {
			if got.Known { // between two of the samples, at a peak
				assert.InDelta(t, level, read(got.Value), 1e-4)
			}
			return
		}
		require.True(t, got.Known)
		assert.InDelta(t, first, got.Value, 2.1e-3)
		if y < level {
			assert.InDelta(t, level, read(got.Value), 1e-6)
		}
	})
}

// What would take more than an hour is not foretold.
func TestNothingIsForetoldFarAhead(t *testing.T) {
	assert.True(t, explain.LagReaches(0, 0, 1, 1, 3000).Known)
	assert.False(t, explain.LagReaches(0, 0, 1, 1, 4000).Known)
	assert.False(t, explain.LagReaches(0, 0, 1e-9, 1, 1).Known)
}
