package branch_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/sim/branch"
)

// equations is a problem given by a function.
type equations struct {
	n int
	f func(u, r []float64)
}

func (e equations) Size() int               { return e.n }
func (e equations) Residual(u, r []float64) { e.f(u, r) }

// one is one equation in x and the parameter.
func one(f func(x, p float64) float64) equations {
	return equations{1, func(u, r []float64) { r[0] = f(u[0], u[1]) }}
}

var nan = math.NaN()

func steps(low, high []float64) branch.Settings {
	return branch.Settings{First: 0.02, Least: 1e-6, Most: 0.1, Turn: 0.15, Low: low, High: high, Points: 3000}
}

// TestCircle: x^2 + p^2 = 1 comes back to its start and has its folds at p = 1
// and -1, x = 0.
func TestCircle(t *testing.T) {
	c, err := branch.Trace(one(func(x, p float64) float64 { return x*x + p*p - 1 }), []float64{1, 0}, []float64{0, 1}, steps(nil, nil))
	require.NoError(t, err)
	assert.Equal(t, branch.Closed, c.End)
	folds := c.Folds()
	require.Len(t, folds, 2)
	for i, want := range []float64{1, -1} {
		assert.InDelta(t, want, folds[i].Parameter(), 1e-12)
		assert.InDelta(t, 0, folds[i].U[0], 1e-7)
	}
	for _, p := range c.Points {
		assert.InDelta(t, 1, math.Hypot(p.U[0], p.U[1]), 1e-12)
	}
}

// TestCubic: p = x^3 - x has its folds at x = -1/sqrt 3 and 1/sqrt 3, p = 2/sqrt 27
// and -2/sqrt 27, and is unstable between them as x' = p - x^3 + x. The first fold
// lies within 1e-10 of its place.
func TestCubic(t *testing.T) {
	c, err := branch.Trace(one(func(x, p float64) float64 { return p - x*x*x + x }), []float64{-2, -6}, []float64{0, 1},
		steps([]float64{nan, -7}, []float64{nan, 5}))
	require.NoError(t, err)
	assert.Equal(t, branch.AtBound, c.End)
	assert.Equal(t, 1, c.Bound)
	assert.Equal(t, 5.0, c.Points[len(c.Points)-1].Parameter())
	folds := c.Folds()
	require.Len(t, folds, 2)
	for i, sign := range []float64{1, -1} {
		assert.InEpsilon(t, sign*2/math.Sqrt(27), folds[i].Parameter(), 1e-12)
		assert.InEpsilon(t, -sign/math.Sqrt(3), folds[i].U[0], 1e-6)
	}
	for _, p := range c.Points {
		if x := p.U[0]; !p.Fold {
			assert.InEpsilon(t, 1-3*x*x, p.Own, 1e-6, "at %g", x)
		}
	}
}

// TestStepsOverNoFold: two folds that lie closer together than a step are found:
// p = x^3/3 - e^2 x turns at x = e and -e, by 4 e^3/3 apart.
func TestStepsOverNoFold(t *testing.T) {
	const e = 0.02
	c, err := branch.Trace(one(func(x, p float64) float64 { return p - x*x*x/3 + e*e*x }), []float64{-1, -1. / 3}, []float64{1, 0},
		steps([]float64{-2, nan}, []float64{1, nan}))
	require.NoError(t, err)
	folds := c.Folds()
	require.Len(t, folds, 2)
	assert.InEpsilon(t, 2*e*e*e/3, folds[0].Parameter(), 1e-6)
	assert.InEpsilon(t, -2*e*e*e/3, folds[1].Parameter(), 1e-6)
}

// TestIsola: a closed curve that is not connected with the start is not found,
// and is when the start is put on it.
func TestIsola(t *testing.T) {
	line := func(x, p float64) float64 { return x + 1 - 0.1*p }
	isola := func(x, p float64) float64 { return (x-2)*(x-2) + (p-1)*(p-1) - 0.25 }
	f := one(func(x, p float64) float64 { return line(x, p) * isola(x, p) })
	low, high := []float64{nan, -1}, []float64{nan, 3}
	c, err := branch.Trace(f, []float64{-1, 0}, []float64{0, 1}, steps(low, high))
	require.NoError(t, err)
	assert.Equal(t, branch.AtBound, c.End)
	assert.Empty(t, c.Folds())
	for _, p := range c.Points {
		assert.InDelta(t, 0, line(p.U[0], p.U[1]), 1e-10)
	}
	c, err = branch.Trace(f, []float64{2.5, 1}, []float64{0, 1}, steps(low, high))
	require.NoError(t, err)
	assert.Equal(t, branch.Closed, c.End)
	require.Len(t, c.Folds(), 2)
	assert.InEpsilon(t, 1.5, c.Folds()[0].Parameter(), 1e-10)
	assert.InEpsilon(t, 0.5, c.Folds()[1].Parameter(), 1e-10)
}

