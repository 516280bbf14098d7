package live_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/equilibria"
	"underdisc/model/flow"
	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// run is a scenario run to its end.
func runSpring(t *testing.T, sc *scenarios.Scenario) *live.Run {
	t.Helper()
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// TestWrongRingsGiveHalfLift: with the rings wrong and a stiffer spring the valve
// has lifted about half way at 3 % above its set pressure, where a sound one is at
// its stop (NRC IN 86-05 reports half lift of safety valves whose rings were wrongly
// set; seen second hand). The run stands where the map says.
func TestWrongRingsGiveHalfLift(t *testing.T) {
	wrong := map[string]float64{"safety.lower-ring.gap": 4e-3, "safety.upper-ring.exit-height": 60e-3, "safety.spring.rate": 195e3}
	m := springMap(t, springAt(t, "spring-reference", 1, wrong), "safety")
	at, ok := liftedAt(m, m.Atmosphere+1.03*m.Set())
	require.True(t, ok)
	share := at.Lift / m.Travel
	wrong["inflow.mass-flow"] = at.Flow
	r := runSpring(t, springAt(t, "spring-reference", 120, wrong))
	now := &r.Now().Springs[0]
	t.Logf("at 3 %% above the set %.2f bar the map has %.2f of %.0f mm; the run stands at %.2f mm and %.2f bar", m.Set()/1e5, 1e3*at.Lift, 1e3*m.Travel, 1e3*now.Lift, gauge(now.Vessel))
	assert.InDelta(t, 0.5, share, 0.06)
	assert.InEpsilon(t, at.Lift, now.Lift, 0.01)
	assert.Empty(t, happened(r, "full-lift"))

	sound := springMap(t, springAt(t, "spring-reference", 1, nil), "safety")
	jump, ok := sound.Landing()
	require.True(t, ok)
	assert.Equal(t, sound.Travel, jump.To)
}

// liftedAt is the stable lifted equilibrium at a pressure in the vessel, between
// two points of its branch.
func liftedAt(m *equilibria.Map, p float64) (at equilibria.Point, ok bool) {
	for _, b := range m.Branches {
		if b.Kind != equilibria.Lifted || !b.Stable {
			continue
		}
		for i := 1; i < len(b.Points); i++ {
			lo, hi := b.Points[i-1], b.Points[i]
			if s := (p - lo.Vessel) / (hi.Vessel - lo.Vessel); s >= 0 && s <= 1 {
				lo.Lift += s * (hi.Lift - lo.Lift)
				lo.Flow += s * (hi.Flow - lo.Flow)
				lo.Vessel = p
				return lo, true
			}
		}
	}
	return at, false
}

// TestSimmersForEver: an inflow below what leaks at the fold never pops the valve;
// one above it does.
func TestSimmersForEver(t *testing.T) {
	m := springMap(t, springAt(t, "spring-reference", 1, nil), "safety")
	leak := m.Pop.Flow
	for _, share := range []float64{0.95, 1.05} {
		sc := springAt(t, "spring-reference", 4000, map[string]float64{"inflow.mass-flow": share * leak, "vessel.pressure": m.Pop.Vessel - 0.05e5})
		r := runSpring(t, sc)
		pops := len(happened(r, "pop"))
		now := &r.Now().Springs[0]
		t.Logf("an inflow of %.4f kg/s, %.2f of the leak at the fold: %d pops in %g s; at the end %v at %.2f um", share*leak, share, pops, sc.Until, now.Pop, 1e6*now.Lift)
		if share < 1 {
			assert.Zero(t, pops)
			assert.Equal(t, plant.Simmering, now.Pop)
			assert.InEpsilon(t, share*leak, now.W, 1e-3)
		} else {
			assert.Positive(t, pops)
		}
	}
}

// TestStandsInBetween: an inflow of what the valve passes on its stable branch
// between reseat and stop holds it there, without a pipe.
func TestStandsInBetween(t *testing.T) {
	const inflow = 7.5
	sc := springAt(t, "spring-reference", 120, map[string]float64{"inflow.mass-flow": inflow})
	r := runSpring(t, sc)
	now := &r.Now().Springs[0]
	at, ok := liftedAt(springMap(t, sc, "safety"), now.Vessel)
	require.True(t, ok)
	t.Logf("passes %.3f kg/s at %.3f mm and %.3f bar; the map has %.3f kg/s at %.3f mm there", now.W, 1e3*now.Lift, gauge(now.Vessel), at.Flow, 1e3*at.Lift)
	assert.Len(t, happened(r, "pop"), 1)
	assert.Less(t, math.Abs(now.Speed), 1e-5)
	assert.InDelta(t, inflow, now.W, 0.01)
	assert.InEpsilon(t, at.Lift, now.Lift, 0.01)
}

// TestProportional: the valve for liquid follows the pressure where its criterion
// says so, that its spring stiffens faster than what pushes the disc grows,
//
//	k/(F0 + k x) > (dA/dx)/A, A = As + eta Ae^2/A0
//
// at every lift, and pops where it does not. The share of momentum is swept.
func TestProportional(t *testing.T) {
	proportional, pops := 0, 0
	for _, eta := range []float64{0.1, 0.3, 0.5, 0.7, 0.9, 1.2} {
		sc := springAt(t, "spring-liquid", 4, map[string]float64{"vessel.pressure": 10.5e5, "relief.nozzle.momentum-share": eta})
		v, _ := plant.Spec[plant.SpringValve](sc.Plant, "relief")
		holds := criterion(v)
		m := springMap(t, sc, "relief")
		assert.Equal(t, holds, m.Proportional(), "share of momentum %g: %d folds", eta, len(m.Folds))

		// Slowly from below the pressure at which it opens: the lift jumps or not.
		jump := jumps(t, sc, v)
		t.Logf("share of momentum %.1f: criterion %v, folds %d, largest step of the lift %.2f mm", eta, holds, len(m.Folds), 1e3*jump)
		if holds {
			proportional++
			assert.Less(t, jump, 1e-3)
		} else {
			pops++
			assert.Greater(t, jump, 2e-3)
		}
	}
	assert.Positive(t, proportional)
	assert.Positive(t, pops)
}

// criterion of a valve for liquid.
func criterion(v *plant.SpringValve) bool {
	as, a0 := math.Pi/4*v.Seat.Diameter*v.Seat.Diameter, math.Pi/4*v.Nozzle.Bore*v.Nozzle.Bore
	area := func(x float64) float64 {
		a := v.Seat.Coefficient * math.Pi * v.Seat.Diameter * x
		ae := a / math.Sqrt(1+math.Pow(a/(v.Nozzle.Coefficient*a0), 2))
		return as + v.Nozzle.Momentum*ae*ae/a0
	}
	for i := 1; i <= 600; i++ {
		x := v.Disc.Travel * float64(i) / 600
		const h = 1e-7
		growth := (area(x+h) - area(x-h)) / (2 * h) / area(x)
		if v.Spring.Rate/(v.Spring.Preload+v.Spring.Rate*x) <= growth {
			return false
		}
	}
	return true
}

// jumps raises what is pumped in slowly, and says by how much the settled lift
// steps at most from one to the next of equal steps of pressure.
func jumps(t *testing.T, sc *scenarios.Scenario, v *plant.SpringValve) float64 {
	t.Helper()
	m, err := plant.Build(sc.Plant)
	require.NoError(t, err)
	past := m.PastDisc(v, 101325)
	// The disc alone, at a pressure that is raised in steps: overdamped motion to
	// where its forces balance.
	x, largest := 0.0, 0.0
	for p := 9.5e5; p < 13.5e5; p += 0.01e5 {
		before := x
		var s fluid.State
		vol, u, err := m.Water.PT(p+101325, 313.15)
		require.NoError(t, err)
		m.At(vol, u, &s)
		for range 20000 {
			var o flow.Past
			past.At(&s, 101325, x, &o)
			e := x / v.Seat.Length
			net := o.Force - v.Spring.Preload - v.Spring.Rate*x - v.Disc.Mass*m.Gravity + v.Seat.Force*math.Exp(-math.Max(e, -4))
			step := net / (v.Spring.Rate + v.Seat.Force/v.Seat.Length*math.Exp(-math.Max(e, -4)))
			x = math.Min(x+0.5*step, v.Disc.Travel)
			if math.Abs(step) < 1e-10 || x == v.Disc.Travel && step > 0 {
				break
			}
		}
		if before > 0 && x < v.Disc.Travel {
			largest = math.Max(largest, x-before)
		}
		if x == v.Disc.Travel {
			if before > 0 {
				largest = math.Max(largest, x-before)
			}
			break
		}
	}
	return largest
}

// TestHandForce: the lever parts the faces exactly from the force on that the
// balance of forces gives, cold, at 75 % and at 90 % of set. 697, 166 and 59 N are
// what the notes of the reference valve give, counted from a lift of a micrometre
// (computed). That 75 % of set is the least at which a safety valve must be able to
// be lifted by hand is a code's duty (12 NYCRR 14-9.13, seen second hand).
func TestHandForce(t *testing.T) {
	const ratio = 10
	for _, c := range []struct{ gauge, notes float64 }{{0.001, 697}, {30, 166}, {36, 59}} {
		sc := springAt(t, "spring-reference", 1, map[string]float64{"vessel.pressure": c.gauge*1e5 + 101325, "inflow.mass-flow": 0})
		r := runSpring(t, sc)
		need := r.Now().Springs[0].HandToLift
		micron := need + 142*(1-math.Exp(-0.25))/ratio // from a micrometre on
		t.Logf("%.0f bar: %.1f N part the faces, %.1f N hold them a micrometre apart; notes %.0f N", c.gauge, need, micron, c.notes)
		assert.InDelta(t, c.notes, micron, 1)
		for _, by := range []float64{0.995, 1.005} {
			sc := springAt(t, "spring-reference", 3, map[string]float64{"vessel.pressure": c.gauge*1e5 + 101325, "inflow.mass-flow": 0,
				"safety.lever.hand-force": by * need, "safety.lever.pull": 1})
			r := runSpring(t, sc)
			parted := r.Now().Springs[0].Lift > 0
			assert.Equal(t, by > 1, parted, "%g bar, %g of the force", c.gauge, by)
		}
	}
}
