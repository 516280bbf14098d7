package network

import (
	"math"

	"underdisc/sim"
)

// Contact is how a contact follows what drives it.
type Contact int

const (
	Sound    Contact = iota // follows
	StuckOff                // stays open
	StuckOn                 // stays closed
)

// Fuse heats as (i/Rating)^2 behind a lag and blows at one:
//
//	dh/dt = ((i/Rating)^2 - h)/Lag
//
// so it carries its rating for ever and k times that for -Lag ln(1 - 1/k^2):
// the shape of a time-current curve, with one constant.
type Fuse struct {
	Name   string
	Coil   int
	Out    bool // taken out
	Rating float64
	Lag    float64
}

// FuseState is how a fuse stands; the mode of a Fuse.
type FuseState int8

const (
	FuseIn FuseState = iota
	FuseBlown
	FuseOut
	NoFuse FuseState = -1
)

// feeds tells whether the circuit puts its supply on coil i.
func (n *Network) feeds(i int, modes []int8) bool {
	c := &n.Coils[i]
	if c.Relay < 0 {
		return false
	}
	if c.Earths >= 2 {
		return true
	}
	if c.Fuse > 0 && FuseState(modes[n.fuseMode+c.Fuse-1]) != FuseIn {
		return false
	}
	switch c.Contact {
	case StuckOn:
		return true
	case StuckOff:
		return false
	}
	return modes[n.relayMode+c.Relay] == RelayOn
}

// voltage is what stands on coil i, V.
func (n *Network) voltage(i int, modes []int8) float64 {
	if n.feeds(i, modes) {
		return n.Coils[i].Supply
	}
	return 0
}

// made tells whether a switch's contact is closed.
func (n *Network) made(i int, modes []int8) bool {
	switch n.Switches[i].Contact {
	case StuckOn:
		return true
	case StuckOff:
		return false
	}
	return modes[n.switchMode+i] == SwitchMade
}

// takeOverCoils notes which coils were fed under the old description, so that
// Begin can report what the change of it has done.
func (n *Network) takeOverCoils(old *Network, s *sim.State) {
	n.fed = old.fedCoils(n.fed, s)
	n.tookOver = true
}

// fedCoils are the coils that are fed, in the room given.
func (n *Network) fedCoils(room []bool, s *sim.State) []bool {
	room = room[:0]
	for i := range n.Coils {
		room = append(room, n.feeds(i, s.Modes))
	}
	return room
}

// reportFed reports the coils that a change of the description has put on or off.
func (n *Network) reportFed(s *sim.State, report sim.Report) {
	if n.tookOver {
		n.tookOver = false
		n.reportCoils(s, report)
	}
}

// reportCoils reports the coils that have been put on or off since fed was noted.
func (n *Network) reportCoils(s *sim.State, report sim.Report) (changed bool) {
	for i := range n.Coils {
		switch now := n.feeds(i, s.Modes); {
		case now == n.fed[i]:
			continue
		case now:
			report("coil-on", n.Coils[i].Name)
		default:
			report("coil-off", n.Coils[i].Name)
		}
		changed = true
	}
	return changed
}

func (n *Network) fuseRates(y []float64, modes []int8, dy []float64) {
	for i := range n.Fuses {
		f := &n.Fuses[i]
		if FuseState(modes[n.fuseMode+i]) != FuseIn {
			continue
		}
		r := y[n.coilVar[f.Coil]] / f.Rating
		dy[n.fuseVar[i]] = (r*r - y[n.fuseVar[i]]) / f.Lag
	}
}

func (n *Network) fuseJacobian(y []float64, modes []int8, j []float64) {
	for i := range n.Fuses {
		f := &n.Fuses[i]
		if FuseState(modes[n.fuseMode+i]) != FuseIn {
			continue
		}
		j[n.fuseJac[i][0]] -= 1 / f.Lag
		j[n.fuseJac[i][1]] += 2 * y[n.coilVar[f.Coil]] / (f.Rating * f.Rating * f.Lag)
	}
}

// fuseGuards: a fuse that carries current may blow.
func (n *Network) fuseGuards(y []float64, modes []int8, g []float64) {
	for i := range n.Fuses {
		g[i] = math.Inf(1)
		if FuseState(modes[n.fuseMode+i]) == FuseIn {
			g[i] = 1 - y[n.fuseVar[i]]
		}
	}
}

func (n *Network) blow(i int, s *sim.State, report sim.Report) {
	s.Modes[n.fuseMode+i] = int8(FuseBlown)
	report("fuse-blows", n.Fuses[i].Name)
}

// beginFuses: a fuse is taken out, and a new one put in where there was none. A
// blown one stays until it is taken out.
func (n *Network) beginFuses(s *sim.State) {
	for i := range n.Fuses {
		mode := &s.Modes[n.fuseMode+i]
		switch {
		case n.Fuses[i].Out:
			*mode = int8(FuseOut)
			s.Y[n.fuseVar[i]] = 0
		case FuseState(*mode) == FuseOut:
			*mode = int8(FuseIn)
		}
	}
}
