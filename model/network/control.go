package network

import (
	"math"

	"underdisc/sim"
)

// Regulator is a controller with proportional and integral action, limits and
// the lag of what it moves:
//
//	asked = Base + Gain (Set - r) + I + what watchers add, kept within Least..Most
//	du/dt = (asked - u)/Lag
//	dI/dt = (Gain (Set - r) + asked - unlimited)/Reset
//
// The last term keeps the integral from winding up at a limit (back
// calculation, with Reset as its time constant; Astrom and Haegglund, PID
// Controllers, 1995, section 3.5; from memory). r is a sensor's reading or, with
// Level, the share of a node's volume that is water. By hand it asks for
// Base + I and what the watchers add, and I rests. Whoever changes it from one to
// the other finds it where it was (TakeOver); a new Base in hand is what is asked
// for then.
type Regulator struct {
	Name              string
	Sensor            int
	Level             bool
	Node              Node // of Level
	Set, Gain         float64
	Base, Least, Most float64
	Reset, Lag        float64
	Hand              bool
	Unit              string // of the output
}

// Watcher is people who act on a reading with a delay: what they go by is the
// reading behind four equal first-order lags, a delay of mean Delay and standard
// deviation Delay/2. They add Gain (Hold - what they go by), kept within 0..Most,
// to what a regulator asks for.
type Watcher struct {
	Name             string
	Sensor           int
	To               int // regulator
	Hold, Gain, Most float64
	Delay            float64
	Idle             bool
}

// watchLags is the number of lags in a row that make a delay.
const watchLags = 4

// Actuator moves an opening at a steady speed from where it stands to Target,
// both 0..1.
type Actuator struct {
	Name   string
	Target float64
	Time   float64 // s from 0 to 1
	Events ActuatorEvents
}

// ActuatorEvents are the names under which it goes on record: it sets off, has
// arrived at one, at zero, or in between.
type ActuatorEvents struct{ Moves, Open, Shut, Between string }

// Modes of an actuator.
const (
	ActuatorStill int8 = iota
	ActuatorOpens
	ActuatorShuts
)

// driven is the area with the actuator at s.
func (o *Opening) driven(s float64) float64 { return o.Leak + o.Full*math.Max(s, 0) }

// rate is dr/dt of a reading r at the pressure p, and its slope by p, which is
// less that by r.
func (s *Sensor) rate(p, r float64) (rate, slope float64) {
	d, lag := p+s.Offset-r, s.Lag
	if d < 0 && s.FallLag > 0 {
		lag = s.FallLag
	}
	if s.Blocked == 0 {
		return d / lag, 1 / lag
	}
	slope = (1 - s.Blocked) / lag
	return slope * d, slope
}

// control hands out variables and modes.
func (n *Network) control(variable func(name, unit string, scale float64) int, mode func(string) int) {
	for i := range n.Coils {
		k := -1
		if n.Coils[i].Copper > 0 {
			k = variable(n.Coils[i].Name+".temperature", "K", coldCopper)
		}
		n.copperVar = append(n.copperVar, k)
	}
	for i := range n.Fuses {
		n.fuseVar = append(n.fuseVar, variable(n.Fuses[i].Name+".heat", "", 1))
	}
	for i := range n.Actuators {
		n.actVar = append(n.actVar, variable(n.Actuators[i].Name+".opening", "", 1))
	}
	for i := range n.Watchers {
		w := &n.Watchers[i]
		for k := range watchLags {
			v := variable(w.Name+".reading-"+string(rune('1'+k)), "Pa", 1e5)
			if k == 0 {
				n.watchVar = append(n.watchVar, v)
			}
		}
	}
	for i := range n.Regulators {
		r := &n.Regulators[i]
		n.regVar = append(n.regVar, variable(r.Name+".output", r.Unit, math.Max(r.Most, 1e-9)))
		variable(r.Name+".integral", r.Unit, math.Max(r.Most, 1e-9))
	}
	n.fuseMode = len(n.lay.Modes)
	for i := range n.Fuses {
		mode(n.Fuses[i].Name)
	}
	n.actMode = len(n.lay.Modes)
	for i := range n.Actuators {
		mode(n.Actuators[i].Name)
	}
}

// guardControl hands out guards, after those of movers and switches.
func (n *Network) guardControl() {
	l := &n.lay
	n.fuseGuard = len(l.Guards)
	for i := range n.Fuses {
		l.Guards = append(l.Guards, n.Fuses[i].Name)
	}
	n.actGuard = len(l.Guards)
	for i := range n.Actuators {
		l.Guards = append(l.Guards, n.Actuators[i].Name)
	}
}

