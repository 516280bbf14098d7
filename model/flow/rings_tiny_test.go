package flow_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/flow"
	"underdisc/model/fluid"
)

// A disc whose faces have just parted, by as little as numbers allow, passes next to
// nothing at pressures that are those behind it but for rounding: flow and force stay
// numbers, and the force is that of the shut disc.
func TestFacesJustPart(t *testing.T) {
	g := fluid.Gas{Gamma: 1.3, R: 383}
	w := flow.NewRings(flow.Rings{Law: flow.NewNozzle(&g), Bore: 0.0246, Nozzle: 0.975, Seat: 0.0259, Curtain: 0.85, Momentum: 0.96,
		Lower: flow.RingGap{Diameter: 0.0284, Gap: 1.5e-3, Notches: 10e-6, Cd: 0.88, Carried: 0.5, CarryLift: 3e-3},
		Hood:  &flow.HoodTurn{Diameter: 0.0339, Turned: 0.5, Sine: -0.3}}).Remembering()
	for i := range 400 {
		var up fluid.State
		p := 20e5 + 1e4*float64(i)
		g.At(g.Volume(p, 523), g.Energy(523), &up)
		for _, down := range []float64{101325, 101325.00000914645, 105123.9, 1e6 + 0.1*float64(i)} {
			var shut flow.Past
			w.At(&up, down, 0, &shut)
			for x := 1e-22; x < 1e-10; x *= 7 {
				var a, b flow.Past
				w.At(&up, down, x, &a)
				w.Slopes(&up, down, x, &b)
				for _, v := range []float64{a.W, a.Force, b.W, b.Force, b.Wx, b.Fx, b.Wp, b.Fp} {
					assert.False(t, math.IsNaN(v) || math.IsInf(v, 0), "lift %g down %g", x, down)
				}
				assert.InDelta(t, shut.Force, a.Force, 1e-3)
			}
		}
	}
}
