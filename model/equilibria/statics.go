package equilibria

import (
	"math"

	"underdisc/model/plant"
)

// statics are the equations of a valve at rest as a branch.Problem: in u first a
// stretched lift, then the pressures of its nodes over a reference, last the
// vessel's pressure over it; in r first the net force on the disc, then the
// balances of the nodes.
type statics interface {
	Size() int
	Residual(u, r []float64)
	// rest is about where the nodes stand without flow.
	rest(vessel float64, q []float64)
	// stretch and lift are each other's inverse.
	stretch(lift float64) float64
	lift(z float64) float64
	// unstretch is d lift/d stretch at z.
	unstretch(z float64) float64
	point(u []float64) Point
	scale() (pressure, force float64)
	// push adds a force to the net force, N.
	push(f float64)
}

// pipe is a length of pipe with a steady flow. Along it the pressure falls by
//
//	K v W |W|/(2 A^2), K = f L/D + entrance
//
// with v the mean specific volume of its ends (any text, e.g. White, Fluid
// Mechanics, chapter 6). L counts to the middle of the last cell, as in a run.
type pipe struct {
	k float64 // K/(2 A^2), 1/m4
}

func newPipe(r *plant.Run, length, entrance float64) *pipe {
	a := math.Pi / 4 * r.Bore * r.Bore
	return &pipe{k: (r.Friction*length/r.Bore + entrance) / (2 * a * a)}
}

func (q *pipe) drop(w, v float64) float64 { return q.k * v * w * math.Abs(w) }

// held are statics with the lift or the vessel's pressure held, the force left
// out; the other of the two is the parameter.
type held struct {
	s      statics
	lift   bool // else the pressure
	value  float64
	full   []float64
	r      []float64
	thrust float64 // net force of the last residual, over its scale
}

func holding(s statics, lift bool, value float64) *held {
	n := s.Size()
	return &held{s: s, lift: lift, value: value, full: make([]float64, n+1), r: make([]float64, n)}
}

// Size implements branch.Problem.
func (h *held) Size() int { return h.s.Size() - 1 }

// all is the unknowns of the statics from those of the held.
func (h *held) all(u []float64) []float64 {
	n := h.s.Size()
	if h.lift {
		h.full[0] = h.value
		copy(h.full[1:], u)
		return h.full
	}
	h.full[0], h.full[n] = u[n-1], h.value
	copy(h.full[1:n], u[:n-1])
	return h.full
}

// Residual implements branch.Problem.
func (h *held) Residual(u, r []float64) {
	h.s.Residual(h.all(u), h.r)
	h.thrust = h.r[0]
	copy(r, h.r[1:])
}

// net is the net force at u over its scale.
func (h *held) net(u []float64) float64 {
	h.s.Residual(h.all(u), h.r)
	return h.r[0]
}
