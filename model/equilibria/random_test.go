package equilibria_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
)

// TestRandomValves: whatever the sizes and the settings, with pipes or without, a
// map is whole; folds come in turn, a pop first; between them stability changes;
// and in rising order of pressure the seated disc comes first.
func TestRandomValves(t *testing.T) {
	popped := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		about := func(x float64) float64 { return x * math.Exp(0.6*(2*r.Float64()-1)) }
		v := twoRing(about(2.5e-3), about(26e-3))
		v.Spring.Rate, v.Spring.Preload = about(180e3), about(7044)
		v.Nozzle.Momentum, v.Disc.Travel = about(0.7), about(14e-3)
		v.LowerRing.Carried, v.LowerRing.Notches = math.Min(about(0.6), 0.95), about(15e-6)
		v.Seat.Force, v.Seat.Length = about(142), about(4e-6)
		var more []plant.Part
		if r.IntN(2) == 0 {
			v.Inlet = &plant.Run{Length: about(1), Bore: about(75e-3), Friction: about(0.02), Cells: 5}
		}
		if r.IntN(2) == 0 {
			v.Outlet = "pipe"
			more = []plant.Part{{Name: "pipe", Kind: "tailpipe", Spec: &plant.Tailpipe{To: "air", Volume: 0.05, Area: about(12e-3), Coefficient: 0.9}}}
		}
		if r.IntN(3) == 0 {
			v.UpperRing = nil
			v.Hood = &plant.Hood{Diameter: 62e-3, Turned: r.Float64(), Angle: 0.5 * r.Float64()}
		}
		if r.IntN(4) == 0 {
			v.Seat.Debris = &plant.Debris{Size: about(0.2e-3), Washes: "no"}
		}
		m, err := equilibria.Of(built(t, bench(v, more...)), "valve", equilibria.Options{Plain: true})
		require.NoError(t, err, "seed %d", seed)
		assert.False(t, m.Short, "seed %d", seed)
		for i, f := range m.Folds {
			assert.Equal(t, []equilibria.FoldKind{equilibria.Pops, equilibria.Reseats}[i%2], f.Kind, "seed %d", seed)
		}
		for i := 1; i < len(m.Branches); i++ {
			a, b := m.Branches[i-1], m.Branches[i]
			p, q := a.Points[len(a.Points)-1], b.Points[0]
			assert.InDelta(t, p.Vessel, q.Vessel, 1e-6*p.Vessel, "seed %d: a gap", seed)
			if a.Stable != b.Stable {
				assert.True(t, isFold(m, p), "seed %d: stability changes at a fold alone, not at %g mm", seed, p.Lift*1e3)
			}
		}
		if m.Pop != nil && m.Reseat != nil {
			popped++
			assert.Greater(t, m.Pop.Vessel, m.Reseat.Vessel, "seed %d", seed)
			assert.Greater(t, m.Reseat.Lift, m.Pop.Lift, "seed %d", seed)
		}
		assert.Contains(t, []equilibria.Kind{equilibria.Seated, equilibria.Lifted}, m.Branches[0].Kind)
	}
	t.Logf("%d of 60 pop and reseat", popped)
	assert.Greater(t, popped, 30)
}

func isFold(m *equilibria.Map, p equilibria.Point) bool {
	for _, f := range m.Folds {
		if f.Vessel == p.Vessel {
			return true
		}
	}
	return false
}
