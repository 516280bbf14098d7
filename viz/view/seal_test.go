package view_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// sealedRun is the bench with a fault that is hidden.
func sealedRun(t *testing.T, entry string, more ...scenarios.Command) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	if entry != "" {
		e, err := fault.ParseEntry(sc.Plant, entry)
		require.NoError(t, err)
		require.NoError(t, sc.Hide("a code", e))
	}
	for _, c := range more {
		sc.Record(scenarios.Action{Command: &c})
	}
	sc.Until = 12
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// moments of a run: evenly, and about each event.
func moments(r *live.Run) (out []float64) {
	end := r.Sim.State().T
	for k := range 41 {
		out = append(out, end*float64(k)/40)
	}
	for i, e := range r.Sim.Events() {
		if i < 60 { // where one chatters they are alike
			out = append(out, e.T, math.Min(e.T+2e-3, end))
		}
	}
	slices.Sort(out)
	return out
}

var (
	insideWords = regexp.MustCompile(`(?i)chamber|pilot|disc|bleed|plunger|spring|guide|seat|dump|bore|body|threshold|balance|lift|reseat|clearance|stuck|stick|bond|friction|force|\bmm\b|\bk?N\b|hung|refilling|emptying|opening|closing|nan|inf`)
	numbers     = regexp.MustCompile(`\d+(\.\d+)?`)
)

// Whatever fault is hidden, what is said names nothing of the inside, and every
// number in it is one that can be read at the plant.
func TestSealedSaysOnlyWhatCanBeRead(t *testing.T) {
	heads := map[string]bool{}
	bench, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	for _, f := range fault.Possible(bench.Plant) {
		for _, onset := range []string{"", "@3s"} {
			t.Run(f.Name+onset, func(t *testing.T) {
				r := sealedRun(t, f.Name+onset)
				l := view.NewLens(r, 0)
				for i, at := range moments(r) {
					v, err := l.At(at, view.Options{Units: unitSystems[i%len(unitSystems)]})
					require.NoError(t, err)
					require.True(t, v.Sealed)
					heads[v.State] = true
					checkSealed(t, r, v, at)
				}
			})
		}
	}
	assert.Equal(t, map[string]bool{"quiet": true, "hissing": true, "blowing": true}, heads)
}

func checkSealed(t *testing.T, r *live.Run, v *scene.View, at float64) {
	t.Helper()
	said := []string{v.State, v.Sentence, v.Trace.ZeroName}
	for _, m := range slices.Concat(v.Marks, v.Pins) {
		said = append(said, m.Name)
		assert.Contains(t, []int{1, 2}, m.Link)
	}
	for _, s := range said {
		assert.NotRegexp(t, insideWords, s, "%g s", at)
	}
	assert.LessOrEqual(t, utf8.RuneCountInString(v.Sentence), 130, v.Sentence)
	assert.True(t, strings.HasSuffix(v.Sentence, ".") && !strings.HasSuffix(v.Sentence, ".."), v.Sentence)

	s, _, err := r.At(at)
	require.NoError(t, err)
	st := &s.Valves[0]
	var can []string
	for _, p := range []float64{st.Vessel, st.Control.Reading, 12e5, 11.3e5} { // the plate's set and reset
		can = append(can, v.Units.PressureOf(p))
	}
	can = append(can, scene.Current(st.Coil.Current))
	for _, e := range r.Sim.Events() { // for how long
		if e.T <= at {
			can = append(can, strings.Fields(scene.Span(at - e.T))[0])
		}
	}
	for _, n := range numbers.FindAllString(v.Sentence, -1) {
		assert.Contains(t, can, n, "%g s: %s", at, v.Sentence)
	}
}

// Nothing that a picture is drawn from gives the inside away: with the inside of
// another fault and the same outside, the view is the same. Here the outside is
// alike because the valve rests: a stuck disc, a weak spring, a plugged bleed
// and a broken dump line look alike until the valve is asked.
func TestSealedLooksAlikeUntilAsked(t *testing.T) {
	want, err := view.NewLens(sealedRun(t, "disc-sticks=900N"), 0).At(1.9, view.Options{})
	require.NoError(t, err)
	for _, f := range []string{"spring-weak", "bleed-plugged=0.5mm2", "dump-restricted", "pilot-stuck-shut", "deadband-narrow", "switch-drifted=0.3bar", "coil-open", "supply-low"} {
		t.Run(f, func(t *testing.T) {
			got, err := view.NewLens(sealedRun(t, f), 0).At(1.9, view.Options{})
			require.NoError(t, err)
			if a, b := shown(want), shown(got); a != b {
				t.Errorf("is not the same:\n%s\n%s", a, b)
			}
		})
	}
}

// shown is all of a view that may be shown, rounded as it would be.
func shown(v *scene.View) string {
	st := v.Snapshot.Valves[v.Valve]
	out := fmt.Sprintf("%s|%s|%v|%v|%v|%+v|%+v", v.State, v.Sentence, v.Marks, v.Pins, v.Range, rounded(st), v.Trace.ZeroName)
	f := *v.Facts
	f.Switch.Reading, f.Switch.Sensed, f.Coil.Current = 0, 0, 0
	return out + fmt.Sprintf("|%+v", f)
}

func rounded(st plant.ValveState) plant.ValveState {
	st.Vessel, st.VesselRate, st.Control.Reading = math.Round(st.Vessel/1e3), math.Round(st.VesselRate/1e3), math.Round(st.Control.Reading/1e3)
	st.Outlet = math.Round(st.Outlet / 1e3)
	return st
}

