package equilibria_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
)

// liquidBench is the demo valve for liquid on a drum full of cold water.
func liquidBench(share float64) *plant.Plant {
	return &plant.Plant{Parts: []plant.Part{
		{Name: "fluid", Kind: "water", Spec: &plant.Water{}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "air", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: sea, Temperature: 293}},
		{Name: "vessel", Kind: "drum", Spec: &plant.Drum{Volume: 5, Pressure: 10.5e5, WaterShare: 1, Superheat: -142}},
		{Name: "valve", Kind: "spring-valve", Spec: &plant.SpringValve{On: "vessel", Draws: "water", Outlet: "air",
			Nozzle: plant.Nozzle{Bore: 28e-3, Coefficient: 0.95, Momentum: share},
			Seat:   plant.SpringSeat{Diameter: 30e-3, Coefficient: 0.65, Force: 14, Length: 4e-6, Restitution: 0.3},
			Plug:   &plant.Plug{},
			Disc:   plant.SpringDisc{Mass: 1, Travel: 6e-3, Damping: 100, Restitution: 0.3, HoldSpeed: 1e-3},
			Spring: plant.Spring{Rate: 22.5e3, Preload: 707}}},
	}}
}

// margin is k/(F0 + m g + k x) less the relative growth of the effective area,
//
//	As + eta Ae^2/A0, Ae = a/sqrt(1 + (a/(0.95 A0))^2), a = Cd pi ds x
//
// the least over the lift: above zero the lift is proportional to the pressure
// (derived; the net force is (p - pT) area - F0 - m g - k x).
func margin(eta float64) float64 {
	least := math.Inf(1)
	a0, as := area(28e-3), area(30e-3)
	for x := 50e-6; x < 6e-3; x += 5e-6 {
		byX := 0.65 * math.Pi * 30e-3
		z := byX * x / (0.95 * a0)
		ae := byX * x / math.Sqrt(1+z*z)
		aex := byX / math.Pow(1+z*z, 1.5)
		grows := 2 * eta * ae * aex / a0 / (as + eta*ae*ae/a0)
		least = math.Min(least, 22.5e3/(707+9.81+22.5e3*x)-grows)
	}
	return least
}

// TestLiquidCriterion: the valve for liquid opens in proportion exactly where the
// criterion says so, and has a fold where not.
func TestLiquidCriterion(t *testing.T) {
	require.Greater(t, margin(0.3), 0.0)
	lo, hi := 0.3, 2.0
	require.Less(t, margin(hi), 0.0)
	for range 40 {
		if mid := (lo + hi) / 2; margin(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	t.Logf("proportional up to a momentum share of %.4f", lo)
	for _, c := range []struct {
		share float64
		folds bool
	}{{0.3, false}, {0.9 * lo, false}, {0.99 * lo, false}, {1.01 * lo, true}, {1.1 * lo, true}, {1.5 * lo, true}} {
		m, err := equilibria.Of(built(t, liquidBench(c.share)), "valve", equilibria.Options{})
		require.NoError(t, err)
		assert.Equal(t, c.folds, len(m.Folds) > 0, "momentum share %g", c.share)
		assert.Equal(t, !c.folds, m.Proportional())
	}
}

// TestLiquidCurve: pressure at lifts of the demo valve against the balance of
// forces of an incompressible liquid.
func TestLiquidCurve(t *testing.T) {
	m, err := equilibria.Of(built(t, liquidBench(0.3)), "valve", equilibria.Options{})
	require.NoError(t, err)
	for _, x := range []float64{0.5e-3, 2e-3, 4e-3, 5.9e-3} {
		byX := 0.65 * math.Pi * 30e-3
		z := byX * x / (0.95 * area(28e-3))
		ae := byX * x / math.Sqrt(1+z*z)
		want := (707 + 9.81 + 22.5e3*x) / (area(30e-3) + 0.3*ae*ae/area(28e-3))
		assert.InEpsilon(t, want, at(m, x)-sea, 2e-3, "at %g mm", x*1e3)
		t.Logf("%.1f mm: %.3f bar", x*1e3, barg(at(m, x)))
	}
	assert.Nil(t, m.Pop)
	assert.True(t, math.IsNaN(m.Blowdown()))
	assert.Equal(t, equilibria.Stopped, m.Branches[len(m.Branches)-1].Kind)
}
