package network_test

import (
	"testing"
)

// BenchmarkDerivative is one evaluation of the equations and of their Jacobian,
// with the valve shut and with its disc half open.
func BenchmarkDerivative(b *testing.B) {
	for _, c := range benches {
		m := build(b, c.plant())
		n := m.Net
		lay := n.Layout()
		for _, open := range []bool{false, true} {
			s := n.Start()
			name := c.name + " shut"
			if open {
				name = c.name + " opening"
				k := 0
				for i, v := range lay.Vars {
					if v == "valve.disc.position" {
						k = i
					}
				}
				s.Y[k], s.Modes[0] = 7e-3, 4
			}
			dy, dq := make([]float64, len(lay.Vars)), make([]float64, len(lay.Ledger))
			b.Run(name, func(b *testing.B) {
				for i := range b.N {
					s.Y[0] *= 1 + 1e-12*float64(1-2*(i&1)) // a new state each time
					n.Derivative(0, s.Y, s.Modes, dy, dq)
				}
			})
			j := make([]float64, len(lay.Entries))
			b.Run(name+", Jacobian", func(b *testing.B) {
				for range b.N {
					n.Jacobian(0, s.Y, s.Modes, j)
				}
			})
		}
	}
}
