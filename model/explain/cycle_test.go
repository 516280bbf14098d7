package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/sim"
)

// Which valves cycle, at the end of a run. A slow stage makes a long blowdown,
// not a short one.
func TestCycling(t *testing.T) {
	cases := []struct {
		name     string
		scenario string
		sets     []string
		until    float64
		cycling  bool
	}{
		{"healthy", "gas-bench", nil, 60, false},
		{"healthy, more hardware", "gas-bench-plus", nil, 60, false},
		{"fed twice as fast", "gas-bench", []string{"inflow.mass-flow=2 kg/s"}, 40, false},
		{"deadband 0.1 bar, three lifts", "gas-bench", []string{"switch.reset=11.9 bar abs"}, 7.5, false},
		{"deadband 0.1 bar, four lifts", "gas-bench", []string{"switch.reset=11.9 bar abs"}, 7.7, true},
		{"deadband 0.1 bar", "gas-bench", []string{"switch.reset=11.9 bar abs"}, 30, true},
		{"deadband 0.05 bar", "gas-bench-plus", []string{"switch.reset=11.95 bar abs"}, 20, true},
		{"deadband 0.3 bar", "gas-bench", []string{"switch.reset=11.7 bar abs"}, 30, false},
		{"slow to refill", "gas-bench", []string{"valve.bleed.area=0.4 mm2"}, 60, false},
		{"slow pilot", "gas-bench", []string{"valve.plunger.damping=20000 N s/m"}, 60, false},
		{"slow to empty", "gas-bench-plus", []string{"valve.dump-line.area=8 mm2"}, 60, false},
		{"slow sensor", "gas-bench", []string{"sensor.lag=1 s"}, 60, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := ran(t, described(t, c.scenario, c.sets...), c.until)
			f := explain.Valve(r.Present(), r.Now(), 0, explain.PastOf(r.Present(), r.Sim.Events(), c.until, 0))
			assert.Equal(t, c.cycling, f.Cycle.Cycling, "asked for %v s", f.Cycle.AskedOpen)
			assert.Equal(t, c.cycling, f.State == explain.Cycling)
			assert.NotEqual(t, explain.Cycling, f.Phase)
			if c.cycling {
				assert.Equal(t, explain.Switch, f.Link())
				assert.Equal(t, explain.DeadbandShort, f.Why.Reason)
				assert.False(t, f.Cycle.Chatter)
			} else {
				assert.Equal(t, f.Acts, f.Why)
			}
		})
	}
}

// How far the healthy bench is from the rule.
func TestHealthyBenchIsFarFromCycling(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 30)
	p := explain.PastOf(r.Present(), r.Sim.Events(), 30, 0)
	require.GreaterOrEqual(t, p.Lifts, explain.CycleLifts)
	f := explain.Valve(r.Present(), r.Now(), 0, p)
	assert.InDelta(t, 5.3, f.Cycle.Period.Value, 0.05)
	l := p.Recent[1]
	quickest := l.At.Value - l.Began.Value
	assert.Greater(t, f.Cycle.AskedOpen.Value, 3*explain.ShortDemand*quickest)
}

// Cycling ends when the lifts do.
func TestCyclingEnds(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "switch.reset=11.9 bar abs"), 20, command{12, "inflow.mass-flow", "0 kg/s"})
	_, f := explained(t, r, 12)
	assert.Equal(t, explain.Cycling, f.State)
	_, f = explained(t, r, 20)
	assert.False(t, f.Cycle.Cycling)
	assert.Equal(t, explain.Shut, f.State)
}

// An outlet that rises above the body makes the disc flutter with nobody
// asking.
func TestChatterUnasked(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "line.area=50 mm2"), 2, command{1, "surroundings.pressure", "13.4 bar abs"})
	_, f := explained(t, r, 1.9)
	assert.Equal(t, explain.Cycling, f.State)
	assert.Equal(t, explain.Disc, f.Link())
	assert.Equal(t, explain.Chatters, f.Why.Reason)
	assert.InDelta(t, 0.19, f.Cycle.Period.Value, 0.02)

	// While the disc is on its seat, the chamber falls with the body to where
	// the outlet lifts it again.
	lifts := false
	for at := 1.12; at < 1.258; at += 1e-3 {
		_, f := explained(t, r, at)
		if f.Acts.Reason == explain.OutletHolds {
			lifts = true
			assert.Equal(t, explain.Shut, f.State)
			assert.True(t, f.Acts.In.Known)
		}
	}
	assert.True(t, lifts)
}

