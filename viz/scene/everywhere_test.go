package scene_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// shot is one picture of the many in which texts must be readable.
type shot struct {
	kind   string // "single", "pair", "sealed", "sealed pair"
	v      *scene.View
	s      *scene.Scene
	panels map[string]scene.Rect
}

var windows = []scene.Point{{X: 1024, Y: 640}, {X: 1280, Y: 720}, {X: 1600, Y: 900}, {X: 2560, Y: 1440}}

// everywhere looks at every moment in every unit system, at four window sizes,
// with and without projector and controls, alone, beside the same plant with
// another fault, and with its fault hidden.
func everywhere(t *testing.T, do func(t *testing.T, q shot)) {
	for _, m := range moments {
		t.Run(fmt.Sprintf("%s %s at %g", m.scenario, m.fault, m.at), func(t *testing.T) {
			one, two := runOf(t, m.scenario, m.fault, m.at+0.5), runOf(t, m.scenario, "switch-drifted=-0.3bar@1s", m.at+0.5)
			hidden := hiddenRun(t, m.scenario, m.at+0.5)
			for unit, u := range unitSystems {
				a, b, c := viewOf(t, one, m.at, u), viewOf(t, two, m.at, u), viewOf(t, hidden, m.at, u)
				require.True(t, c.Sealed)
				for _, size := range windows {
					for k := range 4 {
						for _, v := range []*scene.View{a, b, c} {
							v.Size, v.Projector, v.Controls = size, k&1 != 0, k&2 != 0
						}
						pair := &scene.Pair{A: a, B: b, Forks: 1, Differs: []string{"switch drift -0.3 bar, not 0 bar", "pilot stiction 25 N, not 12 N"}}
						sealed := &scene.Pair{A: c, B: c, Forks: 1, Differs: []string{"inflow 0.3 kg/s, not 1 kg/s"}}
						name := fmt.Sprintf("%s, %gx%g, projector %t, controls %t", unit, size.X, size.Y, a.Projector, a.Controls)
						for _, q := range []shot{
							{"single", a, scene.Draw(a), scene.Panels(a)},
							{"pair", a, scene.DrawPair(pair), scene.PairPanels(a)},
							{"sealed", c, scene.Draw(c), scene.Panels(c)},
							{"sealed pair", c, scene.DrawPair(sealed), scene.PairPanels(c)},
						} {
							t.Run(q.kind+", "+name, func(t *testing.T) { do(t, q) })
						}
					}
				}
			}
		})
	}
}

func viewOf(t *testing.T, r *live.Run, at float64, u scene.Units) *scene.View {
	t.Helper()
	v, err := view.At(r, at, view.Options{Units: u})
	require.NoError(t, err)
	return v
}

// hiddenRun is a run of a scenario with a fault more, which is hidden.
func hiddenRun(t *testing.T, scenario string, until float64) *live.Run {
	t.Helper()
	key := fmt.Sprint("hidden ", scenario, until)
	runs.Lock()
	defer runs.Unlock()
	if r := runs.of[key]; r != nil {
		return r
	}
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	name := "pilot-leaks=6mm2@1s"
	if scenario == "fault-pilot-leaks-small" {
		name = "bleed-plugged=0.5mm2@1s"
	}
	e, err := fault.ParseEntry(sc.Plant, name)
	require.NoError(t, err)
	require.NoError(t, sc.Hide("a code", e))
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	runs.of[key] = r
	return r
}

// No text lies on another one, crosses out of its panel, lies in a room that is
// left for buttons, or is too small; no line crosses one; and no flow is without
// the name of its way.
func TestTextsHaveTheirRoom(t *testing.T) {
	everywhere(t, roomy)
}

func roomy(t *testing.T, q shot) {
	ts := texts(q.s)
	require.Greater(t, len(ts), 20)
	boxes := make([]scene.Rect, len(ts))
	for i, a := range ts {
		boxes[i] = boxOf(q.v, q.s, a)
	}
	least := 12.0
	switch {
	case q.v.Projector:
		least = q.v.Size.Y / 40
	case q.v.Size.X >= 1600:
		least = 15.6 * q.v.Size.X / 1600
	}
	for i, a := range ts {
		if a.Text.Size < least-1e-9 {
			t.Errorf("%q (%s) is %.2f high, less than %.2f", a.Text.Words, a.Part, a.Text.Size, least)
		}
		for j := range ts[:i] {
			if boxes[i].Meets(boxes[j]) {
				t.Errorf("%q (%s) lies on %q (%s)", a.Text.Words, a.Part, ts[j].Text.Words, ts[j].Part)
			}
		}
		within := false
		for _, p := range q.panels {
			within = within || boxes[i].Left >= p.Left && boxes[i].Right <= p.Right && boxes[i].Top >= p.Top && boxes[i].Bottom <= p.Bottom
		}
		if !within {
			t.Errorf("%q (%s) crosses out of its panel: %.1f", a.Text.Words, a.Part, boxes[i])
		}
		for _, r := range q.s.Rooms {
			if boxes[i].Meets(r.At) {
				t.Errorf("%q (%s) lies in the room %q", a.Text.Words, a.Part, r.Name)
			}
		}
	}
	crossings(t, q)
	flowsAreNamed(t, q)
}

// No turn of the spring crosses what is written in the chamber.
func TestSpringKeepsClearOfWords(t *testing.T) {
	everywhere(t, func(t *testing.T, q shot) {
		for _, sh := range texts(q.s) {
			if sh.Part != "chamber" {
				continue
			}
			box := boxOf(q.v, q.s, sh)
			for i := range q.s.Shapes {
				if turn := &q.s.Shapes[i]; turn.Part == "spring" && turn.Stroke != nil && len(turn.Path) == 2 && pathBox(turn.Path).Meets(box) {
					t.Errorf("a turn crosses %q", sh.Text.Words)
				}
			}
		}
	})
}

// The rooms are there when asked for, hold buttons of 24 px, and no more of the
// picture than was agreed.
func TestRooms(t *testing.T) {
	everywhere(t, func(t *testing.T, q shot) {
		if !q.v.Controls {
			assert.Empty(t, q.s.Rooms)
			return
		}
		require.Len(t, q.s.Rooms, 2)
		clock, views := q.s.Rooms[0], q.s.Rooms[1]
		assert.Equal(t, "time", clock.Name)
		assert.Equal(t, "views", views.Name)
		assert.GreaterOrEqual(t, clock.At.Height(), 44.0)
		assert.GreaterOrEqual(t, views.At.Height(), 36.0)
		assert.GreaterOrEqual(t, views.At.Width(), 0.2*q.v.Size.X)
		if q.v.Projector {
			assert.LessOrEqual(t, clock.At.Height(), 0.07*q.v.Size.Y)
		} else {
			assert.InDelta(t, 0.25*q.panels["ribbon"].Width(), clock.At.Width(), 1)
		}
		for _, r := range q.s.Rooms {
			assert.True(t, r.At.Left >= 0 && r.At.Top >= 0 && r.At.Right <= q.v.Size.X && r.At.Bottom <= q.v.Size.Y)
		}
	})
}

// The moments show every state there is a word for.
func TestMomentsShowEveryState(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range moments {
		seen[m.state.String()] = true
	}
	for _, s := range scenarios.States() {
		assert.True(t, seen[s], s)
	}
	assert.Len(t, scenarios.States(), 9)
}
