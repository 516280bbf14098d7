package branch

import "math"

// Problem is n equations in n+1 unknowns; n may be zero.
type Problem interface {
	// Size is n.
	Size() int
	// Residual fills r, of length n, from u, of length n+1; NaN outside of where
	// the equations hold. It keeps neither.
	Residual(u, r []float64)
}

// difference is the step of the slopes, of unknowns of the order of one.
const difference = 1e-7

// work is a problem with room to solve it in.
type work struct {
	p       Problem
	n       int
	r, s    []float64
	v       []float64
	j       [][]float64 // n rows of n+1
	a       [][]float64 // n+1 rows of n+2
	tangent []float64
}

func newWork(p Problem) *work {
	n := p.Size()
	w := &work{p: p, n: n, r: make([]float64, n), s: make([]float64, n), v: make([]float64, n+1), tangent: make([]float64, n+1)}
	for range n {
		w.j = append(w.j, make([]float64, n+1))
	}
	for range n + 1 {
		w.a = append(w.a, make([]float64, n+2))
	}
	return w
}

// slopes fills r and j at u.
func (w *work) slopes(u []float64) bool { return w.differences(u, true) }

// differences takes the slopes from both sides, so that their error is of the
// third order, or, good enough to step by, from one.
func (w *work) differences(u []float64, both bool) bool {
	w.p.Residual(u, w.r)
	copy(w.v, u)
	for c := range w.v {
		h := difference * math.Max(1, math.Abs(u[c]))
		w.v[c] = u[c] + h
		w.p.Residual(w.v, w.s)
		for i := range w.n {
			w.j[i][c] = (w.s[i] - w.r[i]) / h
		}
		if both {
			w.v[c] = u[c] - h
			w.p.Residual(w.v, w.s)
			for i := range w.n {
				w.j[i][c] = (w.j[i][c] + (w.r[i]-w.s[i])/h) / 2
			}
		}
		w.v[c] = u[c]
	}
	for i := range w.n {
		if !finite(w.r[i]) {
			return false
		}
		for _, g := range w.j[i] {
			if !finite(g) {
				return false
			}
		}
	}
	return true
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// direction fills tangent with the unit vector along which F stays zero, on the
// same side as old, from the slopes as they are. The row of old makes the system
// regular at folds too.
func (w *work) direction(old []float64) bool {
	for i := range w.n {
		copy(w.a[i], w.j[i])
		w.a[i][w.n+1] = 0
	}
	copy(w.a[w.n], old)
	w.a[w.n][w.n+1] = 1
	if !eliminate(w.a) {
		return false
	}
	norm := 0.0
	for c := range w.tangent {
		w.tangent[c] = w.a[c][w.n+1]
		norm = math.Hypot(norm, w.tangent[c])
	}
	for c := range w.tangent {
		w.tangent[c] /= norm
	}
	return finite(norm) && norm > 0
}

// Newton's method ends where its step is this small, or is given up.
const (
	newtonStep = 1e-10
	newtonMost = 9
)

// correct moves u onto the curve within the plane row (u - at) = 0.
func (w *work) correct(u, row, at []float64) bool {
	for range newtonMost {
		if !w.differences(u, false) {
			return false
		}
		for i := range w.n {
			copy(w.a[i], w.j[i])
			w.a[i][w.n+1] = -w.r[i]
		}
		copy(w.a[w.n], row)
		off := 0.0
		for c := range row {
			off += row[c] * (u[c] - at[c])
		}
		w.a[w.n][w.n+1] = -off
		if !eliminate(w.a) {
			return false
		}
		size := 0.0
		for c := range u {
			d := w.a[c][w.n+1]
			u[c] += d
			size = math.Max(size, math.Abs(d)/math.Max(1, math.Abs(u[c])))
		}
		if !finite(size) {
			return false
		}
		if size < newtonStep {
			return w.slopes(u)
		}
	}
	return false
}

// eliminate solves a system whose right side is its last column, in place: the
// solution takes the place of that column.
func eliminate(a [][]float64) bool {
	n := len(a)
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[best][k]) {
				best = i
			}
		}
		if a[best][k] == 0 || !finite(a[best][k]) {
			return false
		}
		a[k], a[best] = a[best], a[k]
		for i := k + 1; i < n; i++ {
			f := a[i][k] / a[k][k]
			if f == 0 {
				continue
			}
			for c := k; c <= n; c++ {
				a[i][c] -= f * a[k][c]
			}
		}
	}
	for k := n - 1; k >= 0; k-- {
		s := a[k][n]
		for c := k + 1; c < n; c++ {
			s -= a[k][c] * a[c][n]
		}
		a[k][n] = s / a[k][k]
	}
	return true
}

// own is the slope of the first equation by the first unknown while the others
// follow and the parameter stays.
func (w *work) own() float64 {
	n := w.n
	if n == 0 {
		return math.NaN()
	}
	// The other unknowns' answer to the first.
	b := make([][]float64, n-1)
	for i := range b {
		b[i] = make([]float64, n)
		copy(b[i], w.j[i+1][1:n])
		b[i][n-1] = -w.j[i+1][0]
	}
	if !eliminate(b) {
		return math.NaN()
	}
	s := w.j[0][0]
	for i := range b {
		s += w.j[0][i+1] * b[i][n-1]
	}
	return s
}
