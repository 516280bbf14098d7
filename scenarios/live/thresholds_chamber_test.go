package live_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"underdisc/model/plant"
)

const (
	mm2 = 1e-6 // m2
	bar = 1e5  // Pa
)

// bleedEnlarged: with the pilot open the chamber settles where the bleed
// passes what the pilot does, both at the body's temperature, which is where
// that of the chamber settles when nothing heats it:
//
//	Cbleed pA psi(pB/pA) = Cpilot pB psi(pT/pB).
//
// Both are choked where the disc lifts (pB/pA = 0.489 < 0.528), so the chamber
// is no longer emptied far enough once Cbleed/Cpilot exceeds pB_open/pA.
// Derived here. The pressure still rises while the valve does not open; the
// ratio hardly changes with it.
func bleedEnlarged(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 12)
	g := rigOf(sc.Plant)
	pA, _ := g.gasAt(sc.Until)
	derived := g.Cpilot * g.toLift(pA, g.pAir) / pA / g.cdBleed
	simulated := bisected(t, 30*mm2, 60*mm2, func(area float64) bool {
		return happens(t, with(sc, "bleed-enlarged", area, 0), "disc-lift")
	})
	r := played(t, with(sc, "bleed-enlarged", simulated*1.001, 0))
	m, now := r.Present(), r.Now()
	v := now.Valves[0]
	settled := root(v.Outlet, v.Above, func(pB float64) float64 {
		in, out := m.ChamberFlows(0, now, pB)
		return in - out
	})
	return []threshold{
		{"", "bleed with which the pilot cannot empty the chamber far enough to lift", "mm2", derived / mm2, simulated / mm2, within(0.1), ""},
		{"", "chamber's pressure where its flows balance at that bleed; derived: pressure to lift", "bar abs", g.toLift(v.Above, v.Outlet) / bar, settled / bar, within(0.3), ""},
	}
}

// bleedPlugged: the chamber fills through the bleed from what it was dumped to
// up to what makes the disc leave its stop. Filling an adiabatic volume V of
// constant size with gas of the body's temperature, whatever its own,
//
//	dpB/dt = gamma Cbleed pA psi(pB/pA) sqrt(R T)/V,
//	t = V/(gamma Cbleed sqrt(R T)) int dB/psi(B), B = pB/pA (derived here),
//
// as long as the pressure in the body stays; so the delay goes as 1/area. It
// falls meanwhile (blowing), and with it what the chamber must reach. With the
// bleed shut for good the chamber keeps the tailpipe's pressure of the moment
// in which the pilot shut, and the disc leaves its stop when what it must
// reach has fallen to that: far below, but above nothing.
func bleedPlugged(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 120)
	g := rigOf(sc.Plant)
	trapped := g.onDemand().pB
	derived := root(2*bar, 11*bar, func(pV float64) float64 {
		_, pA, pT := g.open(pV)
		return g.toLeave(pA, pT) - trapped
	})
	_, v := valveAt(t, played(t, with(sc, "bleed-plugged", 0, 0), "disc-leaves-stop"), "disc-leaves-stop")
	out := []threshold{
		{"", "vessel's pressure at which the disc leaves its stop, bleed shut", "bar abs", derived / bar, v.Vessel / bar, within(0.2), ""},
	}
	for _, c := range []struct {
		area         float64 // m2
		still, falls [2]float64
		why          string
	}{
		{4 * mm2, [2]float64{-4.5, -2.5}, [2]float64{-3.5, -2}, "the chamber begins to fill while the pilot still shuts, and the pressure that it must reach falls with the body's"},
		{1 * mm2, [2]float64{-4, -2.5}, within(0.8), "the pressure that the chamber must reach falls with the body's"},
	} {
		b := g.onDemand()
		_, pA, pT := g.open(b.pV)
		psi := func(B float64) float64 { return 1 / g.psi(B) }
		fill := (g.cavity - g.Ag*g.xMax) / (g.gamma * g.cdBleed * c.area * math.Sqrt(g.R*b.TV)) *
			quad.Fixed(psi, b.pB/pA, g.toLeave(pA, pT)/pA, 100, nil, 0)
		b.bleed = g.cdBleed * c.area
		falling := b.leaves(g, 60)
		r := played(t, with(sc, "bleed-plugged", c.area, 0), "disc-leaves-stop")
		shut, _ := valveAt(t, r, "pilot-shut")
		leave, v := valveAt(t, r, "disc-leaves-stop")
		of := fmt.Sprintf(", bleed of %.0f mm2", c.area/mm2)
		out = append(out,
			threshold{"", "time from pilot shut to disc leaves stop at constant pressures" + of, "s", fill, leave - shut, c.still, c.why},
			threshold{"", "the same with the vessel blowing down" + of, "s", falling, leave - shut, c.falls, "the chamber begins to fill while the pilot still shuts: 4 ms sooner"},
			threshold{"", "vessel's pressure then" + of, "bar abs", b.pV / bar, v.Vessel / bar, within(0.05), ""})
	}

	// The bleed below which the disc is still at its stop ten seconds after
	// the coil has gone off.
	const off = 3.54 // s
	short := stand(t, "gas-bench", off+10)
	start := g.onDemand()
	late := bisected(t, 0.02*mm2, 1*mm2, func(area float64) bool {
		b := *start
		b.bleed = g.cdBleed * area
		return b.leaves(g, short.Until-off-g.release()-g.travel()) < math.Inf(1)
	})
	simulated := bisected(t, 0.02*mm2, 1*mm2, func(area float64) bool {
		return happens(t, with(short, "bleed-plugged", area, 0), "disc-leaves-stop")
	})
	return append(out, threshold{"", "bleed with which the disc stays at its stop for ten seconds", "mm2", late / mm2, simulated / mm2, within(0.5), ""})
}

