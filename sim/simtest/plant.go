package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Modes of the plant's gate.
const (
	GateShut sim.Mode = iota // held at 0
	GateMoving
	GateOpen // held at 1
)

// Plant has a little of everything: a store that an inflow of varying strength
// fills, a small chamber behind it (the stiff part), a gate that lets it out,
// with mass, spring, stops and restitution, a coil that moves the gate, a
// relay with delays that feeds the coil, a switch with a sensor of first order
// that works the relay. In symbols, in(t) = Inflow (1 + 0.3 sin 7 t):
//
//	a' = in - K (a - b)                 store
//	E b' = K (a - b) - D x sqrt(b)      chamber
//	x' = v, m v' = 3 i^2 - 1 - x/2 - c v  gate
//	L i' = on - i                       coil
//	tau s' = a - s                      sensor
//
// Its ledger is what came in and went out: a + E b + out - in is constant.
// There is no closed form; it serves to compare runs with each other.
type Plant struct {
	Inflow float64
	K, E   float64 // the chamber's rate is K/E
	D      float64
	lay    sim.Layout
}

const (
	plantMass, plantDamping       = 1e-3, 0.02
	plantCoil, plantSensor        = 0.01, 0.05
	plantSet, plantReset          = 2.0, 1.0
	plantOn, plantOff             = 0.02, 0.03
	plantReturn, plantHold        = 0.3, 0.05
	plantRipple, plantRippleSpeed = 0.3, 7.0
)

// NewPlant cycles about once a second; its fastest rate is 2e4 1/s.
func NewPlant() *Plant { return &Plant{Inflow: 1, K: 20, E: 1e-3, D: 3} }

// Start is with the store low and everything at rest.
func (p *Plant) Start() sim.State { return start(p.Layout(), 0, 1, 1, 0, 0, 0, 1) }

// Balance is the sum that stays constant.
func (p *Plant) Balance(s *sim.State) float64 { return s.Y[0] + p.E*s.Y[1] + s.Q[1] - s.Q[0] }

// Layout implements sim.System.
func (p *Plant) Layout() *sim.Layout {
	if p.lay.Vars == nil {
		p.lay = sim.Layout{
			Vars:   []string{"store", "chamber", "gate", "speed", "current", "sensor"},
			Scales: []float64{1, 1, 0.1, 1, 0.1, 1},
			Ledger: []string{"in", "out"},
			Modes:  []string{"gate", "switch", "relay"},
			Timers: []string{"relay"},
			Guards: []string{"release", "shut", "open", "switch"},
			Entries: []method.Entry{{Row: 0, Col: 0}, {Row: 0, Col: 1}, {Row: 1, Col: 0}, {Row: 1, Col: 1}, {Row: 1, Col: 2},
				{Row: 2, Col: 3}, {Row: 3, Col: 2}, {Row: 3, Col: 3}, {Row: 3, Col: 4}, {Row: 4, Col: 4}, {Row: 5, Col: 0}, {Row: 5, Col: 5},
				{Row: 7, Col: 1}, {Row: 7, Col: 2}},
		}
	}
	return &p.lay
}

func (p *Plant) force(y []float64) float64 { return 3*y[4]*y[4] - 1 - y[2]/2 }

// Derivative implements sim.System.
func (p *Plant) Derivative(t float64, y []float64, modes []sim.Mode, dy, dq []float64) {
	in := p.Inflow * (1 + plantRipple*math.Sin(plantRippleSpeed*t))
	through, out := p.K*(y[0]-y[1]), p.D*y[2]*math.Sqrt(y[1])
	dy[0], dy[1] = in-through, (through-out)/p.E
	dy[2], dy[3] = 0, 0
	if modes[0] == GateMoving {
		dy[2], dy[3] = y[3], (p.force(y)-plantDamping*y[3])/plantMass
	}
	dy[4] = (float64(modes[2]) - y[4]) / plantCoil
	dy[5] = (y[0] - y[5]) / plantSensor
	dq[0], dq[1] = in, out
}

