package live_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// waterLegChanged: without the 4 m of water that it is set for, the switch makes
// at a pressure that is higher by rho g dh, rho that of condensate at 50 degC,
// 988 kg/m3 (IAPWS-IF97).
func waterLegChanged(t *testing.T) []threshold {
	_, whole := valveAt(t, played(t, reject(boilerWith(t, 40), 0.1), "switch-made"), "switch-made")
	_, empty := valveAt(t, played(t, reject(afflicted(t, 40, "water-leg-changed", "sensor", 0), 0.1), "switch-made"), "switch-made")
	_, more := valveAt(t, played(t, reject(afflicted(t, 40, "water-leg-changed", "sensor", 6), 0.1), "switch-made"), "switch-made")
	const column = 988 * 9.81
	return []threshold{
		{"", "shift of the drum's pressure when the switch makes, no leg where 4 m are right", "bar", column * 4 / bar, (empty.Vessel - whole.Vessel) / bar, within(1), ""},
		{"", "the same, 6 m where 4 m are right", "bar", -column * 2 / bar, (more.Vessel - whole.Vessel) / bar, within(1), ""},
	}
}

// sensingRootShut: what it reads stays what it was, whatever the drum does.
func sensingRootShut(t *testing.T) []threshold {
	r := finished(t, reject(afflicted(t, 40, "sensing-root-shut", "sensor", 0), 0.1))
	s := when(t, r, 40).Valves[0]
	require.Greater(t, s.Vessel, 41.5*bar, "the drum moves")
	return []threshold{{"", "reading after the drum has risen by more than 3 bar", "bar abs", 38, s.Control.Reading / bar, within(0.001), ""}}
}

// sensingTrapped: while the pressure falls the reading follows with the lag of
// what it is trapped by, dr/dt = (p - r)/lag; integrated here from the drum's
// pressure. It resets when it has lost what lies between set and reset.
func sensingTrapped(t *testing.T) []threshold {
	const lag = 20.0
	r := finished(t, reject(afflicted(t, 120, "sensing-trapped", "sensor", lag), 0.1))
	made, _ := valveAt(t, r, "switch-made")
	resets, _ := valveAt(t, r, "switch-reset")
	reading, x := when(t, r, made).Valves[0].Control.Reading, made
	const step = 0.01
	for ; reading > 39.5*bar && x < 119; x += step {
		p := when(t, r, x).Valves[0].Vessel
		if p > reading {
			reading += (p - reading) * step / 0.05
		} else {
			reading += (p - reading) * step / lag
		}
	}
	return []threshold{{"", "switch made to reset with a lag of 20 s while the pressure falls", "s", x - made, resets - made, within(1), ""}}
}

// gaugeReadsLow: a controller with integral action ends where its reading is what
// it holds, so the drum stands higher by the error.
func gaugeReadsLow(t *testing.T) []threshold {
	r := finished(t, afflicted(t, 900, "gauge-reads-low", "fire-sensor", -2*bar))
	return []threshold{{"", "the drum's pressure above what the gauge is held at, reading 2 bar low", "bar", 2, (when(t, r, 900).Valves[0].Vessel - 38*bar) / bar, within(0.5), ""}}
}

// runningNearSet: the same, held on purpose.
func runningNearSet(t *testing.T) []threshold {
	r := finished(t, afflicted(t, 900, "running-near-set", "", 40*bar))
	return []threshold{{"", "the drum's pressure, held at 40 bar abs", "bar abs", 40, when(t, r, 900).Valves[0].Vessel / bar, within(0.1), ""}}
}
