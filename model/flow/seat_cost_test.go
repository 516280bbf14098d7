package flow_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// counted counts how often a law is asked.
type counted struct {
	flow.Law
	n int
}

func (c *counted) Flux(up *fluid.State, down float64) float64 {
	c.n++
	return c.Law.Flux(up, down)
}

// TestSeatIsCheap: how often the law is asked for a flux, two each time round,
// over the travel of a disc and the pressures of a bench; and no allocation.
func TestSeatIsCheap(t *testing.T) {
	l := &counted{Law: flow.NewNozzle(&air)}
	s := flow.Seat{Law: l}
	up := stateOf(&air, 12e5, 300)
	most, calls := 0, 0
	for i := range 100 {
		for j := range 100 {
			before := calls
			calls = l.n
			most = max(most, calls-before)
			s.Flux(&up, up.P*(float64(j)+0.5)/100, 1.5*(float64(i)+0.5)/100)
		}
	}
	t.Logf("%.1f fluxes on average, %d at most", float64(l.n)/1e4, most)
	assert.Less(t, most, 30)
	assert.Less(t, float64(l.n)/1e4, 18.0)
	var f flow.SeatFlux
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		s.Flux(&up, 3e5, 0.7)
		s.FluxSlopes(&up, 3e5, 0.7, &f)
	}))
}

func BenchmarkSeat(b *testing.B) {
	s := flow.Seat{Law: flow.NewNozzle(&air)}
	up := stateOf(&air, 12e5, 300)
	var f flow.SeatFlux
	for _, a := range []float64{0.2, 1.2} {
		b.Run("flux", func(b *testing.B) {
			for range b.N {
				f.G, f.Face = s.Flux(&up, 1.2e5, a)
			}
		})
		b.Run("slopes", func(b *testing.B) {
			for range b.N {
				s.FluxSlopes(&up, 1.2e5, a, &f)
			}
		})
	}
}
