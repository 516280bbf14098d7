package live_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// The faults that want the boiler's plant.
func init() {
	for name, study := range map[string]func(t *testing.T) []threshold{
		"block-valve-leaks":       blockValveLeaks,
		"block-valve-left-shut":   blockValveLeftShut,
		"block-valve-opened-fast": blockValveOpenedFast,
		"block-valve-partly-shut": blockValvePartlyShut,
		"chamber-condensate":      chamberCondensate,
		"coil-hot":                coilHot,
		"coil-turns-shorted":      coilTurnsShorted,
		"contact-open":            func(t *testing.T) []threshold { return unrelieved(t, "contact-open", "") },
		"contact-welded":          func(t *testing.T) []threshold { return alwaysOn(t, "contact-welded") },
		"cover-leaks":             coverLeaks,
		"disc-stuck-open":         discStuckOpen,
		"disc-stuck-shut":         discStuckShut,
		"drain-plugged":           drainPlugged,
		"earths-two":              func(t *testing.T) []threshold { return alwaysOn(t, "earths-two") },
		"fuse-out":                func(t *testing.T) []threshold { return unrelieved(t, "fuse-out", "") },
		"gauge-reads-low":         gaugeReadsLow,
		"guide-worn":              guideWorn,
		"header-heated":           func(t *testing.T) []threshold { return fromNeighbour(t, "header-heated", 0.02) },
		"header-pressure":         func(t *testing.T) []threshold { return fromNeighbour(t, "header-pressure", 1) },
		"internals-reversed":      internalsReversed,
		"outlet-throttled":        outletThrottled,
		"lamp-shows-demand":       lampShowsDemand,
		"pilot-stroke-short":      pilotStrokeShort,
		"plunger-not-seated":      plungerNotSeated,
		"running-near-set":        runningNearSet,
		"seat-debris":             seatDebris,
		"selector-left":           func(t *testing.T) []threshold { return unrelieved(t, "selector-left", "") },
		"sensing-root-shut":       sensingRootShut,
		"sensing-trapped":         sensingTrapped,
		"switch-stuck-made":       func(t *testing.T) []threshold { return alwaysOn(t, "switch-stuck-made") },
		"water-in-tailpipe":       waterInTailpipe,
		"water-leg-changed":       waterLegChanged,
	} {
		studies[name] = study
	}
}

// Napier's rule for dry saturated steam through an orifice, choked:
// W = 51.5 A p in lb/h, in2 and psi (ASME BPVC Section I, PG-69; from memory),
// here in kg/s, m2 and Pa.
func napier(area, p float64) float64 {
	const k = 51.5 * 0.45359237 / 3600 / 0.0254 / 0.0254 / 6894.757
	return k * area * p
}

const napierIsARule = "Napier's rule is an approximation, good to a few per cent"

// afflicted is the boiler's plant with a fault from the start.
func afflicted(t *testing.T, until float64, name, part string, severity float64, set ...string) *scenarios.Scenario {
	t.Helper()
	sc := boilerWith(t, until, set...)
	e := fault.Entry{Name: name, Part: part}
	if f, _ := fault.Find(name); f.Words() == nil {
		e.Severity = &severity
	}
	sc.Faults = append(sc.Faults, e)
	return sc
}

// at does something to a scenario at a time: "relay.selector.position=open".
func at(t *testing.T, sc *scenarios.Scenario, when float64, text string) *scenarios.Scenario {
	t.Helper()
	path, value, _ := strings.Cut(text, "=")
	prm, err := sc.Plant.Get(path)
	require.NoError(t, err)
	v, err := plant.ParseValue(prm, value)
	require.NoError(t, err)
	sc.Record(scenarios.Action{Command: &scenarios.Command{At: when, Path: path, Value: v}})
	return sc
}

const stroke = "relay.selector.position=open"

// when is a snapshot of a run.
func when(t *testing.T, r *live.Run, at float64) *plant.Snapshot {
	t.Helper()
	s, _, err := r.At(at)
	require.NoError(t, err)
	return s
}

// flowNamed is a mass flow of a snapshot, kg/s.
func flowNamed(t *testing.T, s *plant.Snapshot, name string) float64 {
	t.Helper()
	for _, f := range s.Look.Flows {
		if f.Name == name {
			return f.W
		}
	}
	require.Fail(t, "no flow", name)
	return 0
}

// nodeNamed is a volume of a snapshot.
func nodeNamed(t *testing.T, s *plant.Snapshot, name string) network.NodeLook {
	t.Helper()
	for _, n := range s.Look.Nodes {
		if n.Name == name {
			return n
		}
	}
	require.Fail(t, "no volume", name)
	return network.NodeLook{}
}

// valveOf is the description of the plant's valve.
func valveOf(t *testing.T, sc *scenarios.Scenario) *plant.PilotedValve {
	t.Helper()
	v, ok := plant.Spec[plant.PilotedValve](sc.Plant, "valve")
	require.True(t, ok)
	return v
}

// pullIn is the time from the coil's voltage to the current that lifts the
// pilot: with the plunger at rest the inductance stands still at
// L = L0 + 2 Kf g0/(1 + s/g0), and
//
//	i(t) = V/R (1 - exp(-t R/L)),  t = -L/R ln(1 - i R/V),
//	i = (1 + s/g0) sqrt(F/Kf),  R = R20 (1 + 0.00393 (T - 20 degC)).
func pullIn(v *plant.PilotedValve, volts, stroke, force float64) float64 {
	c := v.Coil
	g := 1 + stroke/c.Gap
	r := c.Resistance * (1 + 0.00393*(c.Winding.Around-293.15))
	l := c.Inductance + 2*c.PullFactor*c.Gap/g
	i := g * math.Sqrt(force/c.PullFactor)
	return -l / r * math.Log(1-i*r/volts)
}