// startControl sets what stands at the start: actuators where they are asked to
// be, controllers at their base, copper as warm as what surrounds it.
func (n *Network) startControl(s *sim.State) {
	for i, k := range n.copperVar {
		if k >= 0 {
			s.Y[k] = n.Coils[i].Around
		}
	}
	for i, k := range n.actVar {
		s.Y[k] = n.Actuators[i].Target
	}
	for i, k := range n.watchVar {
		for l := range watchLags {
			s.Y[k+l] = s.Y[n.sensorVar[n.Watchers[i].Sensor]]
		}
	}
	for i, k := range n.regVar {
		s.Y[k] = n.Regulators[i].Base
	}
}

// feed is the mass flow and the energy flow of a feed.
func (n *Network) feed(i int, y []float64) (w, e float64) {
	f := &n.Feeds[i]
	w, e = f.MassFlow, f.Heat
	if f.By > 0 {
		if u := y[n.regVar[f.By-1]]; f.ByMass {
			w = u
		} else {
			e = u
		}
	}
	return w, w*f.Enthalpy + e
}

// adds is what a watcher adds, and its slope by what it goes by.
func (n *Network) adds(i int, y []float64) (add, slope float64) {
	w := &n.Watchers[i]
	if w.Idle {
		return 0, 0
	}
	a := w.Gain * (w.Hold - y[n.watchVar[i]+watchLags-1])
	switch {
	case a <= 0:
		return 0, 0
	case a >= w.Most:
		return w.Most, 0
	}
	return a, -w.Gain
}

// asked is what a regulator asks for, before and after its limits.
func (n *Network) asked(i int, y []float64) (free, limited float64) {
	r := &n.Regulators[i]
	free = r.Base + y[n.regVar[i]+1]
	if !r.Hand {
		free += r.Gain * (r.Set - n.reading(i, y))
	}
	free += n.added(i, y)
	return free, math.Min(math.Max(free, r.Least), r.Most)
}

func (n *Network) reading(i int, y []float64) float64 {
	r := &n.Regulators[i]
	if r.Level {
		nd := n.node(r.Node)
		return nd.liquid() / nd.vol
	}
	return y[n.sensorVar[r.Sensor]]
}

func (n *Network) controlRates(y []float64, modes []int8, dy []float64) {
	n.fuseRates(y, modes, dy)
	for i, k := range n.actVar {
		switch modes[n.actMode+i] {
		case ActuatorOpens:
			dy[k] = 1 / n.Actuators[i].Time
		case ActuatorShuts:
			dy[k] = -1 / n.Actuators[i].Time
		}
	}
	for i, k := range n.watchVar {
		in, rate := y[n.sensorVar[n.Watchers[i].Sensor]], watchLags/n.Watchers[i].Delay
		for l := range watchLags {
			dy[k+l] = (in - y[k+l]) * rate
			in = y[k+l]
		}
	}
	for i, k := range n.regVar {
		r := &n.Regulators[i]
		free, asked := n.asked(i, y)
		dy[k] = (asked - y[k]) / r.Lag
		if !r.Hand {
			dy[k+1] = (r.Gain*(r.Set-n.reading(i, y)) + asked - free) / r.Reset
		}
	}
}

// compileControl hands out the Jacobian's places.
func (n *Network) compileControl(s *slots, nv int) {
	for i, k := range n.copperVar {
		var j []int32
		if k >= 0 {
			c := n.coilVar[i]
			j = []int32{s.at(c, k), s.at(k, k), s.at(k, c)}
		}
		n.copperJac = append(n.copperJac, j)
	}
	for i, k := range n.fuseVar {
		n.fuseJac = append(n.fuseJac, []int32{s.at(k, k), s.at(k, n.coilVar[n.Fuses[i].Coil])})
	}
	for i, k := range n.watchVar {
		var j []int32
		in := n.sensorVar[n.Watchers[i].Sensor]
		for l := range watchLags {
			j = append(j, s.at(k+l, k+l), s.at(k+l, in))
			in = k + l
		}
		n.watchJac = append(n.watchJac, j)
	}
	for i, k := range n.regVar {
		// Rows output and integral, over: output, integral, the watchers, then
		// what it reads.
		r := &n.Regulators[i]
		cols := []int{k, k + 1}
		for w := range n.Watchers {
			if n.Watchers[w].To == i {
				cols = append(cols, n.watchVar[w]+watchLags-1)
			}
		}
		if r.Level {
			cols = append(cols, n.node(r.Node).cols...)
		} else {
			cols = append(cols, n.sensorVar[r.Sensor])
		}
		var j []int32
		for _, row := range []int{k, k + 1} {
			for _, c := range cols {
				j = append(j, s.at(row, c))
			}
		}
		n.regJac = append(n.regJac, j)
	}
	for i := range n.Feeds {
		f := &n.Feeds[i]
		var j []int32
		if f.By > 0 {
			u, nd := n.regVar[f.By-1], n.node(f.To)
			j = []int32{s.at(nd.u, u), s.at(nv+n.feedQ[i]+1, u)}
			if f.ByMass {
				j = append(j, s.at(nd.m, u), s.at(nv+n.feedQ[i], u))
			}
		}
		n.feedJac = append(n.feedJac, j)
	}
}

