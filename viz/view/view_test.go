package view_test

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

func run(t *testing.T, scenario string, until float64, set ...string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	if until > 0 {
		sc.Until = until
	}
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

var unitSystems = []scene.Units{{}, {Gauge: true}, {Pressure: scene.PSI, Gauge: true, PoundsPerHour: true}, {Pressure: scene.KPa, Gauge: true, KilogramsPerSecond: true}}

var negativeZero = regexp.MustCompile(`-0(\.0+)?([^.0-9]|\.$|$)`)

// Every scenario, looked at on both sides of each event and evenly in between:
// the sentence is short, whole and says only numbers.
func TestSentences(t *testing.T) {
	seen := map[explain.State]bool{}
	names := scenarios.Sample()
	if os.Getenv("UNDERDISC_LONG") != "" {
		names = scenarios.Names()
	}
	if testing.Short() {
		names = []string{"gas-bench-plus", "steam-bench", "plant-bleed-plugged", "fault-deadband-narrow", "fault-pilot-leaks", "fault-seat-leaks"}
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			r := run(t, name, 0)
			end := r.Sim.State().T
			var times []float64
			for k := range 61 {
				times = append(times, end*float64(k)/60)
			}
			for _, e := range r.Sim.Events() {
				times = append(times, e.T, e.T+1e-3)
			}
			for _, at := range times {
				if at > end {
					continue
				}
				s, m, err := r.At(at)
				require.NoError(t, err)
				if len(s.Valves) == 0 {
					springSentences(t, m, s, explain.SpringPastOf(m, r.Sim.Events(), at, 0), at)
					continue
				}
				f := explain.Valve(m, s, 0, explain.PastOf(m, r.Sim.Events(), at, 0))
				seen[f.State] = true
				for _, u := range unitSystems {
					u.Ambient = 1.01325e5
					said := view.Sentence(&f, &s.Valves[0], u)
					assert.LessOrEqual(t, utf8.RuneCountInString(said), 130, "%g s: %s", at, said)
					assert.True(t, strings.HasSuffix(said, ".") && !strings.HasSuffix(said, ".."), said)
					for _, wrong := range []string{"NaN", "Inf", "%!", "every link stands"} {
						assert.NotContains(t, said, wrong, "%g s, %s", at, f.Acts.Reason)
					}
					assert.NotRegexp(t, negativeZero, said) // below the surroundings it may be -0.03
				}
			}
		})
	}
	for s := explain.Shut; s <= explain.Cycling; s++ {
		assert.True(t, seen[s], "no scenario shows %s", s)
	}
}

func TestSentencesSayWhatIs(t *testing.T) {
	bench := run(t, "gas-bench", 5)
	for at, says := range map[float64][]string{
		1.0:   {"Equal pressures", "38.5 cm²", "18.8 cm²"},
		2.190: {"chamber empties", "5.88 bar abs"},
		2.206: {"emptied the chamber", "drive it down"},
		2.6:   {"falls", "to 11.30 bar abs"},
		3.70:  {"bleed refills", "above 7.77 bar abs"},
		3.775: {"refilled chamber", "drive it up"},
	} {
		v, err := view.At(bench, at, view.Options{})
		require.NoError(t, err)
		for _, s := range says {
			assert.Contains(t, v.Sentence, s, "%g s", at)
		}
	}
}

// The pins of the bench's first lift, at moments between them.
func TestPins(t *testing.T) {
	r := run(t, "gas-bench", 9.3)
	order := []string{"switch made", "coil on", "pilot lifts", "pilot open", "disc lifts", "disc full open",
		"switch reset", "coil off", "pilot drops", "pilot shut", "disc leaves stop", "disc seated"}
	for _, c := range []struct {
		at   float64
		done int
	}{{0, 0}, {2.0, 0}, {2.13, 1}, {2.15, 2}, {2.185, 3}, {2.19, 4}, {2.206, 5}, {3, 6}, {3.53, 7}, {3.6, 8}, {3.61, 9}, {3.7, 10}, {3.78, 11}, {5, 12}, {7.44, 1}, {9.2, 12}} {
		v, err := view.At(r, c.at, view.Options{})
		require.NoError(t, err)
		require.Len(t, v.Pins, 12)
		last := 0.0
		for i, p := range v.Pins {
			assert.Equal(t, order[i], p.Name)
			assert.Equal(t, i%6+1, p.Link)
			assert.Equal(t, i >= 6, p.Shut)
			assert.Equal(t, i < c.done, p.Done, "%g s: %s", c.at, p.Name)
			if p.Done {
				assert.Greater(t, p.T, last)
				last = p.T
			}
		}
	}
	v, err := view.At(r, 3, view.Options{})
	require.NoError(t, err)
	assert.InDelta(t, 2.127910, v.Pins[0].T, 1e-4)
	assert.InDelta(t, 2.214185, v.Pins[5].T, 1e-4, "held at its stop, not its first touch")
}

