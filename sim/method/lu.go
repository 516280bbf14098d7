package method

import (
	"math"
	"slices"
)

// lu is the factorisation of I/(h gamma) - J for one fixed sparsity pattern.
// The elimination order, the fill and every index of the numeric phase are
// worked out once, in newLU; factor and solve then only walk flat lists.
//
// Pivots stay on the diagonal. That is safe for the steps it serves, where
// 1/(h gamma) is large or J's own diagonal is negative; where it is not,
// factor says so and the step is made smaller, which makes it safe.
type lu struct {
	n       int     // variables of the system
	order   []int32 // order[i]: which variable is eliminated as the i-th
	diag    []int32 // position of the i-th diagonal element in val
	lower   []int32 // lower[i]: start of row i in val; lower part up to diag[i]
	col     []int32 // column, in elimination order, of each element
	pos     []int32 // pos[e]: position of the Jacobian's element e, or -1
	dest    []int32 // destinations of the updates, in the order factor makes them
	val     []float64
	inverse []float64 // 1/diagonal
	work    []float64
}

// newLU plans the elimination for the active variables and the entries that
// join two of them. The order is Markowitz's: the pivot whose elimination can
// fill least, the lowest index among equals.
func newLU(n int, active []bool, entries []Entry) *lu {
	rows := make([]map[int]bool, n)
	cols := make([]map[int]bool, n)
	left := []int{}
	for i := range n {
		if active[i] {
			rows[i] = map[int]bool{i: true}
			cols[i] = map[int]bool{i: true}
			left = append(left, i)
		}
	}
	used := func(e Entry) bool { return e.Row < n && active[e.Row] && active[e.Col] }
	for _, e := range entries {
		if used(e) {
			rows[e.Row][e.Col] = true
			cols[e.Col][e.Row] = true
		}
	}

	m := len(left)
	order := make([]int32, 0, m)
	rank := make([]int, n)
	pattern := make([][]int, n) // full row pattern, fill included, by variable
	for i := range pattern {
		if active[i] {
			for j := range rows[i] {
				pattern[i] = append(pattern[i], j)
			}
		}
	}
	for len(left) > 0 {
		best, cost := 0, math.MaxInt
		for at, p := range left {
			if c := (len(rows[p]) - 1) * (len(cols[p]) - 1); c < cost {
				best, cost = at, c
			}
		}
		p := left[best]
		left = slices.Delete(left, best, best+1)
		rank[p] = len(order)
		order = append(order, int32(p))
		for i := range cols[p] {
			if i == p {
				continue
			}
			for j := range rows[p] {
				if j != p && !rows[i][j] {
					rows[i][j] = true
					cols[j][i] = true
					pattern[i] = append(pattern[i], j)
				}
			}
			delete(rows[i], p)
		}
		for j := range rows[p] {
			if j != p {
				delete(cols[j], p)
			}
		}
	}

	f := &lu{n: n, order: order, diag: make([]int32, m), lower: make([]int32, m+1), work: make([]float64, m), inverse: make([]float64, m)}
	at := make([]map[int]int32, m) // position of (row, column) in elimination order
	for i, p := range order {
		line := make([]int, 0, len(pattern[p]))
		for _, j := range pattern[p] {
			line = append(line, rank[j])
		}
		slices.Sort(line)
		at[i] = make(map[int]int32, len(line))
		f.lower[i] = int32(len(f.col))
		for _, j := range line {
			at[i][j] = int32(len(f.col))
			if j == i {
				f.diag[i] = int32(len(f.col))
			}
			f.col = append(f.col, int32(j))
		}
	}
	f.lower[m] = int32(len(f.col))
	f.val = make([]float64, len(f.col))
	for i := range order {
		for l := f.lower[i]; l < f.diag[i]; l++ {
			k := f.col[l]
			for u := f.diag[k] + 1; u < f.lower[k+1]; u++ {
				f.dest = append(f.dest, at[i][int(f.col[u])])
			}
		}
	}
	f.pos = make([]int32, len(entries))
	for e, en := range entries {
		f.pos[e] = -1
		if used(en) {
			f.pos[e] = at[rank[en.Row]][rank[en.Col]]
		}
	}
	return f
}

// factor computes the factors of d I - J, where elements that share a place
// add up; false if a pivot is too small or not finite.
func (f *lu) factor(d float64, elements []float64) bool {
	val := f.val
	clear(val)
	for e, p := range f.pos {
		if p >= 0 {
			val[p] -= elements[e]
		}
	}
	next := 0
	dest := f.dest
	for i, di := range f.diag {
		val[di] += d
		before := math.Abs(val[di])
		for l := f.lower[i]; l < di; l++ {
			k := f.col[l]
			a := val[l] * f.inverse[k]
			val[l] = a
			upper := val[f.diag[k]+1 : f.lower[k+1]]
			to := dest[next : next+len(upper)]
			next += len(upper)
			for u, v := range upper {
				val[to[u]] -= a * v
			}
		}
		p := val[di]
		// A pivot that lost nine digits to cancellation is not to be trusted.
		if !(math.Abs(p) > 1e-9*before) || math.IsInf(p, 0) {
			return false
		}
		f.inverse[i] = 1 / p
	}
	return true
}

// solve overwrites the active variables of x, the right side, with the
// solution; the others become zero.
func (f *lu) solve(x []float64) {
	w := f.work
	for i, p := range f.order {
		s := x[p]
		for l := f.lower[i]; l < f.diag[i]; l++ {
			s -= f.val[l] * w[f.col[l]]
		}
		w[i] = s
	}
	if len(f.order) < len(x) {
		clear(x)
	}
	for i := len(f.order) - 1; i >= 0; i-- {
		s := w[i]
		for u := f.diag[i] + 1; u < f.lower[i+1]; u++ {
			s -= f.val[u] * w[f.col[u]]
		}
		s *= f.inverse[i]
		w[i] = s
		x[f.order[i]] = s
	}
}
