package equilibrium_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/flow/equilibrium"
	"underdisc/model/fluid"
	"underdisc/model/fluid/if97"
)

// A state straight from IF97, without slopes: so the law is tested on its own.

func onePhase(x if97.Point, quality float64) fluid.State {
	return fluid.State{V: x.V, U: x.U, P: x.P, T: x.T, H: x.H, X: quality}
}

func steamAt(p, t float64) fluid.State { return onePhase(if97.Region2(p, t), 1) }
func waterAt(p, t float64) fluid.State { return onePhase(if97.Region1(p, t), 0) }

func wetAt(p, x float64) fluid.State {
	t := if97.SaturationT(p)
	w, g := if97.Region1(p, t), if97.Region2(p, t)
	mix := func(a, b float64) float64 { return a + x*(b-a) }
	return fluid.State{V: mix(w.V, g.V), U: mix(w.U, g.U), P: p, T: t, H: mix(w.H, g.H), X: x}
}

// inlet is a random state with the direct search from it.
type inlet struct {
	kind   string
	state  fluid.State
	direct equilibrium.Expansion
}

var kinds = []string{"steam", "steam above 165 bar", "wet", "water"}

// anyInlet draws from 0.02 to 165 bar, half of the states within a few kelvin of
// the line or with little steam.
func anyInlet(t *testing.T, r *rand.Rand, kind string) inlet {
	p := 2000 * math.Exp(r.Float64()*math.Log(16.5e6/2000))
	ts := if97.SaturationT(p)
	near := math.Pow(r.Float64(), 1+3*float64(r.IntN(2)))
	i := inlet{kind: kind}
	var err error
	switch kind {
	case "steam":
		at := ts + 0.001 + (1073-ts)*near
		i.state = steamAt(p, at)
		i.direct, err = equilibrium.From(p, at)
	case "steam above 165 bar":
		for i.state.V < 0.0088 {
			p = 16.5e6 + 5.5e6*r.Float64()
			low := if97.Boundary23T(max(p, 16.53e6))
			at := low + (1073-low)*near
			i.state = steamAt(p, at)
			i.direct, err = equilibrium.From(p, at)
		}
	case "wet":
		x := near * near
		i.state = wetAt(p, x)
		i.direct, err = equilibrium.Wet(p, x)
	case "water":
		at := ts - 0.001 - (ts-273.5)*near
		i.state = waterAt(p, at)
		i.direct, err = equilibrium.From(p, at)
	}
	require.NoError(t, err, "%s %g Pa", kind, p)
	return i
}

// long is how many times as many random points to take.
func long() int {
	if os.Getenv("UNDERDISC_LONG") == "1" {
		return 50
	}
	return 1
}
