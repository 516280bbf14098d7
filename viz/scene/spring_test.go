package scene_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

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

// springMoments are spring-loaded valves of each kind, in each state that a picture
// shows in its own way.
var springMoments = []struct {
	scenario, fault string
	pulls           float64 // when the lever is pulled, s; 0: never
	valve           int
	at              float64
	state           explain.SpringStand
}{
	{"spring-reference", "", 0, 0, 0.3, explain.SpringTight},
	{"spring-reference", "", 0, 0, 2, explain.SpringSimmering},
	{"spring-reference", "", 0, 0, 3.958, explain.SpringLifting},
	{"spring-reference", "", 0, 0, 4.3, explain.SpringAtFullLift},
	{"spring-reference", "", 0, 0, 6.151, explain.SpringFalling},
	{"spring-reference", "gag-left-on", 0, 0, 5, explain.SpringGagged},
	{"spring-reference", "", 1, 0, 1.05, explain.SpringByLever},
	{"spring-hood", "", 0, 0, 1, explain.SpringTight},
	{"spring-hood", "", 0, 0, 5.8, explain.SpringAtFullLift},
	{"spring-liquid", "", 0, 0, 6, explain.SpringPartly},
	{"boiler-plant-safeties", "", 0, 1, 15, explain.SpringTight},
	{"safety-hand-lift", "", 0, 1, 21.5, explain.SpringByLever},
	{"safety-seat-debris", "", 0, 1, 40, explain.SpringHeldOff},
}

// springRun is the run of a moment; the run of its plant with a fault hidden.
func springRun(t *testing.T, scenario, f string, pulls, until float64, hidden bool) *live.Run {
	t.Helper()
	key := fmt.Sprint("spring ", scenario, f, pulls, until, hidden)
	runs.Lock()
	defer runs.Unlock()
	if r := runs.of[key]; r != nil {
		return r
	}
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	if f != "" {
		e, err := fault.ParseEntry(sc.Plant, f)
		require.NoError(t, err)
		sc.Faults = append(sc.Faults, e)
	}
	if pulls > 0 {
		sc.Commands = append(sc.Commands, scenarios.Command{At: pulls, Path: "safety.lever.pull", Value: plant.Value{Number: 1}})
	}
	if hidden {
		e, err := fault.ParseEntry(sc.Plant, "spring-set-drifted@0.1s")
		if len(sc.Plant.OfKind("spring-valve")) > 1 {
			e, err = fault.ParseEntry(sc.Plant, "safety-1:spring-set-drifted@0.1s")
		}
		require.NoError(t, err)
		require.NoError(t, sc.Hide("a code", e))
	}
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	runs.of[key] = r
	return r
}

// springs looks at every moment in every unit system, at four window sizes, with and
// without projector and controls, alone, in a pair and sealed.
func springs(t *testing.T, do func(t *testing.T, q shot)) {
	for _, m := range springMoments {
		t.Run(fmt.Sprintf("%s %s at %g", m.scenario, m.fault, m.at), func(t *testing.T) {
			r := springRun(t, m.scenario, m.fault, m.pulls, m.at+0.5, false)
			look := func(r *live.Run, u scene.Units) *scene.View {
				v, err := view.At(r, m.at, view.Options{Units: u, Valve: m.valve})
				require.NoError(t, err)
				return v
			}
			var hidden *live.Run
			if m.fault == "" && m.pulls == 0 && strings.HasPrefix(m.scenario, "spring-") {
				hidden = springRun(t, m.scenario, "", 0, m.at+0.5, true)
			}
			for unit, u := range unitSystems {
				a := look(r, u)
				require.Equal(t, m.state, a.Spring.State)
				for _, size := range windows {
					for k := range 4 {
						a.Size, a.Projector, a.Controls = size, k&1 != 0, k&2 != 0
						name := fmt.Sprintf("%s, %gx%g, projector %t, controls %t", unit, size.X, size.Y, a.Projector, a.Controls)
						pair := &scene.Pair{A: a, B: a, Forks: 0.01, Differs: []string{"lower ring gap 4 mm, not 2.5 mm"}}
						shots := []shot{{"single", a, scene.Draw(a), scene.Panels(a)}, {"pair", a, scene.DrawPair(pair), scene.PairPanels(a)}}
						if hidden != nil {
							c := look(hidden, u)
							require.True(t, c.Sealed)
							c.Size, c.Projector, c.Controls = size, a.Projector, a.Controls
							sealed := &scene.Pair{A: c, B: c, Forks: 1, Differs: []string{"inflow 3 kg/s, not 2 kg/s"}}
							shots = append(shots, shot{"sealed", c, scene.Draw(c), scene.Panels(c)}, shot{"sealed pair", c, scene.DrawPair(sealed), scene.PairPanels(c)})
						}
						for _, q := range shots {
							t.Run(q.kind+", "+name, func(t *testing.T) { do(t, q) })
						}
					}
				}
			}
		})
	}
}

func TestSpringTextsHaveTheirRoom(t *testing.T) { springs(t, roomy) }

func TestSpringContrast(t *testing.T) { springs(t, contrasts) }

