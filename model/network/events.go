package network

import (
	"math"

	"underdisc/sim"
)

// Guards implements sim.System.
func (n *Network) Guards(t float64, y []float64, modes []int8, g []float64) {
	// Only parts at rest are guarded by forces; the others' positions suffice.
	resting := false
	for i := range n.parts {
		resting = resting || !travelling(modes[n.parts[i].mode])
	}
	if resting {
		n.evaluate(y)
	} else {
		n.at.forget()
		n.shapes(y)
	}
	inf := math.Inf(1)
	k := 0
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		a := g[p.guard : p.guard+guardsPerMover]
		a[guardRelease], a[guardLow], a[guardHigh], a[guardTurn] = inf, inf, inf, inf
		k += guardsPerMover
		switch modes[p.mode] {
		case HeldLow:
			a[guardRelease] = m.Stick + m.BondLow - n.force(i, y)
		case HeldHigh:
			a[guardRelease] = m.Stick + m.BondHigh + n.force(i, y)
		case Stuck:
			a[guardRelease] = m.Stick - math.Abs(n.force(i, y))
		case Free:
			a[guardHigh] = n.stop(i, modes) - p.pos
			if m.Seat == nil {
				a[guardLow] = p.pos
			}
		case Rising:
			a[guardHigh], a[guardTurn] = n.stop(i, modes)-p.pos, p.vel
		case Falling:
			a[guardTurn] = -p.vel
			if m.Seat == nil {
				a[guardLow] = p.pos
			}
		}
	}
	for i := range n.Switches {
		s := &n.Switches[i]
		reading := y[n.sensorVar[s.Sensor]]
		if modes[n.switchMode+i] == SwitchOpen {
			g[k+i] = s.Set - reading
		} else {
			g[k+i] = reading - s.Reset
		}
	}
	n.fuseGuards(y, modes, g[n.fuseGuard:])
	n.actuatorGuards(y, modes, g[n.actGuard:])
	n.facesGuards(y, modes, g)
}

// Cross implements sim.System.
func (n *Network) Cross(guard int, s *sim.State, report sim.Report) {
	switch {
	case guard >= n.faceGuard:
		n.crossFaces(guard, s, report)
		return
	case guard >= n.actGuard:
		n.arrive(guard-n.actGuard, s, report)
		return
	case guard >= n.fuseGuard:
		n.feeding(s, report, func() { n.blow(guard-n.fuseGuard, s, report) })
		return
	}
	if k := guard - guardsPerMover*len(n.parts); k >= 0 {
		sw := &n.Switches[k]
		mode := &s.Modes[n.switchMode+k]
		if *mode == SwitchOpen {
			*mode = SwitchMade
			report("switch-made", sw.Name)
		} else {
			*mode = SwitchOpen
			report("switch-reset", sw.Name)
		}
		n.demand(s)
		return
	}
	i, kind := guard/guardsPerMover, guard%guardsPerMover
	p, m := &n.parts[i], &n.Movers[i]
	mode := &s.Modes[p.mode]
	switch kind {
	case guardRelease:
		switch *mode {
		case HeldLow:
			*mode = m.freeMode(1)
			report(m.Events.Leave, m.Name)
		case HeldHigh:
			*mode = m.freeMode(-1)
			report(m.Events.Drop, m.Name)
		case Stuck:
			n.evaluate(s.Y)
			*mode = m.freeMode(n.force(i, s.Y))
		}
	case guardLow:
		n.contact(i, s, 0, 1, HeldLow, m.Events.Low, report)
	case guardHigh:
		n.contact(i, s, n.stop(i, s.Modes), -1, HeldHigh, m.Events.High, report)
	case guardTurn:
		s.Y[p.v] = 0
		n.rest(i, s)
	}
}

// freeMode is the moving mode under a net force of that sign.
func (m *Mover) freeMode(force float64) int8 {
	switch {
	case m.Law == Smoothed:
		return Free
	case force >= 0:
		return Rising
	default:
		return Falling
	}
}

