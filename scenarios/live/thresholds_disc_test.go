package live_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
)

// shifts compares two runs: how much higher the chamber's pressure stands
// when the disc lifts and when it leaves its stop, and how much lower the
// vessel's is then.
func shifts(t *testing.T, whole, changed *scenarios.Scenario) (lift, leave, vessel float64) {
	t.Helper()
	a, b := played(t, whole, "disc-leaves-stop"), played(t, changed, "disc-leaves-stop")
	_, lift0 := valveAt(t, a, "disc-lift")
	_, lift1 := valveAt(t, b, "disc-lift")
	_, leave0 := valveAt(t, a, "disc-leaves-stop")
	_, leave1 := valveAt(t, b, "disc-leaves-stop")
	return lift1.Below - lift0.Below, leave1.Below - leave0.Below, leave0.Vessel - leave1.Vessel
}

// refills is what the vessel's pressure loses while the chamber rises by dp
// more before the disc leaves its stop, at the flow through the bleed in the
// middle of it (bleedPlugged).
func (g rig) refills(dp float64) float64 {
	b := g.onDemand()
	_, pA, pT := g.open(b.pV)
	rate := g.gamma * g.Cbleed * pA * g.psi((g.toLeave(pA, pT)+dp/2)/pA) * math.Sqrt(g.R*b.TV) / (g.cavity - g.Ag*g.xMax)
	return g.fall(b.pV, b.TV) * dp / rate
}

// springWeak: a preload that is less by dF raises both thresholds of the
// chamber's pressure by dF/Ag, if the other pressures are the same; they
// differ by what happens in a few milliseconds. Under pressure from the outlet
// the chamber and the body are equal, and the disc lifts when
//
//	(pT - pA) As = F0 - m g + Fc.
func springWeak(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	const preload = 100.0
	lift, leave, vessel := shifts(t, sc, with(sc, "spring-weak", preload, 0))
	dp := (g.F0 - preload) / g.Ag

	// The vessel empties through a leak, which is mended before the pressure
	// at the outlet rises.
	header := stand(t, "gas-bench", 52, "inflow.mass-flow=0kg/s", "vessel.pressure=1.6 bar abs", "valve.seat.leak-area=2000mm2")
	header = set(set(header, 50, "valve.seat.leak-area", 0), 50.5, "surroundings.pressure", 1.6*bar)
	lifts := bisected(t, 20, 200, func(preload float64) bool {
		return happens(t, with(header, "spring-weak", preload, 0), "disc-lift")
	})
	return []threshold{
		{"", "rise of the chamber's pressure to lift, preload 100 N", "bar", dp / bar, lift / bar, within(0.1), ""},
		{"", "rise of the chamber's pressure to leave the stop, preload 100 N", "bar", dp / bar, leave / bar, within(1.6), ""},
		{"", "what the vessel's pressure loses until then, preload 100 N", "bar", g.refills(dp) / bar, vessel / bar, within(2), ""},
		{"", "preload that 1.6 bar abs at the outlet overcomes, the vessel without pressure", "N", (1.6*bar-g.pAir)*g.As + g.weight - g.Fc, lifts, within(0.05), ""},
	}
}

// springBroken: as springWeak, with F0/Ag and (F0 + k xmax)/Ag. When it breaks
// at full lift, the energy F0 xmax + k xmax^2/2 that it held is booked as the
// fault's. An open disc in a plant without pressure leaves its stop only if
// what is left of the preload exceeds weight and friction.
func springBroken(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 6)
	g := rigOf(sc.Plant)
	lift, leave, vessel := shifts(t, sc, with(sc, "spring-broken", 0, 0))
	r := played(t, with(sc, "spring-broken", 0, 2.6))
	booked := math.NaN()
	for i, name := range r.Sim.System().Layout().Ledger {
		if name == "valve.disc.fault" {
			booked = r.Sim.State().Q[i]
		}
	}
	require.False(t, math.IsNaN(booked), "the ledger has no such account")

	// Let down through the open valve to 1.7 mbar above the surroundings,
	// which push with 0.1 N.
	down := stand(t, "gas-bench", 400, "inflow.mass-flow=0kg/s", "vessel.pressure=3 bar abs", "switch.set=2.9 bar abs", "switch.reset=1.015 bar abs")
	simulated := bisected(t, 0, 100, func(preload float64) bool {
		return happens(t, with(down, "spring-broken", preload, 0), "disc-leaves-stop")
	})
	return []threshold{
		{"", "rise of the chamber's pressure to lift", "bar", g.F0 / g.Ag / bar, lift / bar, within(0.1), ""},
		{"", "rise of the chamber's pressure to leave the stop", "bar", (g.F0 + g.k*g.xMax) / g.Ag / bar, leave / bar, within(1.6), ""},
		{"", "what the vessel's pressure loses until then", "bar", g.refills((g.F0+g.k*g.xMax)/g.Ag) / bar, vessel / bar, within(2), ""},
		{"", "energy booked when it breaks at full lift", "J", -g.F0*g.xMax - g.k*g.xMax*g.xMax/2, booked, within(1e-6), ""},
		{"", "preload left with which an open disc stays open once the pressure has gone", "N", g.weight + g.Fc, simulated, within(0.5), ""},
	}
}

