package method_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/sim/simtest"
)

// What leaves the variables arrives in the ledger: the sum is kept to
// round-off, also where a variable is frozen and where the step is far beyond
// the stiff time scale of 5e-5 s.
func TestLinearInvariant(t *testing.T) {
	cases := []struct {
		name   string
		frozen bool
		end    float64
		steps  int
		stiff  bool // steps too long for an explicit method
	}{
		{"all move", false, 0.05, 1000, false},
		{"one frozen", true, 0.05, 1000, false},
		{"long steps", false, 2, 40, true},
		{"long steps, one frozen", true, 2, 40, true},
	}
	for _, m := range stated {
		for _, c := range cases {
			if c.stiff && m.name == "dopri5" {
				continue
			}
			t.Run(fmt.Sprint(m.name, " ", c.name), func(t *testing.T) {
				p := simtest.Exchange(c.frozen)
				p.End = c.end
				n := len(p.Start.Y)
				tol := simtest.Loose(n)
				p.System.Moving(nil, tol.Active)
				st := m.make(n, len(p.Start.Q), p.System.Layout().Entries, tol)
				y, q := simtest.March(p, st, c.steps)
				assert.Greater(t, q[0], 0.1*c.end, "nothing has flowed")
				want := p.Start.Y[0] + p.Start.Y[1] + p.Start.Y[2]
				assert.InDelta(t, want, y[0]+y[1]+y[2]+q[0], 2e-14)
				if c.frozen {
					assert.Equal(t, p.Start.Y[0], y[0])
				}
			})
		}
	}
}
