package flow_test

import (
	"math"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// Sea-level pressure of the demo valves, Pa.
const sea = 101325.0

// trialGas is the gas that the two-ring demo valve was tried on, at 523 K.
var trialGas = fluid.Gas{Gamma: 1.3, R: 383, Viscosity: 1.8e-5}

const trialT = 523.0

// trialAt is a state of it.
func trialAt(p float64) fluid.State { return stateOf(&trialGas, p, trialT) }

// twoRings is the demo valve with two rings: pops at 40 bar gauge.
func twoRings(law flow.Law, gap, height float64) flow.Rings {
	return flow.Rings{Law: law, Bore: 45e-3, Nozzle: 0.975, Seat: 47.5e-3, Curtain: 0.85,
		Lower:    flow.RingGap{Diameter: 52e-3, Gap: gap, Notches: 15e-6, Cd: 0.88, Carried: 0.72, CarryLift: 5.5e-3},
		Upper:    &flow.RingExit{Diameter: 62e-3, Height: height, Cd: 0.9},
		Momentum: 0.7}
}

// hooded is the demo valve with one ring and a hood, for air at 10 bar gauge.
func hooded(law flow.Law) flow.Rings {
	return flow.Rings{Law: law, Bore: 40e-3, Nozzle: 0.975, Seat: 42.5e-3, Curtain: 0.85,
		Lower:    flow.RingGap{Diameter: 48.3e-3, Gap: 2.1e-3, Notches: 10e-6, Cd: 0.88, Carried: 0.79, CarryLift: 4.5e-3},
		Hood:     &flow.HoodTurn{Diameter: 56e-3, Turned: 0.7, Sine: 0.25},
		Momentum: 0.7}
}

// proportional is the demo valve for liquid.
func proportional(law flow.Law) flow.Plug {
	return flow.Plug{Law: law, Bore: 28e-3, Nozzle: 0.95, Seat: 30e-3, Curtain: 0.65, Momentum: 0.3}
}

// spring is what holds a demo valve's disc down.
type spring struct {
	rate, preload, mass, stop float64
	contact, length           float64 // between the faces of the seat
}

var (
	twoRingSpring = spring{rate: 180e3, preload: 7044, mass: 4, stop: 14e-3, contact: 142, length: 4e-6}
	hoodSpring    = spring{rate: 43.5e3, preload: 1392, mass: 2.5, stop: 12e-3, contact: 28, length: 4e-6}
)

func (s *spring) faces(x float64) float64 { return s.contact * math.Exp(-x/s.length) }

func (s *spring) holds(x float64) float64 {
	return s.preload + s.rate*x + s.mass*9.81 - s.faces(x)
}

// balance is the gauge pressure in bar at which the disc is in equilibrium at the
// lift x.
func (s *spring) balance(way flow.PastDisc, at func(p float64) fluid.State, x float64) float64 {
	var q flow.Past
	lo, hi := 1.1*sea, 200e5
	for range 60 {
		p := (lo + hi) / 2
		up := at(p)
		way.At(&up, sea, x, &q)
		if q.Force > s.holds(x) {
			hi = p
		} else {
			lo = p
		}
	}
	return ((lo+hi)/2 - sea) / 1e5
}

// folds are the pressures, bar gauge, at which the valve pops and reseats, the
// lifts there, and that at which it simmers: where the gap is a micrometre.
type folds struct{ pop, popLift, reseat, reseatLift, simmer float64 }

// scan finds them: the first maximum of the pressure of equilibrium over the
// lift, and the least beyond. Lifts below 1 mm go by logarithm.
func (s *spring) scan(way flow.PastDisc, at func(p float64) fluid.State) (f folds) {
	var x, p []float64
	add := func(l float64) { x, p = append(x, l), append(p, s.balance(way, at, l)) }
	for i := range 81 {
		add(1e-6 * math.Pow(1000, float64(i)/80))
	}
	for i := 1; i <= 130; i++ {
		add(1e-3 + (s.stop-1e-3)*float64(i)/130)
	}
	top := 0
	for i := 1; i < len(x)-1; i++ {
		if p[i] >= p[i-1] && p[i] > p[i+1] {
			top = i
			break
		}
	}
	f = folds{pop: p[top], popLift: x[top], reseat: math.Inf(1)}
	for i := top; i < len(x); i++ {
		if p[i] < f.reseat {
			f.reseat, f.reseatLift = p[i], x[i]
		}
	}
	f.simmer = p[0]
	return f
}
