package scene_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

func partsOf(s *scene.Scene) map[string]string {
	out := map[string]string{}
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		if out[sh.Part] += ""; sh.Text != nil {
			out[sh.Part] += "|" + sh.Text.Words + "|"
		}
	}
	return out
}

// changed is a copy of a view with another state.
func changed(v *scene.View, do func(v *scene.View)) *scene.View {
	w, snap := *v, *v.Snapshot
	snap.Valves = append(snap.Valves[:0:0], snap.Valves...)
	w.Snapshot = &snap
	do(&w)
	return &w
}

// Water lies where there is some, as high as its share of the volume, a little of
// it higher, which is said then.
func TestWaterLies(t *testing.T) {
	v := viewOf(t, runOf(t, "steam-bench", "", 9.5), 9, scene.Units{})
	v.Size = scene.Point{X: 1600, Y: 900}
	of := func(share float64) (scene.Rect, bool, map[string]string) {
		s := scene.Draw(changed(v, func(w *scene.View) {
			c := &w.Snapshot.Valves[0].BelowFluid
			c.Water, c.Quality = share*c.Volume, 0.9
		}))
		box, ok := scene.BoundsOf(s.Shapes, "water in the chamber")
		return box, ok, partsOf(s)
	}
	_, ok, _ := of(0)
	assert.False(t, ok, "none where there is none")
	thin, ok, said := of(1e-4)
	require.True(t, ok)
	assert.Contains(t, said["scale"], "water drawn larger")
	assert.Contains(t, said["chamber"], "90 % steam")
	assert.Contains(t, said["chamber"], "mL water")
	low, ok, _ := of(0.10)
	require.True(t, ok)
	high, ok, _ := of(0.20)
	require.True(t, ok)
	floor := thin.Bottom
	assert.InDelta(t, floor, low.Bottom, 12, "on the floor")
	assert.InDelta(t, 2*(floor-low.Top), floor-high.Top, 4, "twice the water stands twice as high")

	dry := scene.Draw(changed(v, func(w *scene.View) {
		st := &w.Snapshot.Valves[0]
		for _, c := range []*float64{&st.BelowFluid.Water, &st.DumpFluid.Water, &st.OutletFluid.Water} {
			*c = 0
		}
	}))
	for part, words := range partsOf(dry) {
		assert.False(t, strings.HasPrefix(part, "water in"), part)
		assert.NotContains(t, words, "water drawn")
	}
	for part := range partsOf(scene.Draw(viewOf(t, runOf(t, "gas-bench-plus", "", 3), 2.6, scene.Units{}))) {
		for _, of := range []string{"water", "drum", "thermometer", "wall"} {
			assert.NotContains(t, part, of, "a gas plant has none of it")
		}
	}
}

// The metal carries its temperature, in the unit chosen, and the two walls that a
// mechanic goes by come first; at rest they have a chart.
func TestWallsAreShown(t *testing.T) {
	for _, z := range sizes {
		v := viewOf(t, runOf(t, "leaking-seat-steam", "", 290.5), 290, scene.Units{})
		v.Size, v.Projector = z.size, z.projector
		st := &v.Snapshot.Valves[0]
		said := partsOf(scene.Draw(v))
		celsius := fixed(st.OutletWall.T-273.15, 0) + " degC"
		assert.Contains(t, said["walls"], "Tailpipe wall "+celsius)
		assert.Contains(t, said["walls"], fixed(st.DumpWall.T-273.15, 0)+" degC")
		assert.Contains(t, said["wall chart"], "tailpipe "+celsius)
		assert.Contains(t, said["wall chart"], "Wall temperature, degC")
		assert.Contains(t, said["vessel"], "|Drum|")
		assert.Contains(t, said, "drum level")
		assert.Contains(t, said, "thermometer")
		assert.Contains(t, said["chamber"], " % steam")

		v.Units.Fahrenheit = true
		said = partsOf(scene.Draw(v))
		assert.Contains(t, said["walls"], fixed(st.OutletWall.T*1.8-459.67, 0)+" degF")
		assert.Contains(t, said["wall chart"], "Wall temperature, degF")
	}
	open := viewOf(t, runOf(t, "steam-bench", "", 5.5), 5, scene.Units{})
	assert.NotContains(t, partsOf(scene.Draw(open)), "wall chart", "the coil's strip is needed")
}
