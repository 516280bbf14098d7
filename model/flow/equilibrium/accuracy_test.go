package equilibrium_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
)

// worst keeps the greatest of a sort of error, and where it was.
type worst struct {
	e     float64
	where string
}

func (w *worst) see(e float64, x *inlet, r float64) {
	if e = math.Abs(e); !(e <= w.e) {
		w.e, w.where = e, fmt.Sprintf("%.6g Pa, %.6g K, x %.4g, ratio %.5g", x.state.P, x.state.T, x.state.X, r)
	}
}

// TestAgainstDirect: the law against the direct search in IF97 at random inlets:
// critical flux, throat pressure, and the flux at a random pressure in between.
// Reference: this package's own search, computed. The bounds are the errors
// that the package states.
func TestAgainstDirect(t *testing.T) {
	bounds := map[string][3]float64{
		"steam":               {1e-4, 1e-3, 4e-4},
		"steam above 165 bar": {5e-4, 1e-3, 2e-3},
		"wet":                 {2e-6, 1e-5, 5e-6},
		"water":               {2e-5, 5e-5, 5e-5},
	}
	law := equilibrium.Shared()
	for _, kind := range kinds {
		t.Run(kind, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, uint64(len(kind))))
			var g, pc, sub worst
			var squares float64
			n := 500 * long()
			for range n {
				x := anyInlet(t, r, kind)
				dg, dp := x.direct.Critical()
				lg, lr := law.Critical(&x.state)
				g.see(lg/dg-1, &x, 0)
				squares += (lg/dg - 1) * (lg/dg - 1)
				pc.see(lr*x.state.P/dp-1, &x, 0)
				top := x.state.P * (1 - 1.01e-3) // above it the flux is a cubic by design
				if dp < top {
					pd := dp + (top-dp)*r.Float64()
					sub.see(law.Flux(&x.state, pd)/x.direct.Through(pd)-1, &x, pd/x.state.P)
				}
			}
			t.Logf("%d inlets: critical flux off by %.1e at most (%s), rms %.1e", n, g.e, g.where, math.Sqrt(squares/float64(n)))
			t.Logf("throat pressure %.1e (%s)", pc.e, pc.where)
			t.Logf("subcritical flux %.1e (%s)", sub.e, sub.where)
			assert.Less(t, g.e, bounds[kind][0])
			assert.Less(t, pc.e, bounds[kind][1])
			assert.Less(t, sub.e, bounds[kind][2])
		})
	}
}

// TestOnTables: the same with states from the tables that the balances use, whose
// pressure in water is off by some Pa; where p0 - ps is little more, so is the
// flux.
func TestOnTables(t *testing.T) {
	law, tables := equilibrium.Shared(), water.Shared()
	bounds := map[string]float64{"steam": 2e-4, "steam above 165 bar": 5e-4, "wet": 2e-6, "water": 1e-2}
	for _, kind := range kinds {
		r := rand.New(rand.NewPCG(2, uint64(len(kind))))
		var g worst
		for range 250 * long() {
			x := anyInlet(t, r, kind)
			var s fluid.State
			tables.At(x.state.V, x.state.U, &s)
			dg, _ := x.direct.Critical()
			lg, _ := law.Critical(&s)
			g.see(lg/dg-1, &x, s.P/x.state.P)
		}
		t.Logf("%s: critical flux %.1e (%s)", kind, g.e, g.where)
		assert.Less(t, g.e, bounds[kind], kind)
	}
}

// TestDirectFromBalances: the same inlet given as v and u, as p and T or x, and
// as p and h.
func TestDirectFromBalances(t *testing.T) {
	for _, kind := range kinds {
		r := rand.New(rand.NewPCG(3, uint64(len(kind))))
		for range 50 * long() {
			x := anyInlet(t, r, kind)
			byVU, err := equilibrium.Direct(x.state.V, x.state.U)
			require.NoError(t, err, "%s %+v", kind, x.state)
			byPH, err := equilibrium.Throttled(x.state.P, x.state.H)
			require.NoError(t, err, "%s %+v", kind, x.state)
			assert.InEpsilon(t, x.direct.P0, byVU.P0, 1e-6, "%s %+v", kind, x.state)
			assert.InEpsilon(t, x.direct.S0, byVU.S0, 1e-7, "%s %+v", kind, x.state)
			assert.InEpsilon(t, x.direct.S0, byPH.S0, 1e-7, "%s %+v", kind, x.state)
		}
	}
	for _, bad := range [][2]float64{{-1, 1e6}, {1, -5e6}, {math.NaN(), 1e6}, {1e-4, 2e6}} {
		_, err := equilibrium.Direct(bad[0], bad[1])
		assert.Error(t, err, "%v", bad)
	}
	for _, bad := range [][2]float64{{100, 2e6}, {1e8, 2e6}, {1e6, math.NaN()}} {
		_, err := equilibrium.Throttled(bad[0], bad[1])
		assert.Error(t, err, "%v", bad)
	}
}