// A valve that hangs open says so, even if it was cycling up to now.
func TestHungOpenBeforeCycling(t *testing.T) {
	r := ran(t, described(t, "gas-bench", "switch.reset=11.9 bar abs"), 9, command{7.9, "valve.plunger.bond-open", "200 N"})
	_, f := explained(t, r, 8.3)
	assert.True(t, f.Cycle.Cycling)
	assert.Equal(t, explain.HungOpen, f.State)
	assert.Equal(t, explain.PilotBonded, f.Why.Reason)
}

// The quickest of the three stages is what the demand is held against: any one
// of them alone, being quick, clears a valve of cycling.
func TestQuickestStage(t *testing.T) {
	m, s := model(t, described(t, "gas-bench").Plant)
	v, n := &m.Valves[0], m.Net
	disc, pilot, coil, sw := n.Movers[v.Disc].Name, n.Movers[v.Pilot].Name, n.Coils[v.Coil].Name, n.Switches[v.Switch].Name
	for _, c := range []struct {
		name                   string
		opens, letsGo, refills float64 // s
		asked                  float64
		cycling                bool
	}{
		{"all slow", 1, 1, 1, 4, true},
		{"opens fast", 0.1, 1, 1, 4, false},
		{"lets go fast", 1, 0.1, 1, 4, false},
		{"refills fast", 1, 1, 0.1, 4, false},
		{"all fast, asked briefly", 0.1, 0.1, 0.1, 0.5, true},
		{"all fast, asked long", 0.1, 0.1, 0.1, 0.7, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var events []sim.Event
			at, add := 0.0, func(at float64, name, part string) {
				events = append(events, sim.Event{T: at, Name: name, Part: part})
			}
			for range 4 {
				add(at, "switch-made", sw)
				add(at+0.01, "coil-on", coil)
				add(at+c.opens, "disc-lift", disc)
				at += c.opens + c.asked
				add(at, "switch-reset", sw)
				add(at+0.01, "coil-off", coil)
				add(at+c.letsGo, "pilot-shut", pilot)
				at += c.letsGo + c.refills
				add(at, "disc-seated", disc)
			}
			now := *s
			now.T = at
			f := explain.Valve(m, &now, 0, explain.PastOf(m, events, at, 0)).Cycle
			assert.Equal(t, c.cycling, f.Cycling)
			assert.InDelta(t, c.asked, f.AskedOpen.Value, 1e-9)
			assert.InDelta(t, c.letsGo+c.refills, f.ClosingDelay.Value, 1e-9)
		})
	}
}

// A valve that lifts unasked and stays at its stop does not chatter, however
// regularly it does so.
func TestSelfLiftingIsNoChatter(t *testing.T) {
	m, s := model(t, described(t, "gas-bench").Plant)
	disc := m.Net.Movers[m.Valves[0].Disc].Name
	for _, stop := range []bool{false, true} {
		var events []sim.Event
		for i := range 4 {
			at := float64(i)
			events = append(events, sim.Event{T: at, Name: "disc-lift", Part: disc})
			if stop {
				events = append(events, sim.Event{T: at + 0.1, Name: "disc-full-open", Part: disc})
			}
			events = append(events, sim.Event{T: at + 0.5, Name: "disc-seated", Part: disc})
		}
		now := *s
		now.T = 4
		f := explain.Valve(m, &now, 0, explain.PastOf(m, events, 4, 0)).Cycle
		assert.Equal(t, !stop, f.Chatter)
		assert.Equal(t, !stop, f.Cycling)
	}
}