// What is drawn of a valve moves with its lift and stands where its sizes say.
func TestSpringIsToScale(t *testing.T) {
	r := springRun(t, "spring-reference", "", 0, 5, false)
	place := func(at float64) (disc, ring, seat scene.Rect, st plant.SpringState) {
		v, err := view.At(r, at, view.Options{})
		require.NoError(t, err)
		s := scene.Draw(v)
		whole := func(part string) scene.Rect { // not the close-up's
			var own []scene.Shape
			for _, sh := range s.Shapes {
				if sh.Part == part && sh.Clip == nil && sh.Stroke == nil && sh.Text == nil {
					own = append(own, sh)
				}
			}
			b, ok := scene.BoundsOf(own, part)
			require.True(t, ok, part)
			return b
		}
		return whole("disc"), whole("lower ring"), whole("inlet"), v.Snapshot.Springs[0]
	}
	shut, ring, bore, _ := place(0.3)
	open, _, _, st := place(4.3)
	k := bore.Width() / 45 // picture units per millimetre, by the nozzle's bore
	assert.InDelta(t, 1e3*st.Lift, (shut.Bottom-open.Bottom)/k, 0.05, "the disc by its lift")
	assert.InDelta(t, 62-1, shut.Width()/k, 0.1, "up to the upper ring, but for its play")
	assert.InDelta(t, 52+3.6, ring.Width()/k, 0.1, "the lower ring's edge lies on its diameter")
	assert.InDelta(t, 1-2.5, (shut.Bottom-ring.Top)/k-0, 0.1, "below the lip by the gap")
}

// Each link's state, threshold and pace are those of snapshot and folds.
func TestSpringLinks(t *testing.T) {
	r := springRun(t, "spring-reference", "", 0, 8, false)
	for _, c := range []struct {
		at   float64
		acts int
		done []int
	}{{0.3, 1, nil}, {2, 2, []int{1}}, {3.958, 3, []int{1, 2}}, {4.3, 5, []int{1, 2, 3, 4}}, {6.151, 6, []int{1, 2, 3, 4, 5}}} {
		v, err := view.At(r, c.at, view.Options{Units: scene.Units{Gauge: true}})
		require.NoError(t, err)
		for _, l := range scene.SpringLinks(v) {
			want := scene.ToCome
			for _, d := range c.done {
				if d == l.Number {
					want = scene.Done
				}
			}
			if l.Number == c.acts {
				want = scene.ActsNow
			}
			assert.Equal(t, want, l.Stands, "%g s, link %d", c.at, l.Number)
			assert.Equal(t, want, v.LinkStanding(l.Number))
		}
	}
	v, err := view.At(r, 2, view.Options{Units: scene.Units{Gauge: true}})
	require.NoError(t, err)
	st, f := &v.Snapshot.Springs[0], v.Spring
	l := scene.SpringLinks(v)
	gauge := func(p float64) string { return fixed((p-1.01325e5)/1e5, 2) }
	assert.Equal(t, gauge(st.Inlet)+" bar gauge", l[0].State[0])
	parts := 1.01325e5 + (7044+4*9.81-142)/(math.Pi/4*0.0475*0.0475)
	assert.Equal(t, "faces part at "+gauge(parts), l[0].Threshold[0], "in closed form")
	assert.Equal(t, "rising "+fixed(st.InletRate/1e5, 2)+" bar/s", l[0].Goes)
	assert.Equal(t, fixed(1e6*st.Lift, 1)+" µm apart", l[1].State[0])
	assert.Equal(t, "pops above "+gauge(f.Folds.Pop.Value), l[2].Threshold[0])
	assert.Equal(t, "would be at "+gauge(f.Folds.Reseat.Value), l[5].Threshold[0])
}

// The forces drawn sum to the same on both sides, and to those of the snapshot.
func TestSpringForcesBalance(t *testing.T) {
	for _, m := range springMoments {
		r := springRun(t, m.scenario, m.fault, m.pulls, m.at+0.5, false)
		v, err := view.At(r, m.at, view.Options{Valve: m.valve})
		require.NoError(t, err)
		var up, down float64
		for _, b := range scene.SpringBars(v) {
			if b.Up {
				up += b.Force
			} else {
				down += b.Force
			}
		}
		assert.InDelta(t, up, down, 4+1e-3*down, "%s at %g", m.scenario, m.at)
		st := v.SpringState()
		assert.Greater(t, down, 0.9*(st.Spring+st.Weight))
	}
}

// A sealed picture says nothing of lift, forces, rings or gag; a gagged valve's is
// that of one that is not, while neither lifts.
func TestSealedSpringTellsNothing(t *testing.T) {
	look := func(entry string) []string {
		sc, err := scenarios.Load("spring-reference")
		require.NoError(t, err)
		e, err := fault.ParseEntry(sc.Plant, entry)
		require.NoError(t, err)
		require.NoError(t, sc.Hide("a code", e))
		sc.Until = 1
		r, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, r.Finish())
		v, err := view.At(r, 0.4, view.Options{})
		require.NoError(t, err)
		var out []string
		for _, sh := range texts(scene.Draw(v)) {
			out = append(out, sh.Text.Words)
		}
		return out
	}
	gagged, drifted := look("gag-left-on"), look("lower-ring-moved")
	assert.Equal(t, drifted, gagged)
	for _, w := range gagged {
		assert.NotContains(t, strings.ToLower(w), "gag on")
		assert.NotContains(t, w, "kN")
	}
}
