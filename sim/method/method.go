// Package method holds one-step integration methods for y' = f(t, y), each in
// a file of its own with its tableau and its source on top, and the sparse
// linear algebra they need. A method makes single steps of a given size and
// says how wrong they are; choosing the size, the method and the places to
// stop is the engine's affair (package sim).
//
// No physics and no events live here.
package method

import "math"

// Entry is the place of one element of the Jacobian df_Row/dy_Col. Rows from
// n on belong to the quadratures.
type Entry struct{ Row, Col int }

// Field is the right side of y' = f(t, y) with quadratures q' = g(t, y) that
// ride along without acting back. Evaluations may use scratch of their own, so
// one Field serves one goroutine.
//
// A state outside the field's domain is reported by a non-finite derivative;
// the step that asked for it is then rejected.
type Field interface {
	// Derivative writes f into dy and g into dq.
	Derivative(t float64, y, dy, dq []float64)
	// Jacobian writes the elements df/dy and dg/dy in the order of the
	// entries the method was made with.
	Jacobian(t float64, y, elements []float64)
}

// TimeDependent is a Field whose f depends on t itself.
type TimeDependent interface {
	Field
	// TimeDerivative writes the partial derivative of f, and of g, with
	// respect to t.
	TimeDerivative(t float64, y, dft, dgt []float64)
}

// Stepper makes trial steps from one starting point.
type Stepper interface {
	// Order of the solution that is carried forward.
	Order() int
	// Start sets the point from which Try steps: f0 and g0 are the
	// derivatives there. The slices are kept, not copied, until the next
	// Start.
	Start(fld Field, t float64, y0, f0, g0 []float64)
	// Try makes a step of size h into y1 and returns the error estimate in
	// units of the tolerance (1 is just good enough). It is +Inf where the
	// step cannot be made at all.
	Try(h float64, y1 []float64) float64
	// Ledger writes the increments of the quadratures over the last Try.
	Ledger(dq []float64)
	// Dense writes the five coefficient vectors of the last Try for Eval.
	Dense(y1, c []float64)
	// Last hands out f and g at the end of the last Try if the method has
	// them, so that they need not be computed again.
	Last() (f1, g1 []float64, ok bool)
}

// Tolerance is what an error is measured against: variable i may be wrong by
// Rel*max(|y_i|, Scale_i). Variables with Active false do not move and do not
// count in the mean. Judge, if there is one, says how large an error e at y1 is
// in what follows from the variables, in the same measure as e_i/|y_i|; the
// larger of both counts.
type Tolerance struct {
	Rel    float64
	Scale  []float64
	Active []bool
	Judge  func(e, y1 []float64) float64
}

// norm is the root mean square of e over the active variables, each in units
// of its tolerance.
func (tol *Tolerance) norm(e, y0, y1 []float64) float64 {
	sum, count := 0.0, 0
	scale, active := tol.Scale[:len(e)], tol.Active[:len(e)]
	y0, y1 = y0[:len(e)], y1[:len(e)]
	for i, ei := range e {
		if !active[i] {
			continue
		}
		w := max(math.Abs(y0[i]), math.Abs(y1[i]), scale[i])
		r := ei / w
		sum += r * r
		count++
	}
	if count == 0 {
		return 0
	}
	n := math.Sqrt(sum / float64(count))
	if tol.Judge != nil {
		if j := tol.Judge(e, y1); !(j <= n) {
			n = j
		}
	}
	n /= tol.Rel
	if math.IsNaN(n) {
		return math.Inf(1)
	}
	return n
}

// Eval evaluates the dense output with coefficients c (five vectors of n, as
// Dense wrote them) at the fraction s of the step:
// y = c1 + s(c2 + (1-s)(c3 + s(c4 + (1-s)c5))).
func Eval(c []float64, s float64, y []float64) {
	n := len(y)
	c1, c2, c3, c4, c5 := c[:n], c[n:2*n], c[2*n:3*n], c[3*n:4*n], c[4*n:5*n]
	r := 1 - s
	for i := range y {
		y[i] = c1[i] + s*(c2[i]+r*(c3[i]+s*(c4[i]+r*c5[i])))
	}
}

// Slope evaluates the time derivative of the dense output of a step of size h
// at the fraction s.
func Slope(c []float64, s, h float64, dy []float64) {
	n := len(dy)
	c2, c3, c4, c5 := c[n:2*n], c[2*n:3*n], c[3*n:4*n], c[4*n:5*n]
	r := 1 - s
	for i := range dy {
		p := c4[i] + r*c5[i]
		q := c3[i] + s*p
		dq := p - s*c5[i]
		dy[i] = (c2[i] + r*q + s*(r*dq-q)) / h
	}
}
