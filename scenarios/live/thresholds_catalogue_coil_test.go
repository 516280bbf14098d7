package live_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
)

// blockValveLeftShut: with no pressure on its seat the pilot needs the current
// of its spring alone, and comes sooner.
func blockValveLeftShut(t *testing.T) []threshold {
	sc := at(t, afflicted(t, 2, "block-valve-left-shut", "", 0), 1, stroke)
	v := valveOf(t, sc)
	on, _ := valveAt(t, played(t, sc), "coil-on")
	lifts, _ := valveAt(t, played(t, sc), "pilot-lift")
	return []threshold{{"", "voltage to pilot lift with nothing above the pilot", "ms", 1e3 * pullIn(v, 125, v.Plunger.Stroke, v.Plunger.Preload), 1e3 * (lifts - on), within(0.1), ""}}
}

// pilotStrokeShort: the gap is smaller by what the stroke has lost, so the pilot
// comes sooner, against spring and chamber.
func pilotStrokeShort(t *testing.T) []threshold {
	const lost = 1.8e-3
	sc := at(t, afflicted(t, 2, "pilot-stroke-short", "", lost), 1, stroke)
	v := valveOf(t, sc)
	on, _ := valveAt(t, played(t, sc), "coil-on")
	lifts, s := valveAt(t, played(t, sc), "pilot-lift")
	force := v.Plunger.Preload + v.Pilot.Area*(s.Below-s.Dump)
	return []threshold{{"", "voltage to pilot lift, 0.7 mm of stroke left", "ms", 1e3 * pullIn(v, 125, v.Plunger.Stroke-lost, force), 1e3 * (lifts - on), within(0.1), ""}}
}

// coilHot: the full current just lifts the pilot when
// V/(R20 (1 + a (T - 20 degC))) = (1 + s/g0) sqrt((Fp0 + Ap (pB - pT))/Kf).
// In the two seconds of the trial the winding warms by a quarter of a kelvin.
func coilHot(t *testing.T) []threshold {
	simulated := bisected(t, 350, 480, func(around float64) bool {
		return happens(t, at(t, afflicted(t, 3, "coil-hot", "", around), 1, stroke), "pilot-lift")
	})
	sc := boilerWith(t, 3)
	v := valveOf(t, sc)
	c, p := v.Coil, v.Plunger
	i := (1 + p.Stroke/c.Gap) * math.Sqrt((p.Preload+v.Pilot.Area*(38e5-1.01325e5))/c.PullFactor)
	derived := 20 + (125/i/c.Resistance-1)/0.00393
	return []threshold{{"", "surroundings of the coil above which 38 bar abs hold the pilot", "degC", derived, simulated - 273.15, within(1), ""}}
}

// coilTurnsShorted: with a share s of the turns bridged R is less by it, so the
// current is 1/(1-s) of what it was; the fuse, h' = ((i/I0)^2 - h)/lag, blows
// after -lag ln(1 - 1/k^2) at k times its rating.
func coilTurnsShorted(t *testing.T) []threshold {
	const share = 0.6
	sc := at(t, afflicted(t, 12, "coil-turns-shorted", "", share), 1, stroke)
	healthy := finished(t, at(t, boilerWith(t, 2), 1, stroke))
	r := finished(t, sc)
	was, is := when(t, healthy, 1.5).Valves[0].Coil, when(t, r, 1.5).Valves[0].Coil
	out := []threshold{{"", "current over that of the sound coil, three fifths of the turns bridged", "", 1 / (1 - share), is.Current / was.Current, within(0.2), ""}}
	on, _ := valveAt(t, r, "coil-on")
	blows, _ := valveAt(t, r, "fuse-blows")
	c := valveOf(t, sc).Coil
	k := 125 / (c.Resistance * (1 - share) * (1 + 0.00393*(c.Winding.Around-293.15))) / 4
	return append(out, threshold{"", "time to the fuse's blowing at 1.4 times its rating", "s", -5 * math.Log(1-1/k/k), blows - on, [2]float64{0, 5},
		"the copper warms by 0.5 K/s, so the current falls by a per cent meanwhile, and it needs a tenth of a second to come"})
}

// plungerNotSeated: an alternating current is V/sqrt(R^2 + (w L)^2), and L that of
// the open gap.
func plungerNotSeated(t *testing.T) []threshold {
	sc, err := scenarios.Load("plant-plunger-not-seated")
	require.NoError(t, err)
	sc.Commands, sc.Shows, sc.Until = nil, nil, 3
	r := finished(t, at(t, sc, 1, stroke))
	v := valveOf(t, sc)
	c := v.Coil
	res := c.Resistance * (1 + 0.00393*(c.Winding.Around-293.15))
	current := func(gap float64) float64 {
		return 230 / math.Hypot(res, 2*math.Pi*c.AC.Frequency*(c.Inductance+2*c.PullFactor*c.Gap/(1+gap/c.Gap)))
	}
	sound := *sc
	sound.Faults = nil
	in := finished(t, &sound)
	return []threshold{
		{"", "current with the plunger out", "A", current(v.Plunger.Stroke), when(t, r, 1.5).Valves[0].Coil.Current, within(0.1), ""},
		{"", "current with the plunger in", "A", current(0), when(t, in, 1.5).Valves[0].Coil.Current, within(0.1), ""},
	}
}

// alwaysOn: what puts the voltage on the coil for good gives it V/R, R growing
// with the heat that the winding keeps: in the first seconds all of it,
// T = T0 + i^2 R t/C.
func alwaysOn(t *testing.T, name string) []threshold {
	const after = 5.0
	sc := afflicted(t, after+1, name, "", 0)
	c := valveOf(t, sc).Coil
	r0 := c.Resistance * (1 + 0.00393*(c.Winding.Around-293.15))
	i0 := 125 / r0
	hot := c.Resistance * (1 + 0.00393*(c.Winding.Around-293.15+i0*i0*r0*after/c.Winding.HeatCapacity))
	s := when(t, finished(t, sc), after).Valves[0]
	return []threshold{{"", fmt.Sprintf("current after %g s, warming", after), "A", 125 / hot, s.Coil.Current, within(0.1), ""}}
}

// unrelieved: a valve that no demand reaches leaves the drum as one whose block
// valve is shut would: the highest pressure after a load rejection is the same.
func unrelieved(t *testing.T, name, part string) []threshold {
	faulty := finished(t, reject(afflicted(t, 60, name, part, 0), 0.1))
	shut := finished(t, reject(boilerWith(t, 60, "line.block-valve.opening=0"), 0.1))
	p, _ := highest(t, faulty, 10, 60)
	q, _ := highest(t, shut, 10, 60)
	return []threshold{{"", "rise to the highest pressure after a load rejection, as with the block valve shut", "bar", (q - 38e5) / bar, (p - 38e5) / bar, within(1), ""}}
}

// lampShowsDemand: it is lit for as long as the coil has its voltage: a stroke of
// 2.5 s, with pick-up and drop-out delayed alike. A lamp on the disc would be
// lit for longer.
func lampShowsDemand(t *testing.T) []threshold {
	sc := afflicted(t, 8, "lamp-shows-demand", "position-lamp", 0)
	r := finished(t, at(t, at(t, sc, 1, stroke), 3.5, "relay.selector.position=auto"))
	lit := 0.0
	const step = 1e-3
	for k := range 8000 {
		for _, l := range when(t, r, float64(k)*step).Lamps {
			if l.Name == "position-lamp" && l.Lit {
				lit += step
			}
		}
	}
	return []threshold{{"", "time for which the lamp is lit in a stroke of 2.5 s", "s", 2.5, lit, within(0.1), ""}}
}
