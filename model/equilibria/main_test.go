package equilibria_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/plant"
)

const sea = 1.01325e5

// bench is a vessel of the reference gas with a valve on it.
func bench(v *plant.SpringValve, more ...plant.Part) *plant.Plant {
	return &plant.Plant{Parts: append([]plant.Part{
		{Name: "gas", Kind: "ideal-gas", Spec: &plant.Gas{HeatCapacityRatio: 1.3, GasConstant: 383, Viscosity: 18e-6}},
		{Name: "site", Kind: "site", Spec: &plant.Site{Gravity: 9.81}},
		{Name: "air", Kind: "surroundings", Spec: &plant.Surroundings{Pressure: sea, Temperature: 300}},
		{Name: "vessel", Kind: "vessel", Spec: &plant.Vessel{Volume: 20, Pressure: 40e5, Temperature: 523}},
		{Name: "valve", Kind: "spring-valve", Spec: v},
	}, more...)}
}

// twoRing is the reference valve with two rings.
func twoRing(gap, height float64) *plant.SpringValve {
	return &plant.SpringValve{On: "vessel", Draws: "all", Outlet: "air",
		Nozzle:    plant.Nozzle{Bore: 45e-3, Coefficient: 0.975, Momentum: 0.70},
		Seat:      plant.SpringSeat{Diameter: 47.5e-3, Coefficient: 0.85, Force: 142, Length: 4e-6, Restitution: 0.3},
		LowerRing: &plant.LowerRing{Diameter: 52e-3, Gap: gap, Notches: 15e-6, Coefficient: 0.88, Carried: 0.72, CarryLift: 5.5e-3, Pitch: 50e-6},
		UpperRing: &plant.UpperRing{Diameter: 62e-3, Height: height, Coefficient: 0.90, Pitch: 50e-6},
		Disc:      plant.SpringDisc{Mass: 4, Travel: 14e-3, Damping: 60, Restitution: 0.3, HoldSpeed: 1e-3},
		Spring:    plant.Spring{Rate: 180e3, Preload: 7044}}
}

func built(t testing.TB, p *plant.Plant) *plant.Model {
	m, err := plant.Build(p)
	require.NoError(t, err)
	return m
}

func mapOf(t testing.TB, v *plant.SpringValve, more ...plant.Part) *equilibria.Map {
	k, err := equilibria.Of(built(t, bench(v, more...)), "valve", equilibria.Options{})
	require.NoError(t, err)
	return k
}

// barg is a gauge pressure in bar.
func barg(p float64) float64 { return (p - sea) / 1e5 }

// share is in per cent of the reference set pressure, 40 bar.
func share(dp float64) float64 { return 100 * dp / 40e5 }

// at is the pressure of equilibrium at a lift before the pop, on the chord of two
// points.
func at(m *equilibria.Map, lift float64) float64 {
	for _, b := range m.Branches {
		for i := 1; i < len(b.Points); i++ {
			if p, q := b.Points[i-1], b.Points[i]; p.Lift <= lift && q.Lift > lift {
				return p.Vessel + (lift-p.Lift)/(q.Lift-p.Lift)*(q.Vessel-p.Vessel)
			}
		}
	}
	return math.NaN()
}
