package flow_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// What a remembering way past a disc says must not hang on what it was asked
// before, not in the last digit: runs are computed again from their middle, and
// forked, and must stay the same.
func TestPastForgetsBitForBit(t *testing.T) {
	g := fluid.Gas{Gamma: 1.3, R: 383}
	law := flow.NewNozzle(&g)
	ways := map[string]flow.PastDisc{
		"rings": flow.NewRings(flow.Rings{Law: law, Bore: 0.045, Nozzle: 0.975, Seat: 0.0475, Curtain: 0.85, Momentum: 0.7,
			Lower: flow.RingGap{Diameter: 0.052, Gap: 2.5e-3, Notches: 15e-6, Cd: 0.88, Carried: 0.72, CarryLift: 5.5e-3},
			Upper: &flow.RingExit{Diameter: 0.062, Height: 0.026, Cd: 0.9}, Leak: 1e-7}),
		"hood": flow.NewRings(flow.Rings{Law: law, Bore: 0.04, Nozzle: 0.975, Seat: 0.0425, Curtain: 0.85, Momentum: 0.7,
			Lower: flow.RingGap{Diameter: 0.0483, Gap: 2.1e-3, Notches: 10e-6, Cd: 0.88, Carried: 0.79, CarryLift: 4.5e-3},
			Hood:  &flow.HoodTurn{Diameter: 0.056, Turned: 0.7, Sine: 0.25}}),
		"plug": flow.NewPlug(flow.Plug{Law: law, Bore: 0.028, Nozzle: 0.95, Seat: 0.03, Curtain: 0.65, Momentum: 0.3, Sine: 0.1}),
	}
	for name, w := range ways {
		t.Run(name, func(t *testing.T) {
			d := rand.New(rand.NewPCG(1, 2))
			used := w.Remembering()
			for range 3000 {
				var up fluid.State
				p, temperature := 1e5*math.Exp(4*d.Float64()), 250+500*d.Float64()
				g.At(g.Volume(p, temperature), g.Energy(temperature), &up)
				down, x := p*d.Float64(), 0.014*math.Exp(-8*d.Float64())
				var a, b flow.Past
				if d.IntN(2) == 0 {
					used.At(&up, down, x, &a)
					w.Remembering().At(&up, down, x, &b)
				} else {
					used.Slopes(&up, down, x, &a)
					w.Remembering().Slopes(&up, down, x, &b)
				}
				require.Equal(t, b, a)
			}
		})
	}
}
