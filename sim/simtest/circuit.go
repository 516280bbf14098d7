package simtest

import (
	"math"

	"underdisc/sim"
	"underdisc/sim/method"
)

// Coil is a winding L di/dt = V - R i whose armature picks up at the part
// Pick of the full current and drops out at the part Drop. It is switched on
// at the start and off, through a diode, at Off.
type Coil struct {
	Inductance, Resistance, Voltage float64
	Pick, Drop, Off                 float64
	lay                             sim.Layout
}

// NewCoil has L/R = 10 ms, pick 60 %, drop 15 %: t_pick 9.163 ms, t_drop
// 18.971 ms (computed from the closed forms below; inputs invented).
func NewCoil() *Coil {
	return &Coil{Inductance: 0.5, Resistance: 50, Voltage: 125, Pick: 0.6, Drop: 0.15, Off: 0.5}
}

// PickUp is the time from switching on to picking up: (L/R) ln(1/(1 - Pick)).
func (c *Coil) PickUp() float64 { return c.tau() * math.Log(1/(1-c.Pick)) }

// DropOut is the time from switching off the full current to dropping out:
// (L/R) ln(1/Drop).
func (c *Coil) DropOut() float64 { return c.tau() * math.Log(1/c.Drop) }

func (c *Coil) tau() float64 { return c.Inductance / c.Resistance }

// Start is without current, just switched on.
func (c *Coil) Start() sim.State {
	s := start(c.Layout(), 0, 0)
	s.Modes[0] = 1
	s.Timers[0] = c.Off
	return s
}

// Layout implements sim.System.
func (c *Coil) Layout() *sim.Layout {
	if c.lay.Vars == nil {
		c.lay = sim.Layout{Vars: []string{"current"}, Scales: []float64{1}, Modes: []string{"supply", "armature"},
			Timers: []string{"off"}, Guards: []string{"armature"}, Entries: []method.Entry{{Row: 0, Col: 0}}}
	}
	return &c.lay
}

// Derivative implements sim.System.
func (c *Coil) Derivative(_ float64, y []float64, modes []sim.Mode, dy, _ []float64) {
	dy[0] = (c.Voltage*float64(modes[0]) - c.Resistance*y[0]) / c.Inductance
}

// Jacobian implements sim.System.
func (c *Coil) Jacobian(_ float64, _ []float64, _ []sim.Mode, e []float64) {
	e[0] = -c.Resistance / c.Inductance
}

// Moving implements sim.System.
func (c *Coil) Moving(_ []sim.Mode, moving []bool) { moving[0] = true }

// Guards implements sim.System.
func (c *Coil) Guards(_ float64, y []float64, modes []sim.Mode, g []float64) {
	full := c.Voltage / c.Resistance
	if modes[1] == 0 {
		g[0] = c.Pick*full - y[0]
	} else {
		g[0] = y[0] - c.Drop*full
	}
}

// Cross implements sim.System.
func (c *Coil) Cross(_ int, s *sim.State, report sim.Report) {
	s.Modes[1] = 1 - s.Modes[1]
	report([]string{"drop-out", "pick-up"}[s.Modes[1]], "armature")
}

// Expire implements sim.System.
func (c *Coil) Expire(_ int, s *sim.State, report sim.Report) {
	s.Modes[0] = 0
	report("off", "supply")
}

// Begin implements sim.System.
func (c *Coil) Begin(*sim.State, sim.Report) {}

// Pump is a vessel that a relay fills and empties: its level rises at Fill
// while the relay is off and falls at Empty while it is on; a switch makes at
// Set and breaks at Reset; the relay follows it after the delays On and Off.
// All its times have closed forms. If the switch changes its mind before the
// relay has followed, the timer is stopped.
type Pump struct {
	Fill, Empty, Set, Reset, On, Off float64
	lay                              sim.Layout
}

// NewPump has no two equal times.
func NewPump() *Pump {
	return &Pump{Fill: 0.7, Empty: 1.9, Set: 3, Reset: 2, On: 0.11, Off: 0.23}
}

// Times are the moments of the k-th cycle, k from 0, from the start at level
// zero: switch made, relay on, switch reset, relay off.
func (p *Pump) Times(k int) (made, on, reset, off float64) {
	top, bottom := p.Set+p.On*p.Fill, p.Reset-p.Off*p.Empty
	made = p.Set / p.Fill
	period := p.On + (top-p.Reset)/p.Empty + p.Off + (p.Set-bottom)/p.Fill
	made += float64(k) * period
	on = made + p.On
	reset = on + (top-p.Reset)/p.Empty
	return made, on, reset, reset + p.Off
}

// Start is an empty vessel.
func (p *Pump) Start() sim.State { return start(p.Layout(), 0, 0) }

// Layout implements sim.System.
func (p *Pump) Layout() *sim.Layout {
	if p.lay.Vars == nil {
		p.lay = sim.Layout{Vars: []string{"level"}, Scales: []float64{1}, Modes: []string{"switch", "relay"},
			Timers: []string{"relay"}, Guards: []string{"switch"}}
	}
	return &p.lay
}

// Derivative implements sim.System.
func (p *Pump) Derivative(_ float64, _ []float64, modes []sim.Mode, dy, _ []float64) {
	dy[0] = p.Fill
	if modes[1] == 1 {
		dy[0] = -p.Empty
	}
}

// Jacobian implements sim.System: it is zero throughout.
func (p *Pump) Jacobian(float64, []float64, []sim.Mode, []float64) {}

// Moving implements sim.System.
func (p *Pump) Moving(_ []sim.Mode, moving []bool) { moving[0] = true }

// Guards implements sim.System.
func (p *Pump) Guards(_ float64, y []float64, modes []sim.Mode, g []float64) {
	if modes[0] == 0 {
		g[0] = p.Set - y[0]
	} else {
		g[0] = y[0] - p.Reset
	}
}

// Cross implements sim.System.
func (p *Pump) Cross(_ int, s *sim.State, report sim.Report) {
	s.Modes[0] = 1 - s.Modes[0]
	report([]string{"switch-reset", "switch-made"}[s.Modes[0]], "switch")
	p.follow(s)
}

func (p *Pump) follow(s *sim.State) {
	if s.Modes[0] == s.Modes[1] {
		s.Timers[0] = math.Inf(1)
	} else {
		s.Timers[0] = s.T + []float64{p.Off, p.On}[s.Modes[0]]
	}
}

// Expire implements sim.System.
func (p *Pump) Expire(_ int, s *sim.State, report sim.Report) {
	s.Modes[1] = s.Modes[0]
	report([]string{"relay-off", "relay-on"}[s.Modes[1]], "relay")
}

// Begin implements sim.System.
func (p *Pump) Begin(*sim.State, sim.Report) {}
