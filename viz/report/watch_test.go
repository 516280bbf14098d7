package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// A leak, a stroke by hand that ends it, and what the walls do: the report and the
// summary tell the lesson, and what they tell is what the run has.
func TestLeakAndStroke(t *testing.T) {
	rec := record(t, "leaking-seat-steam", 0)
	text := textOf(t, rec)
	says(t, text, "While shut it leaked up to 34.7 kg/h past its seat, until 300.1 s")
	says(t, text, "opened by the selector at 300 s, held 2.5 s; blowdown does not apply")
	assert.NotContains(t, text, "blowdown 5")

	_, order, _ := strings.Cut(text, "WHAT HAPPENED, IN ORDER")
	last := 0
	for _, row := range []string{"-- at 300 s:", "disc full open", "-- at 302 s:", "-- at 302.5 s:", "coil off", "disc seated"} {
		at := strings.Index(order, row)
		assert.Greater(t, at, last, "%s in order of time", row)
		last = at
	}

	var sum Summary
	require.NoError(t, json.Unmarshal(files(t, rec)["summary.json"], &sum))
	v := &sum.Valves[0]
	require.Len(t, v.Lifts, 1)
	assert.Nil(t, v.Lifts[0].Blowdown)
	require.NotNil(t, v.Lifts[0].Selector)
	assert.Equal(t, "open", v.Lifts[0].Selector.Position)
	assert.InDelta(t, 2.5, *v.Lifts[0].Selector.Held, 1e-9)

	require.Len(t, v.Leaks, 1)
	l := v.Leaks[0]
	assert.Equal(t, "seat", l.Past)
	assert.False(t, l.AtEnd)
	s, _, err := rec.Run.At(100)
	require.NoError(t, err)
	assert.InDelta(t, 3600*s.Valves[0].Seat, l.Most, 0.02*l.Most)
	assert.InDelta(t, l.Most/3600*v.Lifts[0].T, l.Total, 0.02*l.Total, "it hardly changes until the lift")

	tail := v.Steam.Reaches["tailpipe"]
	before, _, err := rec.Run.At(v.Lifts[0].T - 1e-3)
	require.NoError(t, err)
	assert.InDelta(t, before.Valves[0].OutletWall.T-273.15, *tail.Before, 0.1, "hot by the leak")
	assert.Greater(t, *tail.Before, 95.0)
	assert.Less(t, v.Steam.Walls["tailpipe"], *tail.Before-20, "a clean seat lets it cool")
	assert.GreaterOrEqual(t, *tail.PeakAfter, 0.0)
	// Nothing on a finer grid after the reseat is warmer than the peak.
	for k := range 3000 {
		at := rec.lastSeated(0) + float64(k)*0.1
		s, _, err := rec.Run.At(at)
		require.NoError(t, err)
		require.LessOrEqual(t, s.Valves[0].OutletWall.T-273.15, *tail.Peak+1e-3, "at %g s", at)
	}
	says(t, text, "just before the lift")
	says(t, text, "31 min for the tailpipe") // 34 kJ/K over 18 W/K
	says(t, text, "So wait, and compare the trend")
}

// Steam that fills the emptied chamber is hotter than what it comes from, by the
// work of filling: at most k times as hot, absolute, as for a vessel filled from
// vacuum (k = 1.3 and less for steam).
func TestHotChamber(t *testing.T) {
	rec := record(t, "steam-bench", 20)
	h := rec.Valves[0].watched.hot
	require.NotZero(t, h.t)
	assert.Greater(t, h.t, h.vessel+30)
	assert.Less(t, h.t, 1.3*h.vessel)
	assert.Greater(t, h.half, 0.5)
	assert.Less(t, h.half, 10.0, "seconds")
	after, _, err := rec.Run.At(h.at + h.half)
	require.NoError(t, err)
	v := &after.Valves[0]
	s, _, err := rec.Run.At(h.at)
	require.NoError(t, err)
	assert.InDelta(t, (h.t-s.Valves[0].ChamberWall.T)/2, v.BelowTemperature-v.ChamberWall.T, 0.5)
	says(t, textOf(t, rec), "with the disc shut, the steam in the chamber is at")
	assert.Zero(t, record(t, "gas-bench", 5).Valves[0].watched.hot.t)
}