func (n *Network) controlJacobian(y []float64, modes []int8, j []float64) {
	n.fuseJacobian(y, modes, j)
	for i := range n.watchVar {
		rate := watchLags / n.Watchers[i].Delay
		for l := range watchLags {
			j[n.watchJac[i][2*l]] -= rate
			j[n.watchJac[i][2*l+1]] += rate
		}
	}
	for i := range n.regVar {
		n.regulatorJacobian(i, y, j)
	}
	for i := range n.Feeds {
		f, k := &n.Feeds[i], n.feedJac[i]
		if f.By == 0 {
			continue
		}
		energy := 1.0
		if f.ByMass {
			energy = f.Enthalpy
			j[k[2]]++
			j[k[3]]++
		}
		j[k[0]] += energy
		j[k[1]] += energy
	}
}

func (n *Network) regulatorJacobian(i int, y, j []float64) {
	r := &n.Regulators[i]
	jr := n.regJac[i]
	half := len(jr) / 2
	free, asked := n.asked(i, y)
	within := 0.0
	if free == asked {
		within = 1
	}
	// by enters a slope of what is asked for freely, and of the error alone.
	by := func(c int, slope, err float64) {
		j[jr[c]] += within * slope / r.Lag
		if !r.Hand {
			j[jr[half+c]] += (err + (within-1)*slope) / r.Reset
		}
	}
	j[jr[0]] -= 1 / r.Lag
	at := 2
	by(1, 1, 0)
	for w := range n.Watchers {
		if n.Watchers[w].To == i {
			_, slope := n.adds(w, y)
			by(at, slope, 0)
			at++
		}
	}
	if r.Hand {
		return
	}
	if !r.Level {
		by(at, -r.Gain, -r.Gain)
		return
	}
	nd := n.node(r.Node)
	lv, lu, lm := nd.liquidSlopes()
	for c := range nd.cols {
		d := lv*nd.dv[c] + lu*nd.du[c]
		if c == 0 {
			d += lm
		}
		d /= nd.vol
		by(at+c, -r.Gain*d, -r.Gain*d)
	}
}

// TakeOver brings over what a change of the description must not jump by: a
// controller changed to hand or back keeps what it asks for.
func (n *Network) TakeOver(old *Network, s *sim.State) {
	n.takeOverCoils(old, s)
	n.takeOverFaces(old, s)
	for i, k := range n.regVar {
		was, is := &old.Regulators[i], &n.Regulators[i]
		if is.Hand == was.Hand {
			if is.Hand && is.Base != was.Base {
				s.Y[k+1] = 0
			}
			continue
		}
		old.at.forget()
		old.evaluate(s.Y)
		n.at.forget()
		n.evaluate(s.Y)
		_, asked := old.asked(i, s.Y)
		s.Y[k+1] = asked - n.added(i, s.Y) - is.Base
		if !is.Hand {
			s.Y[k+1] -= is.Gain * (is.Set - n.reading(i, s.Y))
		}
	}
}

// added is what watchers add to a regulator.
func (n *Network) added(i int, y []float64) (sum float64) {
	for k := range n.Watchers {
		if n.Watchers[k].To == i {
			a, _ := n.adds(k, y)
			sum += a
		}
	}
	return sum
}

func (n *Network) actuatorGuards(y []float64, modes []int8, g []float64) {
	for i := range n.Actuators {
		s, to := y[n.actVar[i]], n.Actuators[i].Target
		switch modes[n.actMode+i] {
		case ActuatorOpens:
			g[i] = to - s
		case ActuatorShuts:
			g[i] = s - to
		default:
			g[i] = math.Inf(1)
		}
	}
}

// arrive: an actuator is where it was asked to be.
func (n *Network) arrive(i int, s *sim.State, report sim.Report) {
	a := &n.Actuators[i]
	s.Y[n.actVar[i]] = a.Target
	s.Modes[n.actMode+i] = ActuatorStill
	switch a.Target {
	case 0:
		report(a.Events.Shut, a.Name)
	case 1:
		report(a.Events.Open, a.Name)
	default:
		report(a.Events.Between, a.Name)
	}
}

func (n *Network) beginActuators(s *sim.State, report sim.Report) {
	for i := range n.Actuators {
		a, mode := &n.Actuators[i], &s.Modes[n.actMode+i]
		to := ActuatorStill
		switch at := s.Y[n.actVar[i]]; {
		case at < a.Target:
			to = ActuatorOpens
		case at > a.Target:
			to = ActuatorShuts
		}
		if to != *mode && to != ActuatorStill {
			report(a.Events.Moves, a.Name)
		}
		*mode = to
	}
}
