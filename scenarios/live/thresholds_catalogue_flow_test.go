package live_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
)

// discStuckShut: at the moment at which it breaks free,
// pB = (pA (Ag - As) + pT As - F0 + m g - Fs - bond)/Ag.
func discStuckShut(t *testing.T) []threshold {
	const bond = 3000.0
	sc := at(t, afflicted(t, 3, "disc-stuck-shut", "", bond), 1, stroke)
	v := valveOf(t, sc)
	_, s := valveAt(t, played(t, sc, "disc-lift"), "disc-lift")
	as, ag := circle(v.Seat.Diameter), circle(v.Disc.GuideDiameter)
	derived := (s.Above*(ag-as) + s.Outlet*as - v.Spring.Preload + 9.81*v.Disc.Mass - v.Disc.StickFriction - bond) / ag
	out := []threshold{{"", "chamber's pressure at which 3 kN give way", "bar abs", derived / bar, s.Below / bar, within(0.05), ""}}
	// Stuck for good: what the dumped chamber leaves at rest pressure.
	r := atRest(t, 38e5)
	dumped := root(2e5, 37e5, func(pB float64) float64 {
		return r.v.Bleed.Coefficient*r.v.Bleed.Area*r.bore(pB) + r.guide(pB) - r.out(pB, r.v.Pilot.Coefficient*r.v.Pilot.Area)
	})
	holds := 38e5*(ag-as) + 1.01325e5*as - v.Spring.Preload + 9.81*v.Disc.Mass - v.Disc.StickFriction - dumped*ag
	simulated := bisected(t, 3000, 9000, func(bond float64) bool {
		return happens(t, at(t, afflicted(t, 5, "disc-stuck-shut", "", bond), 1, stroke), "disc-lift")
	})
	return append(out, threshold{"", "bond that a dumped chamber at 38 bar abs cannot break", "kN", holds / 1e3, simulated / 1e3, within(2), ""})
}

// discStuckOpen: at the moment at which it leaves its stop,
// pB Ag = rim + face + m g - F0 - k xmax + Fs + bond.
func discStuckOpen(t *testing.T) []threshold {
	const bond = 1000.0
	sc := at(t, at(t, afflicted(t, 8, "disc-stuck-open", "", bond), 1, stroke), 3.5, "relay.selector.position=auto")
	v := valveOf(t, sc)
	_, s := valveAt(t, played(t, sc, "disc-leaves-stop"), "disc-leaves-stop")
	ag := circle(v.Disc.GuideDiameter)
	as := circle(v.Seat.Diameter)
	derived := (s.Above*(ag-as) + s.Disc.Face + 9.81*v.Disc.Mass - v.Spring.Preload - v.Spring.Rate*v.Disc.Travel + v.Disc.StickFriction + bond) / ag
	return []threshold{{"", "chamber's pressure at which 1 kN give way at the stop", "bar abs", derived / bar, s.Below / bar, within(0.05), ""}}
}

// internalsReversed: a disc that lifts by x leaves a ring of pi D x, and the steam
// is what that passes.
func internalsReversed(t *testing.T) []threshold {
	const x = 1e-4
	sc := at(t, afflicted(t, 4, "internals-reversed", "", x), 1, stroke)
	v := valveOf(t, sc)
	s := when(t, finished(t, sc), 3.5).Valves[0]
	ring := v.Seat.Coefficient * math.Pi * v.Seat.Diameter * x
	return []threshold{
		{"", "effective area of the ring at a lift of 0.1 mm", "mm2", 1e6 * ring, 1e6 * s.SeatArea, within(0.1), ""},
		{"", "steam through the ring", "g/s", 1e3 * napier(ring, s.Above), 1e3 * s.Seat, within(4), napierIsARule},
	}
}

// seatDebris: what passes a shut seat is the leak's choked flow.
func seatDebris(t *testing.T) []threshold {
	const leak = 15e-6
	sc := afflicted(t, 10, "seat-debris", "", leak)
	s := when(t, finished(t, sc), 9).Valves[0]
	return []threshold{{"", "steam past 15 mm2", "g/s", 1e3 * napier(valveOf(t, sc).Seat.Coefficient*leak, s.Above), 1e3 * s.Seat, within(4), napierIsARule}}
}

