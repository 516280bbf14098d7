package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Modes of the ball.
const (
	BallFalling sim.Mode = iota
	BallRising
	BallResting
)

// Ball is a ball under gravity on a floor that returns the part Restitution of
// its speed. Its variables are height and velocity, its quadrature the path
// walked.
type Ball struct {
	Gravity, Height, Restitution float64
	// Hold is the speed after a bounce below which the ball stays down; 0: it
	// never does.
	Hold float64
	// Ceiling, if above zero, turns the ball back at that height.
	Ceiling float64
	// Apex makes an event of the highest point of every flight. Without it the
	// path is not integrated.
	Apex bool

	lay sim.Layout
}

// NewBall is the published problem: 10 m, 9.81 m/s2, restitution 0.8. First
// impact 1.427843123 s, rest at 12.850588106 s, path 45.555556 m
// (closed forms below; the digits seen and reproduced).
func NewBall(hold float64) *Ball {
	return &Ball{Gravity: 9.81, Height: 10, Restitution: 0.8, Hold: hold, Apex: true}
}

// FirstImpact is sqrt(2 h/g).
func (b *Ball) FirstImpact() float64 { return math.Sqrt(2 * b.Height / b.Gravity) }

// Impact is the time of the k-th impact, k from 1: the flight after the j-th
// lasts 2 e^j v/g, v the speed of the first impact.
func (b *Ball) Impact(k int) float64 {
	t, e := b.FirstImpact(), 1.0
	for range k - 1 {
		e *= b.Restitution
		t += 2 * e * b.FirstImpact()
	}
	return t
}

// Impacts is the number of the impact at which a ball with Hold stays down:
// the first k for which e^k v is below Hold.
func (b *Ball) Impacts() int {
	v := b.Gravity * b.FirstImpact()
	k := 0
	for v >= b.Hold {
		v *= b.Restitution
		k++
	}
	return k
}

// Rest is the time at which a ball without Hold would come to rest, after
// endlessly many impacts: t1 (1 + e)/(1 - e).
func (b *Ball) Rest() float64 {
	return b.FirstImpact() * (1 + b.Restitution) / (1 - b.Restitution)
}

// Path is the path walked up to Impact(k); k < 0: up to Rest,
// h (1 + e^2)/(1 - e^2).
func (b *Ball) Path(k int) float64 {
	e2 := b.Restitution * b.Restitution
	if k < 0 {
		return b.Height * (1 + e2) / (1 - e2)
	}
	p, h := b.Height, b.Height
	for range k - 1 {
		h *= e2
		p += 2 * h
	}
	return p
}

// Start lets the ball go from its height.
func (b *Ball) Start() sim.State { return start(b.Layout(), 0, b.Height, 0) }

// Layout implements sim.System.
func (b *Ball) Layout() *sim.Layout {
	if b.lay.Vars == nil {
		b.lay = sim.Layout{Vars: []string{"height", "velocity"}, Scales: []float64{1, 1}, Ledger: []string{"path"},
			Modes: []string{"ball"}, Guards: []string{"floor", "ceiling", "apex"},
			Entries: []method.Entry{{Row: 0, Col: 1}, {Row: 2, Col: 1}}}
	}
	return &b.lay
}

// Derivative implements sim.System.
func (b *Ball) Derivative(_ float64, y []float64, modes []sim.Mode, dy, dq []float64) {
	dy[0], dy[1], dq[0] = 0, 0, 0
	if modes[0] != BallResting {
		dy[0], dy[1] = y[1], -b.Gravity
		dq[0] = b.walk(modes) * y[1]
	}
}

// walk is the sign with which the velocity counts as path.
func (b *Ball) walk(modes []sim.Mode) float64 {
	switch {
	case !b.Apex:
		return 0
	case modes[0] == BallRising:
		return 1
	default:
		return -1
	}
}

// Jacobian implements sim.System.
func (b *Ball) Jacobian(_ float64, _ []float64, modes []sim.Mode, e []float64) {
	e[0], e[1] = 0, 0
	if modes[0] != BallResting {
		e[0], e[1] = 1, b.walk(modes)
	}
}

// Moving implements sim.System.
func (b *Ball) Moving(modes []sim.Mode, moving []bool) {
	moving[0] = modes[0] != BallResting
	moving[1] = moving[0]
}

// Guards implements sim.System.
func (b *Ball) Guards(_ float64, y []float64, modes []sim.Mode, g []float64) {
	g[0], g[1], g[2] = math.Inf(1), math.Inf(1), math.Inf(1)
	if modes[0] == BallResting {
		return
	}
	// The floor that a rising ball has just left is out of reach until it has
	// turned; without an apex event it must be watched throughout.
	if modes[0] == BallFalling || !b.Apex {
		g[0] = y[0]
	}
	if b.Ceiling > 0 {
		g[1] = b.Ceiling - y[0]
	}
	if b.Apex && modes[0] == BallRising {
		g[2] = y[1]
	}
}

// Cross implements sim.System.
func (b *Ball) Cross(guard int, s *sim.State, report sim.Report) {
	switch guard {
	case 0:
		s.Y[0] = 0
		s.Y[1] = b.Restitution * math.Abs(s.Y[1])
		s.Modes[0] = BallRising
		if s.Y[1] < b.Hold {
			s.Y[1], s.Modes[0] = 0, BallResting
			report("rest", "ball")
			return
		}
		report("bounce", "ball")
	case 1:
		s.Y[0] = b.Ceiling
		s.Y[1] = -b.Restitution * math.Abs(s.Y[1])
		s.Modes[0] = BallFalling
		report("ceiling", "ball")
	case 2:
		s.Modes[0] = BallFalling
		report("apex", "ball")
	}
}

// Expire implements sim.System.
func (b *Ball) Expire(int, *sim.State, sim.Report) {}

// Begin implements sim.System.
func (b *Ball) Begin(s *sim.State, _ sim.Report) {
	if s.Modes[0] != BallResting && s.Y[1] > 0 {
		s.Modes[0] = BallRising
	}
}
