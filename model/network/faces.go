package network

import (
	"math"

	"underdisc/sim"
)

// SeatFaces are the lapped faces of a seat that touch first with their
// highest asperities. At the gap e = x - off they push apart with
//
//	Force exp(-e/Length), continued along its tangent below e = -4 Length,
//
// and an approach at the speed v loses 2 Ratio sqrt(M K(e)) v^2, K(e) the slope of
// that force: a restitution of exp(-pi Ratio/sqrt(1 - Ratio^2)) where the contact is
// straight, as of a spring and a dashpot (any text on contact). Where it fades, the
// same equations are those of a ratio sqrt(2) as large, so soft impacts lose more. off is what
// holds the faces apart: a nut, or debris. A mover with faces has no lower stop.
type SeatFaces struct {
	Force, Length float64 // N, m; assumed values
	Ratio         float64 // damping ratio
	Held          float64 // what holds the disc off its seat beside debris, m
	Debris        float64 // size of what lies on the seat, m
	Washes        bool    // a lift of Wash carries it away
	Wash          float64
	// Pop and Reseat are the lifts at which the mover counts as lifted, and as
	// back.
	Pop, Reseat float64
	Events      SeatEvents
}

// SeatEvents are the names under which faces part and meet.
type SeatEvents struct{ Part, Pop, Reseat, Tight, Wash string }

// Modes of faces.
const (
	FacesTight int8 = iota
	FacesPart
	FacesLifted
)

// lowest is how far, in lengths, the exponential of the faces' force goes.
const lowest = -4

// push is the force between the faces at the gap e, and its slope, which is not
// above zero.
func (f *SeatFaces) push(e float64) (force, slope float64) {
	z := e / f.Length
	switch {
	case z > 200:
		return 0, 0
	case z < lowest:
		k := f.Force * math.Exp(-lowest) / f.Length
		return k*f.Length - k*(e-lowest*f.Length), -k
	}
	force = f.Force * math.Exp(-z)
	return force, -force / f.Length
}

// drag is the damping of the faces at the gap e, N s/m, and its slope.
func (f *SeatFaces) drag(e, mass float64) (c, slope float64) {
	z := e / f.Length
	if z > 200 {
		return 0, 0
	}
	c = 2 * f.Ratio * math.Sqrt(mass*f.Force/f.Length*math.Exp(-math.Max(z, lowest)))
	if z > lowest {
		slope = -c / (2 * f.Length)
	}
	return c, slope
}

// stored is the energy of the faces at the gap e, J: the integral of push from
// there to far away.
func (f *SeatFaces) stored(e float64) float64 {
	z := e / f.Length
	if z > 200 {
		return 0
	}
	if z >= lowest {
		return f.Force * f.Length * math.Exp(-z)
	}
	d, top := lowest*f.Length-e, f.Force*math.Exp(-lowest)
	return top * (f.Length + d + d*d/(2*f.Length))
}

// pressing is what it takes to lift mover i by a hundredth of its reach against its
// spring, J; 0 where it has no faces. A disc that stays shut works far less, a
// thousand small times.
func (n *Network) pressing(i int) float64 {
	m := &n.Movers[i]
	if m.Seat == nil {
		return 0
	}
	return m.Preload * m.Reach / 100
}

// What has come to lie on a seat, modes.
const (
	DebrisLies  int8 = iota
	DebrisComes      // on a shut seat: it takes its place at the next lift
	DebrisGone
)

// clear is how many lengths beyond it a disc has to be for what has arrived to take
// its place without a push.
const clearOf = 20

// faces is the compiled form of a mover's faces.
type faces struct {
	debris    int // variable
	nut       int // variable: how far a nut holds it off now
	mode      int
	lies      int // mode of the debris
	above     int // mode: it stands above a gag that was put on since
	guard     int // first of four
	jX, jD    int32
	jDebris   int32
	jNut      int32
	jImpact   int32 // by speed, by position, by debris
	jImpactX  int32
	jImpactD  int32
	jImpactN  int32
	lever     int // actuator, -1
	jLever    int32
	jPullV    int32
	jPullS    int32
	leverFull float64
}

// gap is how far the faces of mover i are apart beyond what holds them off.
func (n *Network) gap(i int, x float64, y []float64) float64 {
	off, _ := n.off(i, y)
	return x - off
}

// off is what holds the faces of mover i apart, and whether it is debris.
func (n *Network) off(i int, y []float64) (off float64, debris bool) {
	off = y[n.parts[i].faced.nut]
	if d := y[n.parts[i].faced.debris]; d > off {
		return d, true
	}
	return off, false
}

