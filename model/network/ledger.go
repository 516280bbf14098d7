package network

import "underdisc/sim"

// Stored is the energy that mover i keeps: kinetic, spring and height, J.
func (n *Network) Stored(i int, y []float64) float64 {
	p, m := &n.parts[i], &n.Movers[i]
	x, v := y[p.x], y[p.v]
	return 0.5*m.Mass*v*v + m.Preload*x + 0.5*m.Rate*x*x - m.Weight*x
}

// BookChange enters into the ledger what movers and walls gain in energy when
// the network n takes the place of old at the state s.
func (n *Network) BookChange(old *Network, s *sim.State) {
	for i := range n.parts {
		s.Q[n.parts[i].qFault] += n.Stored(i, s.Y) - old.Stored(i, s.Y)
	}
}