// The rule on records made up for it.
func TestCyclingRule(t *testing.T) {
	m, s := model(t, described(t, "gas-bench").Plant)
	v, n := &m.Valves[0], m.Net
	disc, coil, sw := n.Movers[v.Disc].Name, n.Coils[v.Coil].Name, n.Switches[v.Switch].Name
	// lifts of the disc at these times, each 0.05 s long, within one demand
	// from time zero; resets are when the switch resets and makes again.
	record := func(lifts []float64, stays bool, resets ...float64) []sim.Event {
		out := []sim.Event{{T: 0, Name: "switch-made", Part: sw}, {T: 0.01, Name: "coil-on", Part: coil}}
		for _, at := range lifts {
			out = append(out, sim.Event{T: at, Name: "disc-lift", Part: disc})
			for _, z := range resets {
				if z > at && z < at+0.05 {
					out = append(out, sim.Event{T: z, Name: "switch-reset", Part: sw})
				}
			}
			if !stays {
				out = append(out, sim.Event{T: at + 0.05, Name: "disc-seated", Part: disc})
			}
		}
		return out
	}
	cases := []struct {
		name    string
		events  []sim.Event
		at      float64
		cycling bool
	}{
		{"regular", record([]float64{1, 1.2, 1.4, 1.6}, false), 1.7, true},
		{"too few", record([]float64{1, 1.2, 1.4}, false), 1.5, false},
		{"irregular", record([]float64{1, 1.2, 1.4, 1.7}, false), 1.75, false},
		{"nearly regular", record([]float64{1, 1.2, 1.4, 1.62}, false), 1.7, true},
		{"over", record([]float64{1, 1.2, 1.4, 1.6}, false), 1.91, false},
		{"never seated", record([]float64{1, 1.2, 1.4, 1.6}, true), 1.7, false},
		{"the switch let go of one", record([]float64{1, 1.2, 1.4, 1.6}, false, 1.22), 1.7, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			now := *s
			now.T = c.at
			f := explain.Valve(m, &now, 0, explain.PastOf(m, c.events, c.at, 0)).Cycle
			assert.Equal(t, c.cycling, f.Cycling)
			assert.Equal(t, c.cycling, f.Chatter)
		})
	}
}

// The shortest blowdown, seen on the bench with its sound deadband, is what the
// bench loses beyond its reset pressure when the deadband all but vanishes.
func TestShortestBlowdown(t *testing.T) {
	sound := ran(t, described(t, "gas-bench"), 10)
	f := explain.Valve(sound.Present(), sound.Now(), 0, explain.PastOf(sound.Present(), sound.Sim.Events(), 10, 0))
	require.True(t, f.Cycle.ShortestBlowdown.Known)
	// By hand: what the vessel loses from full open to leaving the stop in
	// the published times, by the sensor's 50 ms and the closing delay.
	assert.InEpsilon(t, f.Cycle.FallRate.Value*(9.099118-8.831429+0.050), f.Cycle.ShortestBlowdown.Value, 1e-4)

	for _, deadband := range []struct {
		reset string
		at    float64 // bar
	}{{"11.99 bar abs", 11.99}, {"11.9 bar abs", 11.9}, {"11.5 bar abs", 11.5}} {
		r := ran(t, described(t, "gas-bench", "switch.reset="+deadband.reset), 12)
		l := explain.PastOf(r.Present(), r.Sim.Events(), 12, 0).Recent[1]
		require.True(t, l.Seated.Known)
		lost := deadband.at*bar - l.VesselSeated.Value
		assert.InEpsilon(t, f.Cycle.ShortestBlowdown.Value, lost, 0.1, "reset at %s", deadband.reset)
	}
}

// Before a lift has run its course nothing is known of delays.
func TestNoDelaysBeforeTheFirstLift(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 4)
	for at, known := range map[float64]bool{1: false, 3: false, 3.7: false, 3.9: true} {
		_, f := explained(t, r, at)
		assert.Equal(t, known, f.Cycle.ClosingDelay.Known, "at %g s", at)
		assert.Equal(t, known, f.Cycle.ShortestBlowdown.Known, "at %g s", at)
	}
}
