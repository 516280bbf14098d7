package method

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The sparse solution against gonum's dense one, for random patterns, random
// frozen variables and diagonally dominant values, which are what 1/(h gamma)
// makes of any Jacobian for a small enough step.
func TestSparseAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 14).Draw(t, "n")
		active := rapid.SliceOfN(rapid.Bool(), n, n).Draw(t, "active")
		place := rapid.Custom(func(t *rapid.T) Entry {
			// Rows from n on are quadratures, which the factors leave out.
			return Entry{rapid.IntRange(0, n+1).Draw(t, "row"), rapid.IntRange(0, n-1).Draw(t, "column")}
		})
		entries := rapid.SliceOfN(place, 0, 3*n).Draw(t, "entries")
		value := rapid.Float64Range(-5, 5)
		values := rapid.SliceOfN(value, len(entries), len(entries)).Draw(t, "values")
		x := rapid.SliceOfN(value, n, n).Draw(t, "right side")

		// Entries that share a place add up.
		jac := mat.NewDense(n, n, nil)
		sum := make([]float64, n)
		for e, en := range entries {
			if en.Row < n && active[en.Row] && active[en.Col] {
				jac.Set(en.Row, en.Col, jac.At(en.Row, en.Col)+values[e])
				sum[en.Row] += math.Abs(values[e])
			}
		}
		d := 1.0
		for _, s := range sum {
			d = max(d, 1.1*s)
		}
		a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			for j := range n {
				a.Set(i, j, -jac.At(i, j))
			}
			a.Set(i, i, d-jac.At(i, i))
			if active[i] {
				b.SetVec(i, x[i])
			}
		}
		var want mat.VecDense
		require.NoError(t, want.SolveVec(a, b))

		plan := newLU(n, active, entries)
		require.True(t, plan.factor(d, values))
		plan.solve(x)
		for i := range n {
			if !active[i] {
				assert.Zero(t, x[i], "frozen variable %d", i)
				continue
			}
			// The condition of a matrix this dominant is below 2.1 n.
			assert.InDelta(t, want.AtVec(i), x[i], 1e-13*float64(n), "variable %d", i)
		}
	})
}

func TestPivotIsRefused(t *testing.T) {
	pair := []Entry{{0, 0}, {0, 1}, {1, 0}, {1, 1}}
	cases := []struct {
		name     string
		d        float64
		elements []float64
		ok       bool
	}{
		{"regular", 1, []float64{-1, 0.5, 0.5, -1}, true},
		{"first pivot cancels exactly", 1, []float64{1, 1, 1, 1}, false},
		{"second pivot cancels exactly", 1, []float64{0, 1, 1, 0}, false},
		{"second pivot loses ten digits", 1, []float64{0, 1, 1 - 1e-10, 0}, false},
		{"second pivot loses eight digits", 1, []float64{0, 1, 1 - 1e-8, 0}, true},
		{"not a number", 1, []float64{math.NaN(), 0, 0, 0}, false},
		{"infinite", 1, []float64{math.Inf(-1), 0, 0, 0}, false},
		{"not a number beside the diagonal", 1, []float64{0, math.NaN(), 1, 0}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			plan := newLU(2, []bool{true, true}, pair)
			assert.Equal(t, c.ok, plan.factor(c.d, c.elements))
		})
	}
}

// An arrow matrix with its point first fills completely when eliminated in
// the given order and not at all in Markowitz's.
func TestEliminationOrderAvoidsFill(t *testing.T) {
	const n = 12
	active := make([]bool, n)
	var entries []Entry
	for i := range n {
		active[i] = true
		entries = append(entries, Entry{i, i}, Entry{0, i}, Entry{i, 0})
	}
	plan := newLU(n, active, entries)
	assert.Len(t, plan.val, 3*n-2)
}
