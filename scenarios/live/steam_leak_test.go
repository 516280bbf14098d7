package live_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fluid"
	"underdisc/model/fluid/water"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// throttled is the temperature of dry saturated steam of a pressure, bar, after
// an isenthalpic expansion to 1.01325 bar, degC. Source: IAPWS-IF97, computed
// with an independent library.
var throttled = []struct{ bar, want float64 }{
	{10, 150.31}, {20, 161.04}, {30, 163.50}, {40, 162.30}, {50, 158.94},
	{60, 154.06}, {70, 148.02}, {80, 141.01}, {90, 133.14}, {100, 124.46},
}

func throttle(t *testing.T, w *water.Water, p, x float64) float64 {
	var up, down fluid.State
	v, u, err := w.PX(p, x)
	require.NoError(t, err)
	w.At(v, u, &up)
	v, u, ok := w.PH(101325, up.H, &up)
	require.True(t, ok)
	w.At(v, u, &down)
	return down.T - 273.15
}

// TestThrottledSteam: the temperature of a leak, within 0.2 K.
func TestThrottledSteam(t *testing.T) {
	w := water.Shared()
	for _, c := range throttled {
		got := throttle(t, w, c.bar*1e5, 1)
		t.Logf("%3.0f bar: %.2f degC against %.2f", c.bar, got, c.want)
		assert.InDelta(t, c.want, got, 0.2, "%g bar", c.bar)
	}
	// Above 12.454 MPa the throttled steam is wet; 150 bar: quality 0.9713.
	assert.InDelta(t, 99.97, throttle(t, w, 150e5, 1), 0.2)
	// With 2 % moisture at the inlet (same source).
	for bar, want := range map[float64]float64{10: 130.1, 30: 145.4, 70: 132.9, 100: 111.4} {
		assert.InDelta(t, want, throttle(t, w, bar*1e5, 0.98), 0.2, "%g bar, 2 %% wet", bar)
	}
}

// leakRun is the steam bench with a leak of so many mm2 past its seat, held at
// about 40 bar, for half an hour.
func leakRun(t *testing.T, mm2 float64) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	sc.Plant, err = sc.Plant.With("valve.seat.leak-area", plant.Value{Number: mm2 * 1e-6})
	require.NoError(t, err)
	// What leaks takes its heat of evaporation; the insulation 2.5 kW.
	sc.Plant, err = sc.Plant.With("firing.power", plant.Value{Number: 2.5e3 + mm2*1e-6*0.85*5650*1.71e6})
	require.NoError(t, err)
	sc.Until, sc.Shows = 1800, nil
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// TestLeakWarmsTailpipe: the more it leaks the hotter the wall, which stays below
// the throttled steam.
func TestLeakWarmsTailpipe(t *testing.T) {
	last := 20 + 273.15
	for _, mm2 := range []float64{0.02, 0.1, 0.5, 2, 10, 50} {
		r := leakRun(t, mm2)
		s := r.Now()
		v := &s.Valves[0]
		limit := throttle(t, water.Shared(), v.Above, 1) + 273.15
		t.Logf("%5.2f mm2 at %.1f bar: %.3g g/s, wall %.1f degC, throttled steam %.1f degC, pipe %.1f degC, %.0f %% air",
			mm2, v.Above/1e5, 1e3*v.Seat, v.OutletWall.T-273.15, limit-273.15, v.OutletFluid.Temperature-273.15, 100*v.OutletFluid.Air)
		assert.InDelta(t, 40e5, v.Above, 3e5, "the drum keeps its pressure")
		assert.Greater(t, v.OutletWall.T, last, "%g mm2: hotter than with less", mm2)
		assert.Less(t, v.OutletWall.T, limit, "%g mm2: below the throttled steam", mm2)
		last = v.OutletWall.T
	}
}

// TestTailpipeCoolsAfterReseat: leaking-seat-steam, from the reseat on.
func TestTailpipeCoolsAfterReseat(t *testing.T) {
	sc, err := scenarios.Load("leaking-seat-steam")
	require.NoError(t, err)
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	reseat := 0.0
	for _, e := range r.Sim.Events() {
		if e.Name == "disc-seated" {
			reseat = e.T
		}
	}
	require.Greater(t, reseat, 300.0)
	wall := func(at float64) float64 {
		s, _, err := r.At(at)
		require.NoError(t, err)
		return s.Valves[0].OutletWall.T - 273.15
	}
	peak, when := 0.0, 0.0
	for at := reseat; at < reseat+60; at += 0.01 {
		if w := wall(at); w > peak {
			peak, when = w, at
		}
	}
	end := wall(sc.Until)
	t.Logf("20 s: %.1f degC; 299 s: %.1f degC; at the reseat %.1f degC; peak %.2f degC %.2f s after it; at the end %.1f degC",
		wall(20), wall(299), wall(reseat), peak, when-reseat, end)
	assert.Greater(t, wall(299), wall(20)+30, "a leak warms the pipe")
	assert.Less(t, when-reseat, 10.0, "a pipe whose valve has reseated starts to cool at once (common practice, no source)")
	for at, last := when+1, peak; at < sc.Until; at += 10 {
		w := wall(at)
		require.Less(t, w, last, fmt.Sprintf("cools all the time, at %g s", at))
		last = w
	}
	assert.Less(t, end, 0.5*(peak+20), "half way to the surroundings")
}
