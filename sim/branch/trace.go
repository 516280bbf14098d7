package branch

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Settings say how far a curve is followed and how closely.
type Settings struct {
	First, Least, Most float64   // length of steps: the first, the least, the most
	Turn               float64   // the most that the tangent turns in a step, rad
	Low, High          []float64 // where it ends; NaN for no end
	Points             int       // the most points
}

// End says why a curve ends.
type End int

const (
	AtBound End = iota // of an unknown
	Closed             // it came back to its start
	Stalled            // no step, however short, led on
	Long               // it has as many points as were allowed
)

// Point is a point of a curve.
type Point struct {
	U       []float64 // the unknowns, the parameter last
	Tangent []float64 // unit vector in the sense in which the curve is followed
	// Own is the slope of the first equation by the first unknown while all other
	// equations go on holding and the parameter stays: with an equation of motion
	// first and quick balances after it, below zero where the solution is stable.
	Own  float64
	Fold bool // the parameter turns back here
}

// Parameter is the last unknown.
func (p *Point) Parameter() float64 { return p.U[len(p.U)-1] }

// Curve is a curve of solutions.
type Curve struct {
	Points []Point
	End    End
	Bound  int // the unknown whose bound ended it, if one did

	w *work
}

// Start moves u onto the curve with the unknown of that index kept.
func Start(p Problem, u []float64, keep int) ([]float64, error) {
	w := newWork(p)
	out, at := slices.Clone(u), slices.Clone(u)
	row := make([]float64, len(u))
	row[keep] = 1
	if !w.correct(out, row, at) {
		return nil, errors.New("no solution is found near the start")
	}
	return out, nil
}

// Trace follows the curve through start, which is on it or near it, beginning
// on the side of towards.
func Trace(p Problem, start, towards []float64, s Settings) (*Curve, error) {
	if len(start) != p.Size()+1 || len(towards) != len(start) {
		return nil, fmt.Errorf("found a start of %d and a direction of %d unknowns, want %d", len(start), len(towards), p.Size()+1)
	}
	c := &Curve{w: newWork(p), Bound: -1}
	w := c.w
	u := slices.Clone(start)
	if !w.correct(u, towards, start) || !w.direction(towards) {
		return nil, errors.New("no solution is found near the start")
	}
	c.add(u)
	h := s.First
	for len(c.Points) < s.Points {
		from := &c.Points[len(c.Points)-1]
		u, ok := c.step(from, h)
		if ok {
			ok = c.smooth(from, u, h, &s) || h <= s.Least
		}
		if !ok {
			if h <= s.Least {
				c.End = Stalled
				return c, nil
			}
			h = math.Max(h/2, s.Least)
			continue
		}
		if k := s.outside(u); k >= 0 {
			c.Bound = k
			c.bound(from, k, &s)
			c.End = AtBound
			return c, nil
		}
		if len(c.Points) > 3 && c.back(u, h) {
			c.End = Closed
			return c, nil
		}
		turned := angle(from.Tangent, w.tangent)
		last := len(u) - 1
		if from.Tangent[last]*w.tangent[last] < 0 {
			tangent := slices.Clone(w.tangent)
			c.fold(from, h)
			if !w.slopes(u) || !w.direction(tangent) {
				c.End = Stalled
				return c, nil
			}
		}
		c.add(u)
		if turned < s.Turn/3 {
			h = math.Min(1.6*h, s.Most)
		}
	}
	c.End = Long
	return c, nil
}

// add appends u, with the slopes and the direction that were last found.
func (c *Curve) add(u []float64) {
	c.Points = append(c.Points, Point{U: slices.Clone(u), Tangent: slices.Clone(c.w.tangent), Own: c.w.own()})
}

// step goes on by h from a point.
func (c *Curve) step(from *Point, h float64) ([]float64, bool) {
	at := make([]float64, len(from.U))
	for i := range at {
		at[i] = from.U[i] + h*from.Tangent[i]
	}
	u := slices.Clone(at)
	if !c.w.correct(u, from.Tangent, at) || !c.w.direction(from.Tangent) {
		return nil, false
	}
	return u, true
}

// smooth tells whether a step is short enough: the tangent turns little, the
// corrector stays near, and the parameter has no two folds within the step that
// its ends would not show. A cubic with slopes m0, m1 at its ends and the chord d
// is monotone where both are at most three times d (Fritsch and Carlson, SIAM J.
// Numer. Anal. 17, 1980; from memory).
func (c *Curve) smooth(from *Point, u []float64, h float64, s *Settings) bool {
	if angle(from.Tangent, c.w.tangent) > s.Turn {
		return false
	}
	off := 0.0
	for i := range u {
		off = math.Hypot(off, u[i]-from.U[i]-h*from.Tangent[i])
	}
	if off > 0.5*h {
		return false
	}
	last := len(u) - 1
	m0, m1, d := from.Tangent[last], c.w.tangent[last], (u[last]-from.U[last])/h
	return m0*m1 <= 0 || m0*d > 0 && math.Max(math.Abs(m0), math.Abs(m1)) <= 3*math.Abs(d)+1e-9
}

func angle(a, b []float64) float64 {
	dot := 0.0
	for i := range a {
		dot += a[i] * b[i]
	}
	return math.Acos(math.Max(-1, math.Min(1, dot)))
}

// outside is the unknown that is beyond its bound, -1 for none.
func (s *Settings) outside(u []float64) int {
	for i := range u {
		if s.Low != nil && u[i] < s.Low[i] || s.High != nil && u[i] > s.High[i] {
			return i
		}
	}
	return -1
}

// bound ends the curve on the bound of an unknown.
func (c *Curve) bound(from *Point, k int, s *Settings) {
	at := s.High
	if from.Tangent[k] < 0 {
		at = s.Low
	}
	if at == nil || !finite(at[k]) || at[k] == from.U[k] {
		return
	}
	u := slices.Clone(from.U)
	way := (at[k] - from.U[k]) / from.Tangent[k]
	for i := range u {
		u[i] += way * from.Tangent[i]
	}
	u[k] = at[k]
	row := make([]float64, len(u))
	row[k] = 1
	if c.w.correct(u, row, u) && c.w.direction(from.Tangent) {
		u[k] = at[k]
		last := len(u) - 1
		if from.Tangent[last]*c.w.tangent[last] < 0 {
			end, tangent := u, slices.Clone(c.w.tangent)
			c.fold(from, way)
			if !c.w.slopes(end) || !c.w.direction(tangent) {
				return
			}
		}
		c.add(u)
	}
}

// back tells whether the start lies within the step that led to u.
func (c *Curve) back(u []float64, h float64) bool {
	first := &c.Points[0]
	along, off := 0.0, 0.0
	for i := range u {
		d := u[i] - first.U[i]
		along += d * first.Tangent[i]
		off = math.Hypot(off, d)
	}
	return along >= 0 && along <= h && off <= 1.5*h && angle(first.Tangent, c.w.tangent) < 1
}