// discSticks: what an emptied chamber leaves to open a shut disc, and what a
// full one leaves to shut an open disc, is the friction that it can overcome:
//
//	F = pA (Ag - As) + pT As - pB Ag - F0 + m g, pB where the pilot passes the bleed;
//	F = pB Ag + F0 + k xmax - m g - pA (Ag - As + phi As) - pT (1 - phi) As.
//
// The first grows with the pressure while the valve does not open, so it is
// taken at the end of the run; the second is at its largest soon after the
// chamber is full, before the body has fallen far.
func discSticks(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 10)
	g := rigOf(sc.Plant)
	pA, _ := g.gasAt(sc.Until)
	opening := (g.toLift(pA, g.pAir)-g.dumped(pA, g.pAir))*g.Ag + g.Fc
	lift := bisected(t, 1000, 4000, func(friction float64) bool {
		return happens(t, with(sc, "disc-sticks", friction, 0), "disc-lift")
	})
	shutting := 0.0
	g.onDemand().until(g, 2e-3, 3, func(b *blowing, pA, pT float64) float64 {
		shutting = max(shutting, (b.pB-g.toLeave(pA, pT))*g.Ag+g.Fc)
		return -1
	})
	leave := bisected(t, 500, 1800, func(friction float64) bool {
		return happens(t, with(sc, "disc-sticks", friction, 0), "disc-leaves-stop")
	})
	return []threshold{
		{"", "friction with which an emptied chamber does not open the disc within 10 s", "N", opening, lift, within(0.4), ""},
		{"", "friction with which a full chamber does not shut the disc", "N", shutting, leave, within(0.2), ""},
	}
}

// backPressure: with a dumped chamber, pB = pT, the disc leaves its stop when
//
//	pA - pT = (F0 + k xmax - m g - Fc)/(Ag - As + phi As);
//
// the bleed keeps the chamber a little above, which costs Ag for each pascal.
// With a valve that is open on demand this comes about before the reading
// resets if the pressure at the outlet is high enough; the vessel then stands
// as far below the reset pressure as it falls while sensor, relay and coil
// take their time.
func backPressure(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 30)
	g := rigOf(sc.Plant)
	Ax := g.Ag - g.As + g.phi(g.xMax)*g.As
	_, v := valveAt(t, played(t, with(sc, "back-pressure", 10*bar, 0), "disc-leaves-stop"), "disc-leaves-stop")
	lost := (g.F0 + g.k*g.xMax - g.weight - g.Fc) / Ax

	T := g.onDemand().TV
	derived := root(8*bar, 10*bar, func(p float64) float64 {
		g := g
		g.pAir = p
		_, pA, pT := g.open(g.reset - g.fall(g.reset, T)*(g.lag+g.dropOut+g.release()))
		return g.dumped(pA, pT) - g.toLeave(pA, pT)
	})
	simulated := bisected(t, 8*bar, 10*bar, func(p float64) bool {
		r := played(t, with(sc, "back-pressure", p, 0), "disc-leaves-stop", "pilot-drop")
		drop, leave := first(r, "pilot-drop"), first(r, "disc-leaves-stop")
		return leave != nil && (drop == nil || leave.T < drop.T)
	})
	return []threshold{
		{"", "body above tailpipe when the disc leaves its stop on demand, chamber as low as the tailpipe", "bar", lost / bar, (v.Above - v.Outlet) / bar, within(0.8), ""},
		{"", "the same with what the bleed adds to the chamber", "bar", (lost + (v.Below-v.Outlet)*g.Ag/Ax) / bar, (v.Above - v.Outlet) / bar, within(0.1), ""},
		{"", "pressure at the outlet with which the disc leaves its stop before the demand ends", "bar abs", derived / bar, simulated / bar, within(0.5), ""},
	}
}