// rest decides what a mover with speed zero between its stops does next: stay
// if friction can hold it, else slide the way it is pushed.
func (n *Network) rest(i int, s *sim.State) {
	n.evaluate(s.Y)
	m := &n.Movers[i]
	f := n.force(i, s.Y)
	if m.Law == Sticking && math.Abs(f) <= m.Stick {
		s.Modes[n.parts[i].mode] = Stuck
		return
	}
	s.Modes[n.parts[i].mode] = m.freeMode(f)
}

// contact handles a mover that has reached the stop at the position at; away
// is the direction that leaves it. The energy that restitution takes goes to
// the ledger.
func (n *Network) contact(i int, s *sim.State, at, away float64, held int8, heldName string, report sim.Report) {
	p, m := &n.parts[i], &n.Movers[i]
	v := s.Y[p.v]
	back := m.Restitution * math.Abs(v)
	s.Y[p.x] = at
	s.Y[p.v] = away * back
	n.evaluate(s.Y)
	f := n.force(i, s.Y)
	if back <= m.HoldSpeed && away*f < 0 {
		s.Y[p.v] = 0
		s.Modes[p.mode] = held
		report(heldName, m.Name)
	} else {
		if back == 0 {
			n.rest(i, s)
		} else {
			s.Modes[p.mode] = m.freeMode(away)
		}
		report(m.Events.Bounce, m.Name)
	}
	lost := 0.5 * m.Mass * (v*v - s.Y[p.v]*s.Y[p.v])
	if len(s.Q) > 0 {
		s.Q[p.qImpact] += lost
	}
	if away > 0 {
		n.struck(i, lost, s.Y)
	}
}

// demand brings every relay's timer in line with what is asked of it.
func (n *Network) demand(s *sim.State) {
	for i := range n.Relays {
		r := &n.Relays[i]
		want := r.Demand == HoldOn || r.Demand == FollowSwitch && n.made(r.Switch, s.Modes)
		on := s.Modes[n.relayMode+i] == RelayOn
		switch {
		case want == on:
			s.Timers[i] = math.Inf(1)
		case !math.IsInf(s.Timers[i], 1):
			// already on its way
		case want:
			s.Timers[i] = s.T + r.PickUp
		default:
			s.Timers[i] = s.T + r.DropOut
		}
	}
}

// Expire implements sim.System: a relay changes over.
func (n *Network) Expire(timer int, s *sim.State, report sim.Report) {
	mode := &s.Modes[n.relayMode+timer]
	changed := n.feeding(s, report, func() {
		if *mode == RelayOn {
			*mode = RelayOff
		} else {
			*mode = RelayOn
		}
	})
	if !changed {
		// The relay has moved, but the coil's supply has not.
		name := "relay-on"
		if *mode == RelayOff {
			name = "relay-off"
		}
		report(name, n.Relays[timer].Name)
	}
}

// feeding reports which coils get or lose their supply by what is done.
func (n *Network) feeding(s *sim.State, report sim.Report, do func()) (changed bool) {
	n.fed = n.fedCoils(n.fed, s)
	do()
	return n.reportCoils(s, report)
}

// Begin implements sim.System: what follows from the parameters is made so. A
// stop that has moved takes the part that rests on it along, and one that lies
// beyond it back; the energy of that is the change's.
func (n *Network) Begin(s *sim.State, report sim.Report) {
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		x := s.Y[p.x]
		if m.Seat != nil {
			n.beginFaces(i, s)
			if s.Modes[p.mode] == HeldHigh && x < n.stop(i, s.Modes) {
				// A gag does not take the spindle along when it is drawn back.
				s.Modes[p.mode] = m.freeMode(1)
			}
		}
		if m.Seat == nil && (x > m.Travel || s.Modes[p.mode] == HeldHigh) {
			s.Y[p.x] = m.Travel
			if len(s.Q) > 0 {
				s.Q[p.qFault] += n.potential(i, m.Travel, s.Y) - n.potential(i, x, s.Y)
			}
		}
		switch s.Modes[p.mode] {
		case Free, Rising, Falling:
			if (s.Modes[p.mode] == Free) != (m.Law == Smoothed) {
				s.Modes[p.mode] = m.freeMode(s.Y[p.v])
			}
		case Stuck:
			if m.Law == Smoothed {
				s.Modes[p.mode] = Free
			}
		}
	}
	n.beginFuses(s)
	n.reportFed(s, report)
	n.beginActuators(s, report)
	n.demand(s)
}
