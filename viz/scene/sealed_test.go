package scene_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/model/explain"
	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// insideWords are words and units that only the inside of the valve gives.
var insideWords = regexp.MustCompile(`(?i)lifts (at|below)|drops at|reseats|opens below|balance|to lift|to reseat|to open|holds up|` +
	`(seat|stop|friction) holds|on its seat|at its stop|unbalanced|\bk?N\b|\d mm\b|bleed|bore|clearance|leak|the face|spring|` +
	`pilot (open|shut|lift|drop)|disc (lift|leave|seat|full)s?\b.*\d|past the seat|out of the chamber|(kg/h|kg/s|g/s|lb/h)|` +
	`(chamber|pilot|disc)[^.;]*\d|acts now|emptying|refilling|opening|hung`)

// allowed are the texts of sealed pictures that name the inside without saying
// anything of it.
var allowed = regexp.MustCompile(`^(Opening|Closing|link [456], (pilot|chamber|disc))$`)

// saidBy are all texts of a picture, and what it says to the keyboard.
func saidBy(s *scene.Scene) (out []string) {
	for _, sh := range texts(s) {
		out = append(out, sh.Text.Words)
	}
	for _, f := range s.Focus {
		out = append(out, f.Name, f.Says)
	}
	return out
}

func sealedRun(t *testing.T, entry string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	e, err := fault.ParseEntry(sc.Plant, entry)
	require.NoError(t, err)
	require.NoError(t, sc.Hide("a code", e))
	sc.Until = 5
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

var hiddenFaults = []string{"pilot-leaks=6mm2@1s", "bleed-plugged=0.5mm2@1s", "disc-sticks=900N@1s", "coil-open@1s", "pilot-stuck-open@1s",
	"switch-drifted=-0.3bar@1s", "seat-leaks@1s", "spring-weak@1s", "dump-restricted@1s", "sensing-slow@1s"}

// sealedShots draws a view as every kind of sealed picture.
func sealedShots(v *scene.View) (out []*scene.Scene) {
	for _, size := range []scene.Point{{X: 1024, Y: 640}, {X: 1600, Y: 900}} {
		for _, projector := range []bool{false, true} {
			v.Size, v.Projector, v.Controls = size, projector, !projector
			out = append(out, scene.Draw(v), scene.DrawPair(&scene.Pair{A: v, B: v, Forks: 1}))
		}
	}
	return out
}

func TestSealedSaysNothingOfTheInside(t *testing.T) {
	for _, f := range hiddenFaults {
		r := sealedRun(t, f)
		for _, at := range []float64{0.5, 2.19, 2.206, 2.6, 3.7, 3.78, 4.9} {
			for name, u := range unitSystems {
				v, err := view.At(r, at, view.Options{Units: u})
				require.NoError(t, err)
				require.True(t, v.Sealed)
				for _, s := range sealedShots(v) {
					for _, words := range saidBy(s) {
						if insideWords.MatchString(words) && !allowed.MatchString(words) {
							t.Errorf("%s at %g s, %s: %q", f, at, name, words)
						}
					}
				}
			}
		}
	}
}

// Whatever is inside, the sealed picture is the same: every shape, every word.
// The view here is one that still holds all of the inside.
func TestSealedShowsNothingOfTheInside(t *testing.T) {
	for _, f := range hiddenFaults {
		r := runOf(t, "gas-bench-plus", f, 5)
		for _, at := range []float64{0.5, 2.206, 3.7, 3.78} {
			v, err := view.At(r, at, view.Options{})
			require.NoError(t, err)
			v.Sealed, v.State, v.Sentence = true, "quiet", "Nothing is heard."
			before := sealedShots(v)
			other, err := view.At(runOf(t, "gas-bench-plus", "bleed-enlarged@1s", 5), 2, view.Options{})
			require.NoError(t, err)
			for i, s := range sealedShots(elsewhereInside(v, other.Model)) {
				was, is := flat(before[i]), flat(s)
				require.Len(t, is, len(was), "%s at %g s", f, at)
				for j := range is {
					require.Equal(t, fmt.Sprintf("%+v", was[j]), fmt.Sprintf("%+v", is[j]), "%s at %g s, after %v", f, at, is[max(j-6, 0):j])
				}
			}
		}
	}
}

// elsewhereInside is a view with the same outside and another inside.
func elsewhereInside(v *scene.View, m *plant.Model) *scene.View {
	out := *v
	snap := *v.Snapshot
	snap.Valves = slices.Clone(snap.Valves)
	st := &snap.Valves[0]
	st.Above, st.Below, st.Dump, st.AboveRate, st.BelowRate, st.DumpRate = 7.1e5, 3.3e5, 2.2e5, 1e6, -1e6, 3e5
	st.AboveTemperature, st.BelowTemperature = 311, 277
	st.Disc = plant.DiscState{Hold: plant.Sticking, Lift: 0.0071, Travel: 0.013, SeatArea: st.Disc.SeatArea, GuideArea: 4e-3, Phi: 0.3, Contact: 77, Net: 123, Face: 9, Rim: 17}
	st.Pilot = plant.PilotState{Hold: plant.Moving, Lift: 0.0013, Stroke: 0.004, Load: 3}
	st.Coil.PullIn, st.Coil.DropOut, st.Coil.Supply, st.Coil.Resistance = 1.11, 0.77, 13, 21
	st.Control.Lag, st.Control.RelayDue = 0.9, snap.T+0.02
	st.Line, st.Seat, st.Bleed, st.Guide, st.PilotFlow = 3.3, 2.2, 0.011, 0.012, 0.013
	st.SeatArea, st.BleedArea, st.PilotArea, st.LineArea, st.SeatLeak, st.PilotLeak = 1e-4, 2e-6, 3e-6, 4e-4, 5e-7, 6e-7
	out.Snapshot = &snap
	out.Facts = &explain.Facts{State: explain.HungOpen, Why: explain.Verdict{Link: explain.Pilot}, Acts: explain.Verdict{Link: explain.Chamber}}
	out.Facts.Margin.Threshold, out.Facts.Margin.Pressure = 5.5e5, 1.1e5
	noise := func(y []float64) []float64 {
		z := make([]float64, len(y))
		for i := range z {
			z[i] = 5e5 * (1 + math.Sin(float64(i)))
		}
		return z
	}
	tr := &out.Trace
	tr.Above, tr.Below, tr.LiftBelow, tr.DropAbove = noise(tr.Above), noise(tr.Below), noise(tr.LiftBelow), noise(tr.DropAbove)
	tr.Lift, tr.Pilot = noise(tr.Lift), noise(tr.Pilot)
	moved := func(ms []scene.Mark) []scene.Mark {
		ms = slices.Clone(ms)
		for i := range ms {
			if ms[i].Link > 2 {
				ms[i].T, ms[i].Done = ms[i].T+0.017, !ms[i].Done
			}
		}
		return ms
	}
	out.Marks, out.Pins = moved(out.Marks), moved(out.Pins)
	// Block valve and sizes that can be seen are those of the plant.
	out.Model = m
	return &out
}
