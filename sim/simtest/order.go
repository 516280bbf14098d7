package simtest

import (
	"math"
	"slices"

	"underdisc/sim/method"
)

// Loose is a tolerance for tests that choose their steps themselves.
func Loose(n int) *method.Tolerance {
	tol := &method.Tolerance{Rel: 1e-6, Scale: scales(n, 1), Active: make([]bool, n)}
	for i := range tol.Active {
		tol.Active[i] = true
	}
	return tol
}

// March makes n equal steps with st over the problem's span and returns
// variables and quadratures at its end.
func March(p Problem, st method.Stepper, n int) (y, q []float64) {
	fld := Field(p.System, p.Start)
	y, q = slices.Clone(p.Start.Y), slices.Clone(p.Start.Q)
	y1, f, g, inc := make([]float64, len(y)), make([]float64, len(y)), make([]float64, len(q)), make([]float64, len(q))
	h := (p.End - p.Start.T) / float64(n)
	for k := range n {
		t := p.Start.T + float64(k)*h
		fld.Derivative(t, y, f, g)
		st.Start(fld, t, y, f, g)
		st.Try(h, y1)
		st.Ledger(inc)
		for i, d := range inc {
			q[i] += d
		}
		copy(y, y1)
	}
	return y, q
}

// Between makes one step of size h from the exact solution at t and returns
// the largest error of the dense output inside it.
func Between(p Problem, st method.Stepper, t, h float64) float64 {
	fld := Field(p.System, p.Start)
	y := p.Exact(t)
	n := len(y)
	f, g := make([]float64, n), make([]float64, len(p.Start.Q))
	fld.Derivative(t, y, f, g)
	st.Start(fld, t, y, f, g)
	y1, c, at := make([]float64, n), make([]float64, 5*n), make([]float64, n)
	st.Try(h, y1)
	st.Dense(y1, c)
	worst := 0.0
	for k := 1; k < 20; k++ {
		s := float64(k) / 20
		method.Eval(c, s, at)
		worst = max(worst, Distance(at, p.Exact(t+s*h)))
	}
	return worst
}

// Distance is the largest difference of two vectors.
func Distance(a, b []float64) float64 {
	worst := 0.0
	for i := range a {
		worst = max(worst, math.Abs(a[i]-b[i]))
	}
	return worst
}

// Orders are the observed orders between successive errors, each made with
// half the step of the one before.
func Orders(errors []float64) []float64 {
	var out []float64
	for i := 1; i < len(errors); i++ {
		out = append(out, math.Log2(errors[i-1]/errors[i]))
	}
	return out
}