// A lift that nobody asked for begins with what happens first.
func TestPinsOfALiftUnasked(t *testing.T) {
	r := run(t, "fault-spring-broken", 0)
	for _, e := range r.Sim.Events() {
		v, err := view.At(r, e.T, view.Options{})
		require.NoError(t, err)
		if e.Name != "disc-lift" {
			continue
		}
		assert.True(t, v.Pins[4].Done)
		for _, p := range v.Pins[6:] {
			assert.False(t, p.Done, "%g s: a closing before its opening", e.T)
		}
	}
}

func TestTrace(t *testing.T) {
	r := run(t, "gas-bench", 5)
	for _, at := range []float64{0, 1, 2.13, 2.19, 2.206, 2.6, 3.7, 3.775, 4.9, 5} {
		v, err := view.At(r, at, view.Options{})
		require.NoError(t, err)
		tr := &v.Trace
		assert.LessOrEqual(t, tr.From, at)
		assert.Greater(t, tr.To, at, "time ahead is shown")
		assert.Greater(t, tr.To, tr.From)
		n := len(tr.T)
		for name, y := range map[string][]float64{"above": tr.Above, "below": tr.Below, "outlet": tr.Outlet, "vessel": tr.Vessel,
			"lift below": tr.LiftBelow, "drop above": tr.DropAbove, "lift": tr.Lift, "pilot": tr.Pilot, "current": tr.Current} {
			assert.Len(t, y, n, name)
		}
		assert.True(t, slices.IsSorted(tr.T))
		assert.Equal(t, at, tr.T[n-1])
		assert.Equal(t, v.Snapshot.Valves[0].Below, tr.Below[n-1], "%g s", at)
		assert.Equal(t, v.Snapshot.Valves[0].Disc.Lift, tr.Lift[n-1], "%g s", at)
		for _, m := range v.Marks {
			assert.True(t, m.Done && m.T >= tr.From && m.T <= at)
		}
		assert.Equal(t, at > 2.199 && at < 3.794, !math.IsNaN(tr.DropAbove[n-1]), "%g s: it matters only off the seat", at)
	}
	v, err := view.At(r, 2.206, view.Options{Ahead: true})
	require.NoError(t, err)
	assert.InDelta(t, v.Trace.To, v.Trace.T[len(v.Trace.T)-1], 1e-9, "what is known of the time ahead")
}

// No corner is cut: each event of the window is sampled on both sides.
func TestTraceHasBothSidesOfEvents(t *testing.T) {
	r := run(t, "gas-bench", 5)
	v, err := view.At(r, 3.4, view.Options{})
	require.NoError(t, err)
	seen := 0
	for _, e := range r.Sim.Events() {
		if e.T <= v.Trace.From || e.T >= 3.4 {
			continue
		}
		seen++
		i, ok := slices.BinarySearch(v.Trace.T, e.T)
		require.True(t, ok, e.Name)
		assert.InDelta(t, e.T, v.Trace.T[i-1], 1e-12, e.Name)
		assert.Less(t, v.Trace.T[i-1], e.T, e.Name)
	}
	assert.Greater(t, seen, 7, "bounces too")
}

func TestRangeCoversTheRun(t *testing.T) {
	for name, r := range map[string]*live.Run{
		"in its deadband":   run(t, "gas-bench", 0),
		"rising for good":   run(t, "fault-pilot-stuck-shut", 0),
		"far above its set": run(t, "gas-bench", 20, "switch.reset=9 bar abs", "switch.set=10 bar abs"),
	} {
		g := view.RangeOf(r, 0)
		for k := range 50 {
			s, _, err := r.At(r.Sim.State().T * float64(k) / 49)
			require.NoError(t, err)
			assert.LessOrEqual(t, s.Valves[0].Vessel, g.High, name)
		}
		assert.Equal(t, 0.0, math.Mod(g.High, 1e5), "%s: a whole bar", name)
	}
}

func TestBeyondTheHistory(t *testing.T) {
	r := run(t, "gas-bench", 1)
	_, err := view.At(r, 2, view.Options{})
	assert.Error(t, err)
	assert.NotPanics(t, func() { _, _ = view.At(r, math.NaN(), view.Options{}) })
}