// lifts is the lever's force on mover i.
func (n *Network) lifts(i int, y []float64) float64 {
	f := &n.parts[i].faced
	if f.lever < 0 {
		return 0
	}
	return f.leverFull * y[n.actVar[f.lever]]
}

func (n *Network) compileFaces(i int, s *slots, nv int) {
	p, f := &n.parts[i], &n.parts[i].faced
	f.jD, f.jDebris, f.jNut = s.at(p.v, p.v), s.at(p.v, f.debris), s.at(p.v, f.nut)
	f.jImpactN = s.at(nv+p.qImpact, f.nut)
	f.jX = s.at(p.v, p.x)
	f.jImpact, f.jImpactX, f.jImpactD = s.at(nv+p.qImpact, p.v), s.at(nv+p.qImpact, p.x), s.at(nv+p.qImpact, f.debris)
	if f.lever >= 0 {
		k := n.actVar[f.lever]
		f.jLever, f.jPullV, f.jPullS = s.at(p.v, k), s.at(nv+p.qPull, p.v), s.at(nv+p.qPull, k)
	}
}

// facesJacobian enters the slopes of what the faces and the lever do.
func (n *Network) facesJacobian(i int, y, j []float64) {
	p, m, f := &n.parts[i], &n.Movers[i], &n.parts[i].faced
	v, im := p.vel, 1/m.Mass
	off, debris := n.off(i, y)
	_, k := m.Seat.push(p.pos - off)
	c, dc := m.Seat.drag(p.pos-off, m.Mass)
	j[f.jX] += (k - dc*v) * im
	j[f.jD] -= c * im
	j[f.jImpact] += 2 * c * v
	j[f.jImpactX] += dc * v * v
	if debris {
		j[f.jDebris] -= (k - dc*v) * im
		j[f.jImpactD] -= dc * v * v
	} else {
		j[f.jNut] -= (k - dc*v) * im
		j[f.jImpactN] -= dc * v * v
	}
	if f.lever >= 0 {
		j[f.jLever] += f.leverFull * im
		j[f.jPullV] += n.lifts(i, y)
		j[f.jPullS] += f.leverFull * v
	}
}

func (n *Network) facesGuards(y []float64, modes []int8, g []float64) {
	inf := math.Inf(1)
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		if m.Seat == nil {
			continue
		}
		a := g[p.faced.guard : p.faced.guard+4]
		a[0], a[1], a[2], a[3] = inf, inf, inf, inf
		if modes[p.faced.above] != 0 {
			a[3] = p.pos - m.Travel
		}
		if to := n.waits(i, y, modes); to > 0 {
			a[2] = to - p.pos
		}
		switch modes[p.faced.mode] {
		case FacesTight:
			a[0] = -p.pos
		case FacesPart:
			a[0], a[1] = p.pos+m.Seat.Length, m.Seat.Pop-p.pos
		case FacesLifted:
			a[0] = p.pos - m.Seat.Reseat
			if m.Seat.Washes && modes[p.faced.lies] == DebrisLies && y[p.faced.debris] > 0 {
				a[1] = m.Seat.Wash - p.pos
			}
		}
	}
}

// crossFaces handles the guard of a mover's faces.
func (n *Network) crossFaces(guard int, s *sim.State, report sim.Report) {
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		if m.Seat == nil || guard < p.faced.guard || guard > p.faced.guard+3 {
			continue
		}
		mode, ev := &s.Modes[p.faced.mode], &m.Seat.Events
		second := guard == p.faced.guard+1
		if guard == p.faced.guard+2 {
			n.takePlace(i, s)
			return
		}
		if guard == p.faced.guard+3 {
			s.Modes[p.faced.above] = 0
			return
		}
		switch {
		case *mode == FacesTight:
			*mode = FacesPart
			report(ev.Part, m.Name)
		case *mode == FacesPart && second:
			*mode = FacesLifted
			report(ev.Pop, m.Name)
		case *mode == FacesPart:
			*mode = FacesTight
			report(ev.Tight, m.Name)
		case second:
			s.Y[p.faced.debris], s.Modes[p.faced.lies] = 0, DebrisGone
			n.at.forget()
			report(ev.Wash, m.Name)
		default:
			*mode = FacesPart
			report(ev.Reseat, m.Name)
		}
		return
	}
}

