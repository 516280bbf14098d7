package paint_test

import (
	"image"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/golden"
	"underdisc/viz/letters"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
	"underdisc/viz/screen/paint"
	"underdisc/viz/view"
)

// instants are those at which window, browser and paper are held against
// pictures that were kept.
var instants = []struct {
	name, scenario string
	at             float64
}{
	{"shut", "gas-bench-plus", 1},
	{"emptying", "gas-bench-plus", 2.19},
	{"opening", "gas-bench-plus", 2.206},
	{"refilling", "gas-bench-plus", 3.7},
	{"hung-open", "fault-bleed-plugged", 4.5},
	{"steam-shut", "steam-bench", 3}, // water, walls and the drum's level, before anything flows
}

func instant(t *testing.T, scenario string, at float64) *scene.View {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Sim.Finish(at))
	v, err := view.At(r, at, view.Options{Size: scene.Point{X: 1280, Y: 720}})
	require.NoError(t, err)
	v.Measure = letters.Width
	return v
}

// bound is the difference from which on a picture is another one: more than
// another graphics library makes, less than what may not go unseen.
const bound = 0.03

// The picture at six instants, on the screen and on paper, is the one that was
// kept; and the bound is so narrow that a disc half a millimetre off, or one
// pressure off by 5 %, is seen.
func TestGoldens(t *testing.T) {
	harness.Need(t)
	for _, in := range instants {
		t.Run(in.name, func(t *testing.T) {
			v := instant(t, in.scenario, in.at)
			s := scene.Draw(v)
			for name, draw := range map[string]func(s *scene.Scene) image.Image{
				"window": func(s *scene.Scene) image.Image { return onScreen(paint.New(), s, 1) },
				"paper":  func(s *scene.Scene) image.Image { return onPaper(t, s, 1) },
			} {
				path := filepath.Join("testdata", name+"-"+in.name+".png")
				right := draw(s)
				golden.Check(t, path, right, bound)
				for what, wrong := range wrongs(v) {
					d, box := golden.Compare(draw(scene.Draw(wrong)), right)
					assert.Greater(t, d, bound, "%s, %s: at %v", name, what, box)
					t.Logf("%s, %s: %.3f at %v", name, what, d, box)
				}
			}
		})
	}
}

// wrongs are views with one thing changed, what is written of it left as it is:
// colours and places alone must tell.
func wrongs(v *scene.View) map[string]*scene.View {
	change := func(do func(st *scene.View)) *scene.View {
		w, snap := *v, *v.Snapshot
		snap.Valves = append(snap.Valves[:0:0], snap.Valves...)
		w.Snapshot = &snap
		do(&w)
		return &w
	}
	out := map[string]*scene.View{
		"chamber 5 % up": change(func(w *scene.View) { w.Snapshot.Valves[0].Below *= 1.05 }),
		"body 5 % up":    change(func(w *scene.View) { w.Snapshot.Valves[0].Above *= 1.05 }),
		"outlet 5 % up":  change(func(w *scene.View) { w.Snapshot.Valves[0].Outlet *= 1.05 }),
		"disc 0.5 mm off": change(func(w *scene.View) {
			d := &w.Snapshot.Valves[0].Disc
			if d.Lift > d.Travel/2 {
				d.Lift -= 0.5e-3
			} else {
				d.Lift += 0.5e-3
			}
		}),
	}
	return out
}