// pilotLeaks: with the pilot shut the chamber settles where the leak passes
// what the bleed does,
//
//	Cbleed psi(B) = Cleak B psi(pT/pB), B = pB/pA.
//
// Small leaks lower it. Middle ones keep it above what lifts the disc, but
// below what makes it leave its stop. Large ones let it fall to what lifts the
// disc with no demand, where bleed and leak are choked: Cleak = Cbleed
// pA/pB_open. Pressures do not depend on the temperature, which is the same in
// body, chamber and tailpipe.
func pilotLeaks(t *testing.T) []threshold {
	idle := stand(t, "gas-bench", 12, "relay.supply=0V") // no demand reaches the pilot
	g := rigOf(idle.Plant)
	var out []threshold
	for _, leak := range []float64{1, 4} {
		v := played(t, with(idle, "pilot-leaks", leak*mm2, 0)).Now().Valves[0]
		B := root(1e-3, 1, func(B float64) float64 {
			return g.Cbleed*g.psi(B) - g.cdPilot*leak*mm2*B*g.psi(v.Outlet/(B*v.Above))
		})
		out = append(out, threshold{"", fmt.Sprintf("pressure of the chamber over that of the body at rest, leak of %.0f mm2", leak), "", B, v.Below / v.Above, within(0.4), ""})
	}
	pA, _ := g.gasAt(idle.Until)
	itself := bisected(t, 6*mm2, 12*mm2, func(leak float64) bool {
		return happens(t, with(idle, "pilot-leaks", leak, 0), "disc-lift")
	})
	out = append(out, threshold{"", "leak that lifts the disc by itself", "mm2", g.leaking(pA, g.toLift(pA, g.pAir), g.pAir) / g.cdPilot / mm2, itself / mm2, within(0.5), ""})

	// At a constant pressure: so large a vessel that it does not blow down;
	// after 3 s the switch is moved up, which ends the demand.
	calm := stand(t, "gas-bench", 30, "vessel.volume=1e5 m3", "vessel.pressure=11.3 bar abs", "switch.set=11.2 bar abs", "switch.reset=11.1 bar abs")
	calm = set(calm, 3, "switch.drift", 1*bar)
	_, pA, pT := g.open(11.3 * bar)
	hangs := bisected(t, 3*mm2, 8*mm2, func(leak float64) bool {
		return happens(t, with(calm, "pilot-leaks", leak, 0), "disc-leaves-stop")
	})
	out = append(out, threshold{"", "leak with which it hangs open after a demand, the vessel staying at 11.3 bar abs", "mm2", g.leaking(pA, g.toLeave(pA, pT), pT) / g.cdPilot / mm2, hangs / mm2, within(0.1), ""})
	return append(out, hangsOpen(t)...)
}