// waits is the lift at which what has arrived at mover i's shut seat takes its place,
// 0 if nothing has.
func (n *Network) waits(i int, y []float64, modes []int8) float64 {
	f, p := n.Movers[i].Seat, &n.parts[i]
	to := 0.0
	if f.Held > y[p.faced.nut] {
		to = f.Held + clearOf*f.Length
	}
	if modes[p.faced.lies] == DebrisComes {
		if d := f.Debris + clearOf*f.Length; to == 0 || d < to {
			to = d
		}
	}
	return to
}

// takePlace: the disc is past what has arrived.
func (n *Network) takePlace(i int, s *sim.State) {
	f, p := n.Movers[i].Seat, &n.parts[i]
	x := s.Y[p.x] + 1e-9
	if f.Held > s.Y[p.faced.nut] && x >= f.Held+clearOf*f.Length {
		s.Y[p.faced.nut] = f.Held
	}
	if s.Modes[p.faced.lies] == DebrisComes && x >= f.Debris+clearOf*f.Length {
		s.Y[p.faced.debris], s.Modes[p.faced.lies] = f.Debris, DebrisLies
	}
	n.at.forget()
}

// startFaces puts movers with faces where their forces balance, on the seat.
func (n *Network) startFaces(s *sim.State) {
	for i := range n.parts {
		p, m := &n.parts[i], &n.Movers[i]
		f := m.Seat
		if f == nil {
			continue
		}
		s.Y[p.faced.debris], s.Y[p.faced.nut] = f.Debris, f.Held
		net := func(x float64) float64 {
			s.Y[p.x] = x
			n.at.forget()
			n.evaluate(s.Y)
			return n.force(i, s.Y)
		}
		off, _ := n.off(i, s.Y)
		lo, hi := off-1e4*f.Length, math.Min(off, m.Travel)
		if net(hi) < 0 {
			for hi-lo > 1e-15 {
				mid := 0.5 * (lo + hi)
				if mid == lo || mid == hi {
					break
				}
				if net(mid) > 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
		}
		s.Y[p.x] = hi
		n.at.forget()
		s.Modes[p.mode] = Free
		if m.Law == Sticking {
			s.Modes[p.mode] = Stuck
		}
		if hi > 0 {
			s.Modes[p.faced.mode] = FacesPart
		}
	}
}

// stop is where the upper stop of mover i stands: a gag that is put on below a disc
// that has lifted catches it only when it has come down.
func (n *Network) stop(i int, modes []int8) float64 {
	m := &n.Movers[i]
	if m.Seat != nil && modes[n.parts[i].faced.above] != 0 {
		return m.Reach
	}
	return m.Travel
}

// beginFaces: what a lift would carry away is gone if it is up already, and a gag
// that is put on above it lies below it.
func (n *Network) beginFaces(i int, s *sim.State) {
	p, f := &n.parts[i], n.Movers[i].Seat
	s.Modes[p.faced.above] = 0
	if s.Y[p.x] > n.Movers[i].Travel {
		s.Modes[p.faced.above] = 1
	}
	if f.Washes && s.Modes[p.faced.mode] == FacesLifted && s.Y[p.x] >= f.Wash && s.Y[p.faced.debris] > 0 {
		s.Y[p.faced.debris], s.Modes[p.faced.lies] = 0, DebrisGone
	}
}

// takeOverFaces brings over what holds a disc off its seat. What has grown takes its
// place when the disc is past it: at once if it is lifted, else at the next lift.
func (n *Network) takeOverFaces(old *Network, s *sim.State) {
	for i := range n.parts {
		f, was := n.Movers[i].Seat, old.Movers[i].Seat
		if f == nil || was == nil {
			continue
		}
		p := &n.parts[i]
		x := s.Y[p.x]
		before := n.potential(i, x, s.Y)
		past := func(off float64) bool { return off == 0 || x >= off+clearOf*f.Length }
		if f.Held <= s.Y[p.faced.nut] || past(f.Held) {
			s.Y[p.faced.nut] = f.Held
		}
		if f.Debris != was.Debris {
			if f.Debris <= s.Y[p.faced.debris] || past(f.Debris) {
				s.Y[p.faced.debris], s.Modes[p.faced.lies] = f.Debris, DebrisLies
			} else {
				s.Modes[p.faced.lies] = DebrisComes
			}
		}
		if len(s.Q) > 0 {
			s.Q[p.qFault] += n.potential(i, x, s.Y) - before
		}
	}
}
