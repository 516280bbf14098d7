package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Oscillator is a mass on a spring with a damper that a constant force F pulls
// from rest, m x” + c x' + k x = F. Every reversal is an event. Force may be
// changed by a command.
type Oscillator struct {
	Mass, Damping, Stiffness, Force float64
	lay                             sim.Layout
}

// NewOscillator is m 1 kg, c 2 N s/m, k 100 N/m, F 10 N: peak 0.172924761 m
// at 0.315741942 s, x(1) = 0.133685168 m (closed form; the digits seen and
// reproduced).
func NewOscillator() *Oscillator { return &Oscillator{Mass: 1, Damping: 2, Stiffness: 100, Force: 10} }

// Position is x(t) from rest at zero, the closed form of the underdamped case.
func (o *Oscillator) Position(t float64) float64 {
	a, w := o.rates()
	s, c := math.Sincos(w * t)
	return o.Force / o.Stiffness * (1 - math.Exp(-a*t)*(c+a/w*s))
}

// Reversal is the time of the k-th reversal after the start: k pi/omega.
func (o *Oscillator) Reversal(k int) float64 {
	_, w := o.rates()
	return float64(k) * math.Pi / w
}

func (o *Oscillator) rates() (decay, omega float64) {
	decay = o.Damping / (2 * o.Mass)
	return decay, math.Sqrt(o.Stiffness/o.Mass - decay*decay)
}

// Start is at rest at zero.
func (o *Oscillator) Start() sim.State { return start(o.Layout(), 0, 0, 0) }

// Layout implements sim.System.
func (o *Oscillator) Layout() *sim.Layout {
	if o.lay.Vars == nil {
		o.lay = sim.Layout{Vars: []string{"position", "velocity"}, Scales: []float64{0.1, 1}, Ledger: []string{"dissipated", "work"},
			Modes: []string{"direction"}, Guards: []string{"reversal"},
			Entries: []method.Entry{{Row: 0, Col: 1}, {Row: 1, Col: 0}, {Row: 1, Col: 1}, {Row: 2, Col: 1}, {Row: 3, Col: 1}}}
	}
	return &o.lay
}

// Energy is that of the mass and the spring.
func (o *Oscillator) Energy(y []float64) float64 {
	return (o.Mass*y[1]*y[1] + o.Stiffness*y[0]*y[0]) / 2
}

// Derivative implements sim.System.
func (o *Oscillator) Derivative(_ float64, y []float64, _ []sim.Mode, dy, dq []float64) {
	dy[0], dy[1] = y[1], (o.Force-o.Stiffness*y[0]-o.Damping*y[1])/o.Mass
	dq[0], dq[1] = o.Damping*y[1]*y[1], o.Force*y[1]
}

// Jacobian implements sim.System.
func (o *Oscillator) Jacobian(_ float64, y []float64, _ []sim.Mode, e []float64) {
	e[0], e[1], e[2] = 1, -o.Stiffness/o.Mass, -o.Damping/o.Mass
	e[3], e[4] = 2*o.Damping*y[1], o.Force
}

// Moving implements sim.System.
func (o *Oscillator) Moving(_ []sim.Mode, moving []bool) { moving[0], moving[1] = true, true }

// Guards implements sim.System. The mode is the direction of motion: 0 out,
// 1 back.
func (o *Oscillator) Guards(_ float64, y []float64, modes []sim.Mode, g []float64) {
	g[0] = y[1]
	if modes[0] == 1 {
		g[0] = -y[1]
	}
}

// Cross implements sim.System.
func (o *Oscillator) Cross(_ int, s *sim.State, report sim.Report) {
	s.Modes[0] = 1 - s.Modes[0]
	report("reversal", "mass")
}

// Expire implements sim.System.
func (o *Oscillator) Expire(int, *sim.State, sim.Report) {}

// Begin implements sim.System: the direction follows from the velocity, at
// rest from the force.
func (o *Oscillator) Begin(s *sim.State, _ sim.Report) {
	v := s.Y[1]
	if v == 0 {
		v = o.Force - o.Stiffness*s.Y[0]
	}
	s.Modes[0] = 0
	if v < 0 {
		s.Modes[0] = 1
	}
}