// fromNeighbour: what a neighbour sends, and where the header stands when its exit
// lets through as much.
func fromNeighbour(t *testing.T, name string, opening float64) []threshold {
	sc := afflicted(t, 20, name, "", opening)
	n, _ := plant.Spec[plant.Neighbour](sc.Plant, "neighbour")
	h, _ := plant.Spec[plant.Tailpipe](sc.Plant, "header")
	s := when(t, finished(t, sc), 19)
	sends := napier(n.Coefficient*n.Area*opening, n.Pressure)
	out := []threshold{{"", fmt.Sprintf("steam from the neighbour, opened by %g", opening), "kg/s", sends, flowNamed(t, s, "neighbour.discharge"), within(4), napierIsARule}}
	if opening < 1 {
		return out
	}
	stands := sends / napier(h.Coefficient*h.Area, 1)
	return append(out, threshold{"", "the header's pressure with the neighbour open", "bar abs", stands / bar, nodeNamed(t, s, "header").P / bar, [2]float64{-8, 4},
		"Napier's rule is for dry saturated steam; throttled from 40 bar it is superheated, and water still lies on the cold walls"})
}

// blockValvePartlyShut: a gate that is the narrowest by far is choked, and the
// valve passes no more than the gate.
func blockValvePartlyShut(t *testing.T) []threshold {
	const opening = 0.08
	sc := at(t, afflicted(t, 5, "block-valve-partly-shut", "", opening), 1, stroke)
	l, _ := plant.Spec[plant.Line](sc.Plant, "line")
	s := when(t, finished(t, sc), 4).Valves[0]
	require.Less(t, s.Above, 0.5*s.Vessel)
	return []threshold{{"", "what the open valve passes behind a gate open by 0.08", "kg/s",
		napier(l.BlockValve.Coefficient*l.BlockValve.Area*opening, s.Vessel), s.Seat, within(4), napierIsARule}}
}

// blockValveOpenedFast: the gate travels at a steady speed. At which speed the
// disc lifts is TestFilledTooFast.
func blockValveOpenedFast(t *testing.T) []threshold {
	const travel = 0.4
	sc := at(t, afflicted(t, 4, "block-valve-opened-fast", "", travel, "line.block-valve.opening=0"), 1, "line.block-valve.opening=1")
	r := played(t, sc)
	from, _ := valveAt(t, r, "block-valve-moves")
	to, _ := valveAt(t, r, "block-valve-open")
	lifts, _ := valveAt(t, r, "disc-lift")
	require.Greater(t, lifts, from)
	return []threshold{{"", "time from shut to open", "s", travel, to - from, within(0.01), ""}}
}

// blockValveLeaks: body and line behind a shut gate fill with what it leaks; at
// first, into nothing, that flow is choked.
func blockValveLeaks(t *testing.T) []threshold {
	const leak = 20e-6
	sc := afflicted(t, 5, "block-valve-leaks", "", leak, "line.block-valve.opening=0")
	l, _ := plant.Spec[plant.Line](sc.Plant, "line")
	s := when(t, finished(t, sc), 0.2)
	w := 0.0
	for _, f := range s.Look.Flows { // the gate stands at the inlet of the line: the first flow out of the drum into it
		if f.Name == "line.inlet" || f.Name == "line.block-valve" {
			w = f.W
		}
	}
	if w == 0 {
		for _, f := range s.Look.Flows {
			t.Log(f.Name, f.W)
		}
	}
	return []threshold{{"", "steam past a shut gate that leaks 20 mm2", "g/s", 1e3 * napier(l.BlockValve.Coefficient*leak, 38e5), 1e3 * w, within(4), napierIsARule}}
}

// coverLeaks: the chamber stands where bleed and guide bring what the gasket lets
// out to the air.
func coverLeaks(t *testing.T) []threshold {
	const leak = 4e-6
	sc := afflicted(t, 60, "cover-leaks", "", leak)
	s := when(t, finished(t, sc), 60).Valves[0]
	r := atRest(t, s.Above)
	area := r.v.Chamber.Cover.Coefficient * leak
	derived := root(2e5, s.Above*(1-1e-9), func(pB float64) float64 {
		r.m.Throttle(&r.body, pB, &r.chamber)
		return r.v.Bleed.Coefficient*r.v.Bleed.Area*r.bore(pB) + r.guide(pB) - area*r.m.Nozzle.Flux(&r.chamber, r.around)
	})
	return []threshold{{"", "chamber's share of the body's pressure at rest, gasket leaking 4 mm2", "", derived / s.Above, s.Below / s.Above, within(2), ""}}
}

