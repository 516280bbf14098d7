package simtest

import (
	"fmt"
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Watched is a system with guards that only watch: each reports once, under
// its number, and is then spent.
type Watched struct {
	sim.System
	guards []func(t float64, y []float64) float64
	lay    sim.Layout
}

// Watch adds guards to a system without modes, timers and guards.
func Watch(sys sim.System, guards ...func(t float64, y []float64) float64) *Watched {
	w := &Watched{System: sys, guards: guards, lay: *sys.Layout()}
	for i := range guards {
		w.lay.Guards = append(w.lay.Guards, fmt.Sprint("guard ", i))
		w.lay.Modes = append(w.lay.Modes, fmt.Sprint("spent ", i))
	}
	return w
}

// Layout implements sim.System.
func (w *Watched) Layout() *sim.Layout { return &w.lay }

// Guards implements sim.System.
func (w *Watched) Guards(t float64, y []float64, modes []sim.Mode, g []float64) {
	for i, f := range w.guards {
		g[i] = math.Inf(1)
		if modes[i] == 0 {
			g[i] = f(t, y)
		}
	}
}

// Cross implements sim.System.
func (w *Watched) Cross(guard int, s *sim.State, report sim.Report) {
	s.Modes[guard] = 1
	report(fmt.Sprint(guard), "guard")
}

// Line is y' = slope from zero, which every method follows exactly in steps of
// any length.
func Line(slope float64) *ODE {
	return &ODE{
		Lay: sim.Layout{Vars: []string{"y"}, Scales: []float64{1}},
		F:   func(_ float64, _, dy, _ []float64) { dy[0] = slope },
		J:   func(float64, []float64, []float64) {},
	}
}

// Rotor is y1' = omega y2, y2' = -omega y1 from (0, 1): sine and cosine.
func Rotor(omega float64) *ODE {
	return &ODE{
		Lay: sim.Layout{Vars: []string{"sine", "cosine"}, Scales: []float64{1, 1}, Entries: dense(2)},
		F:   func(_ float64, y, dy, _ []float64) { dy[0], dy[1] = omega*y[1], -omega*y[0] },
		J:   func(_ float64, _, e []float64) { e[0], e[1], e[2], e[3] = 0, omega, -omega, 0 },
	}
}

// Pushed is a mass that a force sets in motion from rest at zero, the force
// itself coming up from nothing at the given rate: x' = v, v' = z,
// z' = rate (1 - z). It leaves zero along a tangent and never returns.
func Pushed(rate float64) *ODE {
	return &ODE{
		Lay: sim.Layout{Vars: []string{"x", "v", "z"}, Scales: []float64{1, 1, 1},
			Entries: []method.Entry{{Row: 0, Col: 1}, {Row: 1, Col: 2}, {Row: 2, Col: 2}}},
		F: func(_ float64, y, dy, _ []float64) { dy[0], dy[1], dy[2] = y[1], y[2], rate*(1-y[2]) },
		J: func(_ float64, _, e []float64) { e[0], e[1], e[2] = 1, 1, -rate },
	}
}
