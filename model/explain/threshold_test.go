package explain_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/sim"
)

// The engine lets the disc go where the force balance says, and there the
// margin passes through zero.
func TestDiscGoesAtItsThresholds(t *testing.T) {
	events := map[string]struct {
		threshold     func(explain.Thresholds) float64
		before, after explain.Toward
	}{
		"disc-lift":        {func(th explain.Thresholds) float64 { return th.LiftBelow }, explain.ToLift, explain.InOpening},
		"disc-leaves-stop": {func(th explain.Thresholds) float64 { return th.DropAbove }, explain.ToShut, explain.InClosing},
	}
	for _, scenario := range []string{"gas-bench", "gas-bench-plus"} {
		t.Run(scenario, func(t *testing.T) {
			r := ran(t, described(t, scenario), 20)
			seen := map[string]int{}
			for _, e := range r.Sim.Events() {
				x, ok := events[e.Name]
				if !ok {
					continue
				}
				seen[e.Name]++
				at, _ := r.AtEvent(&e)
				th := explain.ThresholdsOf(&at.Valves[0])
				assert.InEpsilon(t, x.threshold(th), at.Valves[0].Below, 1e-6, "%s at %g s", e.Name, e.T)

				const aside = 1e-5 // s
				_, f := explained(t, r, e.T-aside)
				assert.Equal(t, x.before, f.Margin.Toward)
				assert.Positive(t, f.Margin.Pressure)
				assert.Positive(t, f.Margin.Force)
				_, f = explained(t, r, e.T+aside)
				assert.Equal(t, x.after, f.Margin.Toward)
				assert.Negative(t, f.Margin.Pressure)
				assert.Negative(t, f.Margin.Force)
			}
			for name := range events {
				assert.GreaterOrEqual(t, seen[name], 3, name)
			}
		})
	}
}

// Pressures at which the reference bench's disc goes, bar absolute: solved by
// three independent programs, given to a millibar.
func TestPublishedThresholds(t *testing.T) {
	published := []struct {
		event        string
		above, below float64
		threshold    func(explain.Thresholds) float64
	}{
		{"disc-lift", 12.029, 5.876, func(th explain.Thresholds) float64 { return th.LiftBelow }},
		{"disc-leaves-stop", 10.807, 7.748, func(th explain.Thresholds) float64 { return th.DropAbove }},
	}
	r := ran(t, described(t, "gas-bench"), 4)
	for _, p := range published {
		t.Run(p.event, func(t *testing.T) {
			events := r.Sim.Events()
			i := slices.IndexFunc(events, func(e sim.Event) bool { return e.Name == p.event })
			require.GreaterOrEqual(t, i, 0)
			at, _ := r.AtEvent(&events[i])
			v := at.Valves[0]
			const milli = 0.5e-3 * bar
			assert.InDelta(t, p.above*bar, v.Above, milli)
			assert.InDelta(t, p.below*bar, v.Below, milli)
			assert.InDelta(t, p.below*bar, p.threshold(explain.ThresholdsOf(&v)), milli)
		})
	}
}

// At random geometry and pressures the network's own sum of forces on the disc
// equals the friction at each threshold, and is zero in balance.
func TestThresholdsAgainstForces(t *testing.T) {
	base, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		p := base.Plant
		set := func(path string, lo, hi float64) float64 {
			v := rapid.Float64Range(lo, hi).Draw(t, path)
			var err error
			p, err = p.With(path, plant.Value{Number: v})
			require.NoError(t, err)
			return v
		}
		guide := set("valve.disc.guide-diameter", 0.04, 0.12)
		set("valve.seat.diameter", 0.3*guide, 0.95*guide)
		set("valve.disc.travel", 0.001, 0.01)
		stick := set("valve.disc.stick-friction", 20, 500)
		set("valve.disc.mass", 0.1, 20)
		set("valve.spring.preload", 0, 2000)
		set("valve.spring.rate", 0, 1e5)
		set("valve.chamber.volume", 2e-4, 2e-3)
		set("vessel.pressure", 2e5, 100e5)

		m, _ := model(t, p)
		state := m.Net.Start()
		disc := m.Valves[0].Disc
		vars := m.Net.Layout().Vars
		at := func(name string) *float64 {
			i := slices.Index(vars, name)
			require.GreaterOrEqual(t, i, 0, name)
			return &state.Y[i]
		}
		shape := m.Net.Movers[disc]
		lift := rapid.Float64Range(0, 1).Draw(t, "lift over travel") * shape.Travel
		outlet := rapid.Float64Range(1, 20).Draw(t, "outlet over atmosphere")
		*at("tailpipe.mass") *= outlet
		*at("tailpipe.energy") *= outlet

		// net is the force on the disc at lift x in the mode when the chamber
		// has a pressure, which the thresholds at that lift choose.
		net := func(x float64, mode int8, choose func(explain.Thresholds) float64) float64 {
			*at("valve.disc.position") = x
			state.Modes[slices.Index(m.Net.Layout().Modes, "valve.disc")] = mode
			now := m.Snapshot(0, state.Y, state.Modes, state.Timers)
			th := choose(explain.ThresholdsOf(&now.Valves[0]))
			mass, energy := at("valve.chamber.mass"), at("valve.chamber.energy")
			saved := [2]float64{*mass, *energy}
			*mass *= th / now.Valves[0].Below
			*energy *= th / now.Valves[0].Below
			if th <= 0 { // out of reach: extrapolate the linear force
				*mass, *energy = saved[0], saved[1]
				return now.Valves[0].Disc.Net - (th-now.Valves[0].Below)*now.Valves[0].Disc.GuideArea
			}
			then := m.Snapshot(0, state.Y, state.Modes, state.Timers)
			*mass, *energy = saved[0], saved[1]
			return then.Valves[0].Disc.Net
		}
		small := 1e-9 * 100e5 * math.Pi / 4 * guide * guide
		top := shape.Travel
		assert.InDelta(t, stick, net(0, network.HeldLow, func(h explain.Thresholds) float64 { return h.LiftBelow }), small)
		assert.InDelta(t, -stick, net(top, network.HeldHigh, func(h explain.Thresholds) float64 { return h.DropAbove }), small)
		assert.InDelta(t, 0, net(lift, network.Free, func(h explain.Thresholds) float64 { return h.Balance }), small)
		assert.InDelta(t, stick, net(lift, network.Free, func(h explain.Thresholds) float64 { return h.OpensBelow }), small)
		assert.InDelta(t, -stick, net(lift, network.Free, func(h explain.Thresholds) float64 { return h.ShutsAbove }), small)

		// Seen from anywhere, LiftBelow and DropAbove are those of the ends.
		*at("valve.disc.position") = 0
		shut := m.Snapshot(0, state.Y, state.Modes, state.Timers)
		a := explain.ThresholdsOf(&shut.Valves[0])
		assert.Equal(t, a.LiftBelow, a.OpensBelow)
		*at("valve.disc.position") = top
		open := m.Snapshot(0, state.Y, state.Modes, state.Timers)
		b := explain.ThresholdsOf(&open.Valves[0])
		assert.InDelta(t, b.ShutsAbove, b.DropAbove, 1e-9*100e5)
	})
}
