package live_test

import (
	"fmt"
	"math"
	"testing"
)

// demanded is the chamber's pressure when the coil comes on.
func (g rig) demanded() float64 {
	p, _ := g.gasAt(g.madeAt() + g.pickUp)
	return p
}

// pilotStuckShut: the pilot stays shut while the bond and what presses it on
// its seat exceed the pull of the full current V/R over the open gap,
//
//	F = Kf (V/R)^2/(1 + smax/g0)^2 - Fp0 - Ap (pB - pT).
//
// The chamber's pressure is that of the moment the coil comes on. While the
// current grows to its last thousandth, 0.3 s, it rises by another 0.6 %,
// which is 0.7 N.
func pilotStuckShut(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	i := g.volts / g.ohms / (1 + g.sMax/g.g0)
	derived := g.Kf*i*i - g.Fp0 - g.Ap*(g.demanded()-g.pAir)
	simulated := bisected(t, 50, 300, func(bond float64) bool {
		return happens(t, with(sc, "pilot-stuck-shut", bond, 0), "pilot-lift")
	})
	return []threshold{
		{"", "bond that the coil cannot break", "N", derived, simulated, within(0.8), ""},
	}
}

// pilotStuckOpen: at full stroke no pressure presses on the pilot's seat, so
// without current nothing but the spring pulls it off: F = Fp0 + kp smax. Two
// seconds after the coil has gone off its pull is nothing.
func pilotStuckOpen(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	simulated := bisected(t, 5, 100, func(bond float64) bool {
		return happens(t, with(sc, "pilot-stuck-open", bond, 0), "pilot-drop")
	})
	return []threshold{
		{"", "bond that the spring cannot break", "N", g.Fp0 + g.kp*g.sMax, simulated, within(0.02), ""},
	}
}

// pilotSlow: with so much damping c the plunger has no inertia to speak of
// (m/c is 0.05 ms), and
//
//	shutting: c ds/dt = -(Fp0 + kp s), from smax to 0 in c/kp ln(1 + kp smax/Fp0),
//	opening:  c ds/dt = Kf i^2/(1 + (smax - s)/g0)^2 - Fp0 - kp s - Ap (pB - pT)(1 - s/smax),
//
// the latter together with the chamber, which empties through what the pilot
// has opened and is fed through the bleed. The valve reseats lower by what the
// vessel's pressure falls in the time by which the pilot shuts later. Derived
// here.
func pilotSlow(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	type cycle struct{ shutting, lifting, leave float64 }
	run := func(c float64) cycle {
		r := played(t, with(sc, "pilot-slow", c, 0), "disc-leaves-stop")
		off, _ := valveAt(t, r, "coil-off")
		shut, _ := valveAt(t, r, "pilot-shut")
		lift, _ := valveAt(t, r, "pilot-lift")
		disc, _ := valveAt(t, r, "disc-lift")
		_, v := valveAt(t, r, "disc-leaves-stop")
		return cycle{shut - off, disc - lift, v.Vessel}
	}
	healthy := run(g.damp)
	var out []threshold
	for _, c := range []struct {
		damping    float64
		shut, fall [2]float64
		why        string
	}{
		{2000, within(0.5), [2]float64{-17, -12}, ""},
		{5000, [2]float64{-7, -4}, [2]float64{-20, -10}, "the chamber refills while the pilot creeps shut and presses on it"},
	} {
		sim := run(c.damping)
		of := fmt.Sprintf(", damping %g N s/m", c.damping)
		b := g.onDemand()
		out = append(out,
			threshold{"", "time from coil off to pilot shut" + of, "s", g.release() + c.damping/g.kp*math.Log(1+g.kp*g.sMax/g.Fp0), sim.shutting, c.shut, c.why},
			threshold{"", "time from pilot lift to disc lift" + of, "s", g.emptying(c.damping), sim.lifting, within(0.5), ""},
			threshold{"", "what the vessel's pressure loses until the disc leaves its stop" + of, "bar", g.fall(b.pV, b.TV) * (sim.shutting - healthy.shutting) / bar, (healthy.leave - sim.leave) / bar, c.fall,
				"the chamber begins to refill once the pilot passes less than the bleed, before it is shut"})
	}
	return out
}

// emptying is the time from the pilot's leaving its seat to the disc's leaving
// its own, with a plunger of the damping c and no inertia.
func (g rig) emptying(c float64) float64 {
	pA, T := g.gasAt(g.madeAt() + g.pickUp)
	i0, full := g.liftCurrent(pA, g.pAir), g.volts/g.ohms
	y := []float64{0, pA, pA * g.cavity / (g.R * T)} // s, pB, mass in the chamber
	return march(0, 1e-4, 2, y, func(t float64, y, dy []float64) {
		s, pB, TB := min(y[0], g.sMax), y[1], y[1]*g.cavity/(g.R*y[2])
		i := (full - (full-i0)*math.Exp(-t*g.ohms/g.henrys)) / (1 + (g.sMax-s)/g.g0)
		dy[0] = max(0, g.Kf*i*i-g.Fp0-g.kp*s-g.Ap*(pB-g.pAir)*(1-s/g.sMax)) / c
		in, out := g.stream(g.Cbleed, pA, T, pB, TB), g.stream(g.Cpilot*s/g.sMax, pB, TB, g.pAir, T)
		dy[1] = g.gamma * g.R / g.cavity * (in*T - out*TB)
		dy[2] = in - out
	}, func(_ float64, y []float64) float64 { return g.toLift(pA, g.pAir) - y[1] })
}

// coilOpen: the pilot lifts only if the full current V/R reaches what lifts
// it off its seat; so the resistance must be below V/i_lift. While the current
// grows, the chamber's pressure still rises (pilotStuckShut).
func coilOpen(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	simulated := bisected(t, 50, 200, func(ohms float64) bool {
		return happens(t, with(sc, "coil-open", ohms, 0), "pilot-lift")
	})
	return []threshold{
		{"", "resistance with which the pilot does not lift", "ohm", g.volts / g.liftCurrent(g.demanded(), g.pAir), simulated, within(0.5), ""},
	}
}

// supplyLow: R i_lift is the least voltage that lifts the pilot, R i_hold the
// least that then holds it open.
func supplyLow(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	pullIn := bisected(t, 50, 125, func(volts float64) bool {
		return happens(t, with(sc, "supply-low", volts, 0), "pilot-lift")
	})
	// The supply sags while the valve is open and the switch stays made.
	open := stand(t, "gas-bench", 4, "switch.reset=5 bar abs")
	dropOut := bisected(t, 5, 80, func(volts float64) bool {
		return happens(t, with(open, "supply-low", volts, 2.6), "pilot-drop")
	})
	return []threshold{
		{"", "voltage with which the pilot does not lift", "V", g.ohms * g.liftCurrent(g.demanded(), g.pAir), pullIn, within(0.5), ""},
		{"", "voltage with which an open pilot drops", "V", g.ohms * g.holdCurrent(), dropOut, within(0.02), ""},
	}
}
