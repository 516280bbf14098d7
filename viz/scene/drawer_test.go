package scene_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

// A drawer that has drawn all sorts of pictures before draws each as one that
// has drawn none.
func TestDrawerDrawsAsDrawDoes(t *testing.T) {
	d := new(scene.Drawer)
	for round := range 2 {
		for _, m := range moments {
			r, hidden := runOf(t, m.scenario, m.fault, m.at+0.5), hiddenRun(t, m.scenario, m.at+0.5)
			for _, u := range unitSystems {
				a, b := viewOf(t, r, m.at, u), viewOf(t, hidden, m.at, u)
				a.Controls, b.Projector = round == 1, round == 1
				pair := &scene.Pair{A: a, B: viewOf(t, r, m.at-0.1, u), Forks: 1, Differs: []string{"time"}}
				for _, draw := range []func(*scene.Drawer) *scene.Scene{
					func(d *scene.Drawer) *scene.Scene { return d.Draw(a) },
					func(d *scene.Drawer) *scene.Scene { return d.Draw(b) },
					func(d *scene.Drawer) *scene.Scene { return d.DrawPair(pair) },
				} {
					if want, got := fmt.Sprintf("%v", flat(draw(new(scene.Drawer)))), fmt.Sprintf("%v", flat(draw(d))); want != got {
						t.Fatalf("%s at %g: the pictures differ", m.scenario, m.at)
					}
				}
				// The form that draws once is the same.
				require.Equal(t, fmt.Sprintf("%v", flat(scene.Draw(a))), fmt.Sprintf("%v", flat(d.Draw(a))))
			}
		}
	}
}

// Picture after picture costs few allocations: a tenth of what its shapes, more
// than 500, would cost one by one.
func TestDrawerAllocates(t *testing.T) {
	v := viewOf(t, runOf(t, "gas-bench-plus", "", 2.707), 2.207, scene.Units{})
	d := new(scene.Drawer)
	require.Greater(t, len(d.Draw(v).Shapes), 500)
	got := testing.AllocsPerRun(20, func() {
		v.Snapshot.T += 1e-6
		v.Snapshot.Valves[0].Below += 5
		d.Draw(v)
	})
	assert.Less(t, got, 350.0)
}