// TestSystem: x' = p - y, y' quick = x^2 - y, so p = x^2: one fold at zero, and the
// own slope of the first equation is -2x though it does not hold x itself.
func TestSystem(t *testing.T) {
	f := equations{2, func(u, r []float64) { r[0], r[1] = u[2]-u[1], u[0]*u[0]-u[1] }}
	c, err := branch.Trace(f, []float64{-1, 1, 1}, []float64{1, 0, 0}, steps([]float64{-2, nan, nan}, []float64{1.25, nan, nan}))
	require.NoError(t, err)
	assert.Equal(t, 0, c.Bound)
	last := c.Points[len(c.Points)-1]
	assert.InDeltaSlice(t, []float64{1.25, 1.5625, 1.5625}, last.U, 1e-12)
	require.Len(t, c.Folds(), 1)
	assert.InDelta(t, 0, c.Folds()[0].Parameter(), 1e-12)
	for _, p := range c.Points {
		assert.InDelta(t, -2*p.U[0], p.Own, 1e-6)
	}
	q, ok := c.Between(0, func(u []float64) float64 { return u[0] - (c.Points[0].U[0]+c.Points[1].U[0])/2 })
	require.True(t, ok)
	assert.InEpsilon(t, (c.Points[0].U[0]+c.Points[1].U[0])/2, q.U[0], 1e-8)
	assert.InEpsilon(t, q.U[0]*q.U[0], q.U[1], 1e-12)
}

// TestNothingToSolve: without equations the parameter is all there is.
func TestNothingToSolve(t *testing.T) {
	c, err := branch.Trace(equations{0, func(_, _ []float64) {}}, []float64{0}, []float64{1}, steps(nil, []float64{1}))
	require.NoError(t, err)
	assert.Equal(t, branch.AtBound, c.End)
	assert.Equal(t, 1.0, c.Points[len(c.Points)-1].Parameter())
}

// TestCorner: where slopes jump, the fold is the corner: p = 1 - 0.3 |x|.
func TestCorner(t *testing.T) {
	s := steps([]float64{-1, nan}, []float64{1, nan})
	c, err := branch.Trace(one(func(x, p float64) float64 { return p - 1 + 0.3*math.Abs(x) }), []float64{-0.95, 0.715}, []float64{1, 0}, s)
	require.NoError(t, err)
	require.Len(t, c.Folds(), 1)
	assert.InDelta(t, 1, c.Folds()[0].Parameter(), 1e-6)
	assert.Equal(t, 0, c.Bound)
}

// TestRefusals: where the equations do not hold, or nothing solves them, it says
// so or stops.
func TestRefusals(t *testing.T) {
	_, err := branch.Trace(one(func(x, _ float64) float64 { return x*x + 1 }), []float64{0.3, 0}, []float64{0, 1}, steps(nil, nil))
	assert.ErrorContains(t, err, "no solution")
	_, err = branch.Trace(one(func(x, _ float64) float64 { return x }), []float64{0}, []float64{0, 1}, steps(nil, nil))
	assert.ErrorContains(t, err, "want 2")
	_, err = branch.Start(one(func(x, p float64) float64 { return x*x - p }), []float64{1, -1}, 1)
	assert.Error(t, err)
	u, err := branch.Start(one(func(x, p float64) float64 { return x*x - p }), []float64{1, 2}, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt2, u[0], 1e-12)
	assert.Equal(t, 2.0, u[1])
	// x = sqrt(1-p) ends at p = 1 for what does not hold beyond it.
	c, err := branch.Trace(one(func(x, p float64) float64 { return x - math.Sqrt(1-p) + 0.1 }), []float64{0.9, 0}, []float64{0, 1}, steps(nil, nil))
	require.NoError(t, err)
	assert.Equal(t, branch.Stalled, c.End)
	s := steps(nil, nil)
	s.Points = 10
	c, err = branch.Trace(one(func(x, p float64) float64 { return x - p }), []float64{0, 0}, []float64{0, 1}, s)
	require.NoError(t, err)
	assert.Equal(t, branch.Long, c.End)
	assert.Len(t, c.Points, 10)
}

func BenchmarkCubic(b *testing.B) {
	f := one(func(x, p float64) float64 { return p - x*x*x + x })
	for b.Loop() {
		if _, err := branch.Trace(f, []float64{-2, -6}, []float64{0, 1}, steps([]float64{nan, -7}, []float64{nan, 5})); err != nil {
			b.Fatal(err)
		}
	}
}
