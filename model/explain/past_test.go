package explain_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/sim"
)

// The past of the bench at the end of its second lift: published times, s.
func TestPastOfBench(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 10)
	p := explain.PastOf(r.Present(), r.Sim.Events(), 10, 0)
	assert.Equal(t, 2, p.Lifts)
	for name, x := range map[string]struct {
		want float64
		got  explain.Opt
	}{
		"switch made": {7.436335, p.SwitchMade}, "switch reset": {8.831429, p.SwitchReset},
		"coil on": {7.446335, p.CoilOn}, "coil off": {8.841429, p.CoilOff},
		"pilot lifts": {7.489197, p.PilotLift}, "pilot open": {7.495510, p.PilotOpen},
		"pilot drops": {8.914423, p.PilotDrop}, "pilot shut": {8.927381, p.PilotShut},
		"disc lifts": {7.506261, p.DiscLift}, "full open": {7.520628, p.DiscFullOpen},
		"leaves stop": {9.068611, p.DiscLeavesStop}, "seated": {9.099118, p.DiscSeated},
		"second lift began": {7.436335, p.Recent[0].Began}, "second lift": {7.506261, p.Recent[0].At},
		"second demand ended": {8.831429, p.Recent[0].Ended}, "second pilot shut": {8.927381, p.Recent[0].PilotShut},
		"first lift": {2.199331, p.Recent[1].At}, "first full open": {2.214185, p.Recent[1].FullOpen},
		"first demand ended": {3.525579, p.Recent[1].Ended}, "first left stop": {3.762752, p.Recent[1].LeavesStop},
		"first seated": {3.793258, p.Recent[1].Seated},
	} {
		require.True(t, x.got.Known, name)
		assert.InDelta(t, x.want, x.got.Value, 5e-6, name)
	}
	assert.InDelta(t, 11.136*bar, p.Recent[1].VesselSeated.Value, 0.5e-3*bar, "published")
	assert.True(t, p.Recent[0].Asked)
	assert.False(t, p.Recent[2].At.Known)
}

// Taken up event by event, or up to a time, the past is the same; what comes
// after that time leaves no trace.
func TestPastGrows(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 15)
	events := r.Sim.Events()
	p := explain.NewPast(r.Present(), 0)
	for i := range events {
		p.Add(&events[i])
		if i+1 < len(events) && events[i+1].T == events[i].T {
			continue
		}
		assert.Equal(t, p, explain.PastOf(r.Present(), events, events[i].T, 0), "event %d", i)
	}
	before := explain.PastOf(r.Present(), events, 3.6, 0)
	assert.True(t, before.Recent[0].Ended.Known)
	assert.False(t, before.Recent[0].PilotShut.Known)
	assert.False(t, before.Recent[0].Seated.Known)
	assert.False(t, before.PilotDrop.Known)
}

// Where the selector moves the relay, a lift begins and ends by the coil.
func TestPastBySelector(t *testing.T) {
	r := ran(t, described(t, "gas-bench-plus"), 4,
		command{0.5, "relay.selector.position", "open"}, command{2, "relay.selector.position", "off"})
	l := explain.PastOf(r.Present(), r.Sim.Events(), 4, 0).Recent[0]
	assert.InDelta(t, 0.51, l.Began.Value, 1e-9)
	assert.InDelta(t, 2.01, l.Ended.Value, 1e-9)
	assert.True(t, l.Seated.Known)
}

// A record without states tells times and no pressures.
func TestPastWithoutStates(t *testing.T) {
	r := ran(t, described(t, "gas-bench"), 5)
	bare := slices.Clone(r.Sim.Events())
	for i := range bare {
		bare[i].Before, bare[i].After = nil, nil
	}
	s := r.Now()
	f := explain.Valve(r.Present(), s, 0, explain.PastOf(r.Present(), bare, 5, 0))
	assert.True(t, f.Cycle.ClosingDelay.Known)
	assert.False(t, f.Cycle.FallRate.Known)
	assert.False(t, f.Cycle.ShortestBlowdown.Known)
}

// Events of other parts are not this valve's.
func TestPastOfOtherParts(t *testing.T) {
	m, _ := model(t, described(t, "gas-bench").Plant)
	p := explain.PastOf(m, []sim.Event{
		{T: 1, Name: "disc-lift", Part: "other.disc"}, {T: 1, Name: "switch-made", Part: "other"},
		{T: 1, Name: "coil-on", Part: "other.coil"}, {T: 1, Name: "pilot-lift", Part: "other.pilot"},
	}, 2, 0)
	assert.Equal(t, explain.NewPast(m, 0), p)
}

// Records made up for what a run seldom does.
func TestPastOfOddRecords(t *testing.T) {
	m, _ := model(t, described(t, "gas-bench").Plant) // relay delays of 10 ms
	v, n := &m.Valves[0], m.Net
	disc, coil, sw := n.Movers[v.Disc].Name, n.Coils[v.Coil].Name, n.Switches[v.Switch].Name
	made, on := sim.Event{T: 0, Name: "switch-made", Part: sw}, sim.Event{T: 0.01, Name: "coil-on", Part: coil}
	lift := func(at float64) sim.Event { return sim.Event{T: at, Name: "disc-lift", Part: disc} }
	reset := func(at float64) sim.Event { return sim.Event{T: at, Name: "switch-reset", Part: sw} }
	off := func(at float64) sim.Event { return sim.Event{T: at, Name: "coil-off", Part: coil} }

	t.Run("reset before any lift", func(t *testing.T) {
		p := explain.PastOf(m, []sim.Event{made, on, reset(0.02), off(0.03)}, 1, 0)
		assert.Equal(t, explain.Lift{}, p.Recent[0])
	})
	t.Run("reset between coil and lift", func(t *testing.T) {
		l := explain.PastOf(m, []sim.Event{made, on, reset(0.05), lift(0.06), off(0.06)}, 1, 0).Recent[0]
		assert.Equal(t, explain.Opt{Value: 0.05, Known: true}, l.Ended)
	})
	t.Run("the relay answers the reset", func(t *testing.T) {
		l := explain.PastOf(m, []sim.Event{made, on, lift(0.1), reset(0.5), off(0.51)}, 1, 0).Recent[0]
		assert.Equal(t, explain.Opt{Value: 0.5, Known: true}, l.Ended)
	})
	t.Run("the relay goes off long after a reset", func(t *testing.T) {
		l := explain.PastOf(m, []sim.Event{made, on, lift(0.1), reset(0.5), off(0.9)}, 1, 0).Recent[0]
		assert.Equal(t, explain.Opt{Value: 0.9, Known: true}, l.Ended)
	})
	t.Run("full open twice", func(t *testing.T) {
		l := explain.PastOf(m, []sim.Event{made, on, lift(0.1),
			{T: 0.12, Name: "disc-full-open", Part: disc}, {T: 0.2, Name: "disc-leaves-stop", Part: disc},
			{T: 0.3, Name: "disc-full-open", Part: disc}}, 1, 0).Recent[0]
		assert.Equal(t, explain.Opt{Value: 0.12, Known: true}, l.FullOpen)
	})
	t.Run("more lifts than are kept", func(t *testing.T) {
		var events []sim.Event
		for i := range 20 {
			events = append(events, lift(float64(i)))
		}
		p := explain.PastOf(m, events, 30, 0)
		assert.Equal(t, 20, p.Lifts)
		assert.InDelta(t, 19, p.Recent[0].At.Value, 0)
		assert.InDelta(t, float64(20-len(p.Recent)), p.Recent[len(p.Recent)-1].At.Value, 0)
	})
}