// Jacobian implements sim.System.
func (p *Plant) Jacobian(_ float64, y []float64, modes []sim.Mode, e []float64) {
	root := math.Sqrt(y[1])
	outB, outX := p.D*y[2]/(2*root), p.D*root
	e[0], e[1] = -p.K, p.K
	e[2], e[3], e[4] = p.K/p.E, -(p.K+outB)/p.E, -outX/p.E
	e[5], e[6], e[7], e[8] = 0, 0, 0, 0
	if modes[0] == GateMoving {
		e[5], e[6], e[7], e[8] = 1, -0.5/plantMass, -plantDamping/plantMass, 6*y[4]/plantMass
	}
	e[9] = -1 / plantCoil
	e[10], e[11] = 1/plantSensor, -1/plantSensor
	e[12], e[13] = outB, outX
}

// TimeDerivative implements sim.TimeSystem.
func (p *Plant) TimeDerivative(t float64, _ []float64, _ []sim.Mode, dft, dgt []float64) {
	clear(dft)
	dft[0] = p.Inflow * plantRipple * plantRippleSpeed * math.Cos(plantRippleSpeed*t)
	dgt[0], dgt[1] = dft[0], 0
}

// Moving implements sim.System.
func (p *Plant) Moving(modes []sim.Mode, moving []bool) {
	for i := range moving {
		moving[i] = true
	}
	moving[2] = modes[0] == GateMoving
	moving[3] = moving[2]
}

// Guards implements sim.System.
func (p *Plant) Guards(_ float64, y []float64, modes []sim.Mode, g []float64) {
	g[0], g[1], g[2] = math.Inf(1), math.Inf(1), math.Inf(1)
	switch modes[0] {
	case GateShut:
		g[0] = -p.force(y)
	case GateOpen:
		g[0] = p.force(y)
	default:
		g[1], g[2] = y[2], 1-y[2]
	}
	if modes[1] == 0 {
		g[3] = plantSet - y[5]
	} else {
		g[3] = y[5] - plantReset
	}
}

// Cross implements sim.System.
func (p *Plant) Cross(guard int, s *sim.State, report sim.Report) {
	switch guard {
	case 0:
		report([]string{"lifts", "", "drops"}[s.Modes[0]], "gate")
		s.Modes[0] = GateMoving
	case 1:
		p.stop(s, 0, 1, GateShut, report)
	case 2:
		p.stop(s, 1, -1, GateOpen, report)
	case 3:
		s.Modes[1] = 1 - s.Modes[1]
		report([]string{"reset", "made"}[s.Modes[1]], "switch")
		p.follow(s)
	}
}

func (p *Plant) stop(s *sim.State, at, away float64, held sim.Mode, report sim.Report) {
	s.Y[2] = at
	s.Y[3] = away * plantReturn * math.Abs(s.Y[3])
	if math.Abs(s.Y[3]) < plantHold && away*p.force(s.Y) < 0 {
		s.Y[3], s.Modes[0] = 0, held
		report([]string{"shut", "", "open"}[held], "gate")
		return
	}
	report("bounce", "gate")
}

func (p *Plant) follow(s *sim.State) {
	switch {
	case s.Modes[1] == s.Modes[2]:
		s.Timers[0] = math.Inf(1)
	case !math.IsInf(s.Timers[0], 1):
		// on its way already
	case s.Modes[1] == 1:
		s.Timers[0] = s.T + plantOn
	default:
		s.Timers[0] = s.T + plantOff
	}
}

// Expire implements sim.System.
func (p *Plant) Expire(_ int, s *sim.State, report sim.Report) {
	s.Modes[2] = s.Modes[1]
	report([]string{"off", "on"}[s.Modes[2]], "relay")
}

// Begin implements sim.System.
func (p *Plant) Begin(*sim.State, sim.Report) {}