// hangsOpen: the vessel blows down, and what the chamber must reach falls
// faster than the chamber's steady pressure (the spring's part stays), so the
// disc leaves its stop in the end. Two effects displace that from the steady
// balance. Just above the leak that hangs at a constant pressure the chamber
// is still filling when its steady pressure is already enough: it leaves
// later. With larger leaks it has long been full and follows the body's
// falling pressure with a lag, which holds it above its steady pressure: it
// leaves earlier. The paper model of the blow-down has both.
func hangsOpen(t *testing.T) []threshold {
	sc := stand(t, "gas-bench", 60)
	g := rigOf(sc.Plant)
	var out []threshold
	for _, c := range []struct {
		leak float64 // mm2
		band [2]float64
		why  string
	}{
		{5.1, [2]float64{-6, -3.5}, "later: the chamber is still filling, slowly near its steady pressure"},
		{5.5, [2]float64{2.3, 3.3}, "earlier: the chamber's pressure lags behind that of the body, which falls"},
		{6, [2]float64{1.3, 2.3}, "earlier, as with 5.5 mm2; the body's pressure falls more slowly"},
		{7, [2]float64{0, 1}, ""},
	} {
		leak := c.leak * mm2
		steady := root(2*bar, 14*bar, func(pV float64) float64 {
			_, pA, pT := g.open(pV)
			return g.leaking(pA, g.toLeave(pA, pT), pT) - g.cdPilot*leak
		})
		b := g.onDemand()
		b.leak = g.cdPilot * leak
		b.leaves(g, 60)
		_, v := valveAt(t, played(t, with(sc, "pilot-leaks", leak, 0), "disc-leaves-stop"), "disc-leaves-stop")
		of := fmt.Sprintf(", leak of %g mm2", c.leak)
		out = append(out,
			threshold{"", "vessel's pressure at which the disc leaves its stop by the steady balance" + of, "bar abs", steady / bar, v.Vessel / bar, c.band, c.why},
			threshold{"", "the same with the chamber filling and the vessel blowing down" + of, "bar abs", b.pV / bar, v.Vessel / bar, within(0.1), ""})
	}

	// Within the minute: the disc is still at its stop at 60 s.
	start := g.onDemand()
	left := sc.Until - g.madeAt() - 1.45 // the valve is open for about as long
	minute := bisected(t, 7*mm2, 8.1*mm2, func(leak float64) bool {
		b := *start
		b.leak = g.cdPilot * leak
		return b.leaves(g, left) < math.Inf(1)
	})
	simulated := bisected(t, 7*mm2, 8.1*mm2, func(leak float64) bool {
		return happens(t, with(sc, "pilot-leaks", leak, 0), "disc-leaves-stop")
	})
	out = append(out, threshold{"", "leak with which it hangs open after a demand until the minute is over", "mm2", minute / mm2, simulated / mm2, within(0.3), ""})

	// For good: the vessel has come to where the open valve passes the inflow,
	// and the bleed, choked as the seat, a four-hundredth of it.
	through := g.Cseat(g.xMax) + g.Cbleed
	_, pA, pT := g.flowing(g.balance(through), through)
	long := stand(t, "gas-bench", 800)
	good := bisected(t, 7*mm2, 9*mm2, func(leak float64) bool {
		return happens(t, with(long, "pilot-leaks", leak, 0), "disc-leaves-stop")
	})
	return append(out, threshold{"", "leak with which it hangs open for good", "mm2", g.leaking(pA, g.toLeave(pA, pT), pT) / g.cdPilot / mm2, good / mm2, within(0.05), ""})
}

// dumpRestricted: pilot and dump line in series pass what flows into the
// chamber through bleed and clearance (Clearance in model/flow); with pB to
// lift the disc,
//
//	W = Cpilot pB psi(pD/pB)/sqrt(R TA) = Cdump pD psi(pT/pD)/sqrt(R TD).
//
// Chamber and pilot have the body's temperature; the dump line's wall, which
// stays near that of the surroundings in ten seconds, cools the gas in it:
// W cp (TA - TD) = h (TD - Tw). The inflow stops once the pilot is open, so
// that the pressures stay. Derived here.
func dumpRestricted(t *testing.T) []threshold {
	const stop = 2.3 // s
	sc := set(stand(t, "gas-bench-plus", 14), stop, "inflow.mass-flow", 0)
	g := rigOf(sc.Plant)
	v, _ := plant.Spec[plant.PilotedValve](sc.Plant, "valve")
	gas, _ := plant.Spec[plant.Gas](sc.Plant, "gas")
	air, _ := plant.Spec[plant.Surroundings](sc.Plant, "surroundings")
	pA, TA := g.gasAt(stop)
	pB := g.toLift(pA, g.pAir)
	gap := math.Pi * v.Disc.GuideDiameter * v.Guide.Clearance
	friction := 24 * gas.Viscosity * v.Guide.Length * g.R * TA / (gap * v.Guide.Clearance * v.Guide.Clearance)
	ends := 1.5 * g.R * TA / (gap * gap)
	guide := (math.Sqrt(friction*friction+4*ends*(pA*pA-pB*pB)) - friction) / (2 * ends)
	W := g.stream(g.Cbleed, pA, TA, pB, TA) + guide
	pD := root(g.pAir, pB, func(pD float64) float64 { return g.stream(g.Cpilot, pB, TA, pD, TA) - W })
	cp := g.gamma * g.R / (g.gamma - 1)
	h := v.Dump.Wall.Inside
	TD := (W*cp*TA + h*air.Temperature) / (W*cp + h)
	derived := W / g.stream(v.Dump.Coefficient, pD, TD, g.pAir, TD)
	simulated := bisected(t, 4*mm2, 20*mm2, func(area float64) bool {
		return happens(t, with(sc, "dump-restricted", area, 0), "disc-lift")
	})
	return []threshold{
		{"", "dump line that cannot empty the chamber far enough to lift", "mm2", derived / mm2, simulated / mm2, within(1), ""},
	}
}