// The numbers of the inside are gone from the view, and its curves.
func TestSealedIsClearedOfTheInside(t *testing.T) {
	r := sealedRun(t, "bleed-plugged=0.5mm2@1s")
	l := view.NewLens(r, 0)
	for _, at := range []float64{0.5, 2.19, 2.206, 3, 3.8, 9} {
		v, err := l.At(at, view.Options{})
		require.NoError(t, err)
		st := &v.Snapshot.Valves[0]
		for _, x := range []float64{st.Above, st.Below, st.Dump, st.BelowRate, st.Bleed, st.Guide, st.PilotFlow, st.SeatLeak, st.PilotLeak, st.BleedArea, st.PilotArea,
			st.BelowTemperature, st.Disc.Lift, st.Disc.Speed, st.Disc.Net, st.Disc.Chamber, st.Disc.Spring, st.Disc.Contact, st.Disc.Stick, st.Disc.Preload,
			st.Pilot.Lift, st.Pilot.Net, st.Pilot.BondShut, st.Coil.PullIn, st.Coil.DropOut} {
			assert.Zero(t, x)
		}
		assert.Empty(t, v.Snapshot.Look.Nodes)
		assert.Equal(t, explain.Thresholds{}, v.Facts.Thresholds)
		assert.Equal(t, explain.Verdict{}, v.Facts.Acts)
		assert.Equal(t, explain.Margin{}, v.Facts.Margin)
		assert.Equal(t, explain.ChamberFacts{}, v.Facts.Chamber)
		for _, y := range [][]float64{v.Trace.Above, v.Trace.Below, v.Trace.LiftBelow, v.Trace.DropAbove, v.Trace.Lift, v.Trace.Pilot} {
			assert.Len(t, y, len(v.Trace.T))
			for _, x := range y {
				assert.True(t, math.IsNaN(x))
			}
		}
		for i, x := range v.Trace.Vessel {
			assert.Greater(t, x, 1e5)
			assert.False(t, math.IsNaN(v.Trace.Current[i]))
		}
		truth, _, err := r.At(at)
		require.NoError(t, err)
		assert.Equal(t, truth.Valves[0].Vessel, st.Vessel)
		assert.Equal(t, truth.Valves[0].Coil.Current, st.Coil.Current)
		assert.Equal(t, truth.Valves[0].Outlet, st.Outlet, "its gauge")
		assert.InDelta(t, truth.Valves[0].Outlet, v.Trace.Outlet[len(v.Trace.Outlet)-1], 1e-3*truth.Valves[0].Outlet)
		if leaves := truth.Valves[0].Seat + truth.Valves[0].PilotFlow; at == 2.206 || at == 3 { // it is heard
			assert.Equal(t, leaves, st.Seat)
			assert.Greater(t, leaves, 0.5)
		}
	}
	// Once it is revealed, all is there again.
	require.True(t, r.Scenario.Hidden.Reveal("a code"))
	v, err := l.At(3, view.Options{})
	require.NoError(t, err)
	assert.False(t, v.Sealed)
	assert.Greater(t, v.Snapshot.Valves[0].Below, 1e5)
	assert.Len(t, v.Pins, 12)
}

// What can be told from outside is told: what is asked, what the coil does, and
// what leaves through the tailpipe.
func TestSealedSentences(t *testing.T) {
	hold := func(at float64, word string) scenarios.Command {
		return scenarios.Command{At: at, Path: "relay.selector.position", Value: plant.Value{Word: word}}
	}
	for _, c := range []struct {
		name, fault string
		at          float64
		do          []scenarios.Command
		says        []string
	}{
		{"rests", "spring-weak@20s", 1, nil, []string{"The sensor reads 11.73 bar abs and the switch sets at 12.00; nothing leaves through the tailpipe."}},
		{"blows as asked", "spring-weak@20s", 3, nil, []string{"The coil draws 2.", "the tailpipe has been blowing for 800 ms", "the switch resets at 11.30"}},
		{"blows unasked", "bleed-plugged=0.5mm2@1s", 4.1, nil, []string{"The coil has been dead for", ", yet gas still leaves through the tailpipe."}},
		{"hisses", "seat-leaks@0.5s", 1, nil, []string{"The coil is dead, yet a little gas leaves through the tailpipe."}},
		{"asked, and no current", "coil-open@1s", 4, nil, []string{"The relay has been on for 1.8", "the coil draws 0.00 A, yet nothing leaves"}},
		{"asked, and stuck", "pilot-stuck-shut@1s", 4, nil, []string{"The relay has been on for 1.8", "the coil draws 2.50 A, yet nothing leaves"}},
		{"held open", "spring-weak@20s", 1.5, []scenarios.Command{hold(1, "open")}, []string{"The selector holds the relay on, the coil draws 2.", "blowing for"}},
		{"lags", "sensing-slow@0.1s", 1.2, []scenarios.Command{{At: 0.2, Path: "inflow.mass-flow", Value: plant.Value{Number: 5}}}, []string{"The sensor reads", "where the vessel has"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			v, err := view.At(sealedRun(t, c.fault, c.do...), c.at, view.Options{})
			require.NoError(t, err)
			for _, s := range c.says {
				assert.Contains(t, v.Sentence, s)
			}
		})
	}
}
