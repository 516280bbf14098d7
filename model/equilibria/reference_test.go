package equilibria_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
)

func area(d float64) float64 { return math.Pi / 4 * d * d }

var seatArea = area(47.5e-3)

// TestReferenceTables: the equilibria of the reference valve on an ideal gas, as
// an independent trial in another language had them (pop and blowdown by scanning
// the lift; its numbers are those of this project's notes, computed). Blowdown is
// pop less reseat over 40 bar; simmer counts from a lift of 1 um, where that scan
// began. The lower ring's gap, then the upper's height.
func TestReferenceTables(t *testing.T) {
	for _, c := range []struct{ gap, height, simmer, pop, blowdown float64 }{
		{0.3, 26, 1.36, 39.89, 8.3},
		{1.0, 26, 1.55, 39.97, 6.1},
		{2.5, 26, 1.63, 40.00, 4.3},
		{4.0, 26, 1.74, 40.04, 3.6},
		{6.0, 26, 1.93, 40.12, 3.2},
		{10, 26, 2.59, 40.39, 3.1},
		{2.5, 16, 1.63, 40.00, 11.3},
		{2.5, 20, 1.63, 40.00, 7.5},
		{2.5, 24, 1.63, 40.00, 5.1},
		{2.5, 30, 1.63, 40.00, 3.2},
		{2.5, 45, 1.63, 40.00, 2.2},
	} {
		t.Run(fmt.Sprintf("gap %g height %g mm", c.gap, c.height), func(t *testing.T) {
			m := mapOf(t, twoRing(c.gap*1e-3, c.height*1e-3))
			require.NotNil(t, m.Pop)
			require.NotNil(t, m.Reseat)
			pop, blowdown, simmer := barg(m.Pop.Vessel), share(m.Pop.Vessel-m.Reseat.Vessel), share(m.Pop.Vessel-at(m, 1e-6))
			j, _ := m.Landing()
			t.Logf("simmer %.2f %% pop %.3f bar at %.4f mm, to %.2f mm, reseat %.3f at %.2f mm, blowdown %.2f %%; %d folds, %d branches",
				simmer, pop, m.Pop.Lift*1e3, j.To*1e3, barg(m.Reseat.Vessel), m.Reseat.Lift*1e3, blowdown, len(m.Folds), len(m.Branches))
			assert.InDelta(t, c.pop, pop, 0.02)
			assert.InDelta(t, c.blowdown, blowdown, 0.1)
			assert.InDelta(t, c.simmer, simmer, 0.035)
			// The faces part where pressure and their own force carry the spring.
			assert.InDelta(t, (7044+4*9.81-142)/seatArea+sea, m.Simmer, 10)
			assert.InDelta(t, 100*(m.Pop.Vessel-m.Simmer)/m.Set(), 100*m.SimmerShare(), 1e-9)
		})
	}
}

// TestHalfLift: a wrong setting of rings and spring pops to a small lift and at 3 %
// above the set pressure stands at half of its travel, where the right setting is
// at its stop.
func TestHalfLift(t *testing.T) {
	right := mapOf(t, twoRing(2.5e-3, 26e-3))
	v := twoRing(4e-3, 60e-3)
	v.Spring.Rate = 195e3
	m := mapOf(t, v)
	j, ok := m.Landing()
	require.True(t, ok)
	p := 1.03*40e5 + sea
	wrong, good := m.Stands(p), right.Stands(p)
	require.Len(t, wrong, 1)
	require.Len(t, good, 1)
	t.Logf("pops to %.2f mm; at 3 %% above set %.2f of %.0f mm, %.2f kg/s for %.2f", j.To*1e3, wrong[0].Lift*1e3, m.Travel*1e3, wrong[0].Flow, good[0].Flow)
	assert.InDelta(t, 0.5, wrong[0].Lift/m.Travel, 0.05)
	assert.Less(t, j.To, 0.25*m.Travel)
	assert.Equal(t, right.Travel, good[0].Lift)
}

// TestPopFold against its closed form: the huddling chamber's pressure goes with
// the square of the lift, beta x^2 as a force (derived in model/flow's own test).
func TestPopFold(t *testing.T) {
	for _, gap := range []float64{1, 1.5, 2.5, 4} {
		m := mapOf(t, twoRing(gap*1e-3, 45e-3))
		c2 := 1.3 * math.Pow(2/2.3, 2.3/0.3) // the square of C(1.3)
		a20 := 0.88 * (math.Pi*52e-3*gap*1e-3 + 15e-6)
		p1 := 40e5 + sea
		beta := (area(52e-3) - seatArea) * c2 / 2 * p1 * p1 / sea * math.Pow(0.85*math.Pi*47.5e-3/a20, 2)
		lo, hi := 0.0, 1e-3
		for range 60 {
			if x := (lo + hi) / 2; 142/4e-6*math.Exp(-x/4e-6)+180e3 > 2*beta*x {
				lo = x
			} else {
				hi = x
			}
		}
		pop := (7044 + 4*9.81 + 180e3*lo - 142*math.Exp(-lo/4e-6) - beta*lo*lo) / seatArea / 1e5
		t.Logf("gap %.1f mm: pop %.3f bar at %.4f mm, closed form %.3f at %.4f", gap, barg(m.Pop.Vessel), m.Pop.Lift*1e3, pop, lo*1e3)
		assert.InDelta(t, pop, barg(m.Pop.Vessel), 0.015)
		assert.InEpsilon(t, lo, m.Pop.Lift, 0.15)
	}
}

// TestFoldsAreExact: at a fold the pressure does not change with the lift: the
// equilibria beside it lie off by the square of their distance, on one side.
func TestFoldsAreExact(t *testing.T) {
	m := mapOf(t, twoRing(2.5e-3, 30e-3))
	require.Len(t, m.Folds, 4)
	for _, f := range m.Folds {
		sign := 1.0
		if f.Kind == equilibria.Reseats {
			sign = -1
		}
		for _, b := range m.Branches {
			for _, p := range b.Points {
				if d := math.Abs(p.Lift/f.Lift - 1); d < 0.1 {
					assert.GreaterOrEqual(t, sign*(f.Vessel-p.Vessel), -1e-10*f.Vessel)
				}
			}
		}
	}
}

// TestStable: along every curve the disc is stable where the pressure of
// equilibrium rises with the lift, and there alone.
func TestStable(t *testing.T) {
	m := mapOf(t, twoRing(2.5e-3, 30e-3))
	n := 0
	for _, b := range m.Branches {
		if b.Kind == equilibria.Stopped {
			continue
		}
		for i := 1; i < len(b.Points); i++ {
			p, q := b.Points[i-1], b.Points[i]
			assert.Equal(t, b.Stable, q.Vessel > p.Vessel, "%v at %g mm", b.Kind, p.Lift*1e3)
			if i+1 < len(b.Points) {
				assert.Equal(t, b.Stable, q.Slope < 0)
			}
			n++
		}
	}
	assert.Greater(t, n, 100)
}