// What a valve leaks is told of seat and pilot, and of a tight valve nothing.
func TestLeaks(t *testing.T) {
	assert.Empty(t, record(t, "gas-bench", 20).Valves[0].watched.leaks, "a tight valve, lifts or not")
	leaks := record(t, "gas-bench", 1.8, "pilot-leaks=1mm2@1s").Valves[0].watched.leaks
	require.Len(t, leaks, 1)
	assert.Equal(t, "pilot", leaks[0].Past)
	assert.InDelta(t, 1, leaks[0].From, 1e-9)
	assert.True(t, leaks[0].AtEnd)
	// C(k) p A Cd / sqrt(R T) of air at 300 K from the chamber, which is about as
	// full as the body: 0.6847 x 11.5 bar x 0.8 mm2 / sqrt(287 x 300).
	assert.InDelta(t, 0.6847*11.5e5*0.8e-6/math.Sqrt(287*300.), leaks[0].Most, 0.1*leaks[0].Most)
}

// The selector's share in a lift.
func TestStrokes(t *testing.T) {
	run := func(commands string) *Record {
		sc, err := scenarios.Parse("mine.yaml", []byte("name: mine\ntitle: Mine\ninclude: gas-bench-plus\nuntil: 6 s\n"+commands), scenarios.BuiltIn)
		require.NoError(t, err)
		r, err := live.Start(sc, live.Options{RelTol: 1e-6, Keep: 64})
		require.NoError(t, err)
		require.NoError(t, r.Finish())
		rec, err := NewRecord(r, 0)
		require.NoError(t, err)
		return rec
	}
	own := run("")
	require.NotEmpty(t, own.Valves[0].Lifts)
	require.Nil(t, own.Valves[0].Lifts[0].Hand)
	at := own.Valves[0].Lifts[0].T
	require.Greater(t, at, 1.0)

	held := run("commands: [{at: 0.5 s, set: relay.selector.position, to: open}]\n")
	l := held.Valves[0].Lifts[0]
	require.NotNil(t, l.Hand)
	assert.False(t, l.Hand.Ended)
	assert.Equal(t, "opened by the selector at 500 ms, held to the end of the run", l.Hand.words(&l))
	says(t, textOf(t, held), "held to the end of the run, and has not reseated")

	off := run("commands: [{at: 3 s, set: relay.selector.position, to: \"off\"}]\n")
	l = off.Valves[0].Lifts[0]
	if l.Seated > 3 {
		require.NotNil(t, l.Hand)
		assert.Equal(t, "shut by the selector at 3 s", l.Hand.words(&l))
	} else {
		assert.Nil(t, l.Hand, "it was shut by then")
	}
	_, ok := l.Blowdown()
	assert.Equal(t, l.Hand == nil, ok)
}

// Commands stand between the rows of a round that has gone on meanwhile.
func TestCommandsBetweenRows(t *testing.T) {
	var b bytes.Buffer
	c := Cycle{Moments: []Moment{{T: 1, Event: "coil-on"}, {T: 3, Event: "coil-off"}}}
	writeCycles(&b, []Cycle{c}, []happening{{0.5, "first"}, {2, "second"}, {4, "third"}})
	var order []string
	for line := range strings.SplitSeq(b.String(), "\n") {
		for _, word := range []string{"first", "coil on", "second", "coil off", "third"} {
			if strings.Contains(line, word) {
				order = append(order, word)
			}
		}
	}
	assert.Equal(t, []string{"first", "coil on", "second", "coil off", "third"}, order)
}
