package live_test

import (
	"fmt"
	"math"
	"testing"
)

// switchDrifted: both pressures move by the drift, and the vessel's are off
// them by the sensor's lag: above the set pressure by lag times the rate of
// rise, whatever the drift; below the reset pressure by lag times the rate of
// fall, which at a higher pressure is a little more.
func switchDrifted(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 12)
	g := rigOf(sc.Plant)
	const drift = 0.5 * bar
	whole, moved := played(t, sc, "switch-reset"), played(t, with(sc, "switch-drifted", drift, 0), "switch-reset")
	_, made0 := valveAt(t, whole, "switch-made")
	_, made1 := valveAt(t, moved, "switch-made")
	_, reset0 := valveAt(t, whole, "switch-reset")
	_, reset1 := valveAt(t, moved, "switch-reset")
	return []threshold{
		{"", "vessel's pressure above the set pressure when the switch makes, no drift", "bar", g.rise() * g.lag / bar, (made0.Vessel - g.set) / bar, within(0.01), ""},
		{"", "shift of the vessel's pressure when the switch makes, drift 0.5 bar", "bar", drift / bar, (made1.Vessel - made0.Vessel) / bar, within(0.01), ""},
		{"", "shift of the vessel's pressure when the switch resets, drift 0.5 bar", "bar", drift / bar, (reset1.Vessel - reset0.Vessel) / bar, within(0.7), ""},
	}
}

// deadbandNarrow: however narrow the deadband, the vessel's pressure falls
// while the valve shuts: rate of fall times the delays of sensor, relay, coil,
// pilot and chamber. From the pressure at which the disc lifts it falls by
// more: by what it has risen above the set pressure while sensor, relay, coil,
// pilot and chamber took their time to open.
func deadbandNarrow(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	var out []threshold
	for _, c := range []struct {
		gap  float64 // bar
		band [2]float64
		why  string
	}{
		{0.1, within(1), ""},
		{1e-5, [2]float64{-6, -3.5}, "the switch resets 0.1 s after the lift, before the reading has come to lag behind the fall by all of its time constant"},
	} {
		reset := 12*bar - c.gap*bar
		r := played(t, with(sc, "deadband-narrow", reset, 0), "disc-leaves-stop")
		_, lift := valveAt(t, r, "disc-lift")
		t0, _ := valveAt(t, r, "switch-reset")
		t1, leave := valveAt(t, r, "disc-leaves-stop")
		g := rigOf(sc.Plant)
		g.reset = reset
		b := g.onDemand()
		fall := g.fall(b.pV, b.TV)
		delay := g.dropOut + g.release() + g.travel() + b.leaves(g, 1)
		of := fmt.Sprintf(", deadband %g bar", c.gap)
		out = append(out,
			threshold{"", "time from switch reset to disc leaves stop" + of, "s", delay, t1 - t0, within(2), ""},
			threshold{"", "fall of the vessel's pressure from disc lift to disc leaves stop" + of, "bar",
				c.gap + (lift.Vessel-g.set+fall*(g.lag+delay))/bar, (lift.Vessel - leave.Vessel) / bar, c.band, c.why})
	}
	return out
}

// sensingSlow: on a ramp of the rate r that begins at rest the reading is
// p - r tau (1 - exp(-t/tau)); so the switch makes late, at a pressure that is
// too high by that much.
func sensingSlow(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 30)
	g := rigOf(sc.Plant)
	var out []threshold
	for _, lag := range []float64{0.5, 3, 10} {
		short := func(t float64) float64 { return g.rise() * lag * (1 - math.Exp(-t/lag)) }
		at := root(0, 30, func(t float64) float64 { return g.pStart + g.rise()*t - short(t) - g.set })
		_, v := valveAt(t, played(t, with(sc, "sensing-slow", lag, 0), "switch-made"), "switch-made")
		out = append(out, threshold{"", fmt.Sprintf("vessel's pressure above the set pressure when the switch makes, lag %g s", lag), "bar", short(at) / bar, (v.Vessel - g.set) / bar, within(0.05), ""})
	}
	return out
}

// inletThrottled: a line that passes less than the inflow at the reset
// pressure never brings the vessel down to it; one that is narrower still
// lets the body fall so far that the disc leaves its stop although the chamber
// is empty (backPressure), just after the lift, when the vessel has not yet
// had the time to rise.
func inletThrottled(t *testing.T) []threshold {
	long := stand(t, "gas-bench", 1500)
	g := rigOf(long.Plant)
	carries := root(200*mm2, 1000*mm2, func(area float64) float64 {
		g := g
		g.Cline = g.cdLine * area
		w, _, _ := g.open(g.reset)
		return w - g.inflow*math.Sqrt(g.R*g.tInflow)
	})
	never := bisected(t, 300*mm2, 900*mm2, func(area float64) bool {
		return happens(t, with(long, "inlet-throttled", area, 0), "switch-reset")
	})

	short := stand(t, "gas-bench", 4)
	pV, _ := g.gasAt(g.madeAt() + 0.06) // 60 ms is about what opening takes
	holds := root(50*mm2, 1000*mm2, func(area float64) float64 {
		g := g
		g.Cline = g.cdLine * area
		_, pA, pT := g.open(pV)
		return g.dumped(pA, pT) - g.toLeave(pA, pT)
	})
	leaves := bisected(t, 200*mm2, 900*mm2, func(area float64) bool {
		return happens(t, with(short, "inlet-throttled", area, 0), "disc-leaves-stop")
	})
	return []threshold{
		{"", "line that does not bring the vessel down to the reset pressure", "mm2", carries / mm2, never / mm2, within(0.05), ""},
		{"", "line with which the disc does not stay at its stop on demand", "mm2", holds / mm2, leaves / mm2, within(0.2), ""},
	}
}

// seatLeaks: a leak past the main seat that passes the whole inflow at the set
// pressure keeps the vessel from ever reaching it, and no demand comes; for
// air, choked, area = W sqrt(R T)/(Cd p C(k)), in series with line and
// tailpipe.
func seatLeaks(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 2000)
	g := rigOf(sc.Plant)
	derived := root(100*mm2, 1000*mm2, func(area float64) float64 { return g.balance(g.cdSeat*area) - g.set })
	simulated := bisected(t, 100*mm2, 1000*mm2, func(area float64) bool {
		return happens(t, with(sc, "seat-leaks", area, 0), "switch-made")
	})
	return []threshold{
		{"", "leak that passes the whole inflow at the set pressure, so that no demand comes", "mm2", derived / mm2, simulated / mm2, within(0.02), ""},
	}
}