// guideWorn: with the disc kept shut and the pilot open, the chamber stands where
// the worn clearance and the bleed bring what the pilot takes.
func guideWorn(t *testing.T) []threshold {
	const clearance = 70e-6
	sc := at(t, afflicted(t, 6, "guide-worn", "", clearance, "valve.disc.bond.shut=100 kN"), 1, stroke)
	s := when(t, finished(t, sc), 6).Valves[0]
	r := atRestWith(t, s.Above, clearance)
	derived := root(2e5, 37e5, func(pB float64) float64 {
		return r.v.Bleed.Coefficient*r.v.Bleed.Area*r.bore(pB) + r.guide(pB) - r.out(pB, r.v.Pilot.Coefficient*r.v.Pilot.Area)
	})
	return []threshold{{"", "chamber's share of the body's pressure with the pilot open, clearance 0.07 mm", "", derived / s.Above, s.Below / s.Above, within(2), ""}}
}

// chamberCondensate: at the start the water is its share of the volume. How long it
// holds the lift up is in the table of signs.
func chamberCondensate(t *testing.T) []threshold {
	const share = 0.8
	sc := afflicted(t, 1, "chamber-condensate", "", share)
	s := when(t, finished(t, sc), 0)
	return []threshold{{"", "water in the chamber at the start", "mL", 1e6 * share * valveOf(t, sc).Chamber.Volume, 1e6 * nodeNamed(t, s, "valve.chamber").Liquid, within(0.01), ""}}
}

// drainPlugged: nothing runs off.
func drainPlugged(t *testing.T) []threshold {
	sc := afflicted(t, 40, "drain-plugged", "tailpipe", 0)
	r := finished(t, at(t, at(t, sc, 1, stroke), 3.5, "relay.selector.position=auto"))
	a, b := nodeNamed(t, when(t, r, 8), "tailpipe"), nodeNamed(t, when(t, r, 38), "tailpipe")
	return []threshold{{"", "water in the tailpipe half a minute after a stroke, over that just after", "", 1, b.Liquid / a.Liquid, [2]float64{-2, 8}, "the steam that is left in the pipe goes on condensing on its wall"}}
}

// waterInTailpipe: the metal and the pool together are heated through half the
// pool's depth, 0.6 W/(m K), and cooled outside: with the pipe at Tp they go
// towards T = Ta + (Tp - Ta) c/(c + o) with the time constant C/(c + o).
func waterInTailpipe(t *testing.T) []threshold {
	const litres, until, leak = 3.0, 3600.0, "valve.seat.leak-area=2 mm2"
	sc := afflicted(t, until, "water-in-tailpipe", "tailpipe", litres*1e-3, leak)
	r := finished(t, sc)
	pipe, _ := plant.Spec[plant.Tailpipe](sc.Plant, "tailpipe")
	l := pipe.Low
	c := 1 / (1/l.Inside + litres*1e-3/(2*0.6*l.Surface*l.Surface))
	capacity := l.HeatCapacity + litres*4150
	const from, around = 600.0, 293.15 // by then the pipe stands at 100 degC
	start, end := when(t, r, from).Valves[0], when(t, r, until).Valves[0]
	towards := around + (start.OutletFluid.Temperature-around)*c/(c+l.Outside)
	derived := towards + (start.LowPoint.T-towards)*math.Exp(-(until-from)*(c+l.Outside)/capacity)
	return []threshold{{"", "rise of the lowest point over an hour beside a leak", "K", derived - around, end.LowPoint.T - around, within(0.03), ""}}
}

// outletThrottled: the header stands where its narrowed exit lets through what the
// neighbour sends.
func outletThrottled(t *testing.T) []threshold {
	const area, opening = 6000e-6, 0.5
	sc := afflicted(t, 60, "outlet-throttled", "header", area, "neighbour.opening=0.5")
	n, _ := plant.Spec[plant.Neighbour](sc.Plant, "neighbour")
	h, _ := plant.Spec[plant.Tailpipe](sc.Plant, "header")
	s := when(t, finished(t, sc), 59)
	stands := napier(n.Coefficient*n.Area*opening, n.Pressure) / napier(h.Coefficient*area, 1)
	require.Less(t, stands, 0.5*n.Pressure, "choked")
	return []threshold{{"", "the header's pressure behind 6000 mm2, the neighbour half open", "bar abs", stands / bar, nodeNamed(t, s, "header").P / bar, [2]float64{-8, 4},
		"Napier's rule is for dry saturated steam; throttled from 40 bar it is superheated, and water still lies on the cold walls"}}
}
