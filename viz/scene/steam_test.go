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
	whole := v.Snapshot.Valves[0].BelowFluid.Volume
	_, ok, said := of(0.3e-6 / whole)
	assert.False(t, ok, "a mist does not lie")
	assert.Contains(t, said["chamber"], "|wet steam|")
	thin, ok, said := of(3e-6 / whole)
	require.True(t, ok)
	assert.Contains(t, said["scale"], "water drawn larger")
	assert.Contains(t, said["chamber"], "|steam|")
	assert.Contains(t, said["chamber"], "3.0 mL water")
	assert.NotContains(t, said["chamber"], "%", "a share of the mass means little to the eye")
	low, ok, _ := of(0.10)
	require.True(t, ok)
	high, ok, _ := of(0.20)
	require.True(t, ok)
	floor := thin.Bottom
	assert.InDelta(t, floor, low.Bottom, 12, "on the floor")
	assert.InDelta(t, 2*(floor-low.Top), floor-high.Top, 4, "twice the water stands twice as high")

	dry := scene.Draw(changed(v, func(w *scene.View) {
		st := &w.Snapshot.Valves[0]
		for _, c := range []*float64{&st.AboveFluid.Water, &st.BelowFluid.Water, &st.DumpFluid.Water, &st.OutletFluid.Water} {
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

// So it does in the body, on the floor of its inlet and beside the guide.
func TestWaterLiesInTheBody(t *testing.T) {
	v := viewOf(t, runOf(t, "steam-bench", "", 9.5), 9, scene.Units{})
	v.Size = scene.Point{X: 1600, Y: 900}
	of := func(ml float64) (scene.Rect, bool, string) {
		s := scene.Draw(changed(v, func(w *scene.View) {
			c := &w.Snapshot.Valves[0].AboveFluid
			c.Water, c.Quality = 1e-6*ml, 0.7
		}))
		box, ok := scene.BoundsOf(s.Shapes, "water in the body")
		return box, ok, partsOf(s)["inlet and body"]
	}
	_, ok, said := of(0.5)
	assert.False(t, ok)
	assert.Contains(t, said, "|wet steam ")
	box, ok, said := of(102)
	require.True(t, ok)
	assert.Contains(t, said, "|steam, 102 mL water, ")
	chamber, _ := scene.BoundsOf(scene.Draw(v).Shapes, "chamber")
	assert.Less(t, box.Left, chamber.Left)
	assert.Greater(t, box.Right, (chamber.Left+chamber.Right)/2, "on both sides of the guide")
	more, _, _ := of(1e6 * 0.4 * v.Snapshot.Valves[0].AboveFluid.Volume)
	assert.Less(t, more.Top, box.Top-10)
}

// The lowest point of a tailpipe that has a thermometer there is shown with it.
func TestLowestPointIsShown(t *testing.T) {
	for _, z := range sizes {
		v := viewOf(t, runOf(t, "boiler-plant", "", 65.5), 65, scene.Units{})
		v.Size, v.Projector = z.size, z.projector
		low := v.Snapshot.Valves[0].LowPoint
		require.True(t, low.Fitted)
		with, without := scene.Draw(v), scene.Draw(changed(v, func(w *scene.View) { w.Snapshot.Valves[0].LowPoint.Fitted = false }))
		count := func(s *scene.Scene) (n int) {
			for i := range s.Shapes {
				if s.Shapes[i].Part == "thermometer" {
					n++
				}
			}
			return n
		}
		assert.Greater(t, count(with), count(without))
		if !z.projector && z.size.X >= 1600 {
			assert.Contains(t, partsOf(with)["walls"], " point "+fixed(low.T-273.15, 0)+" degC")
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
		assert.Contains(t, said["chamber"], "steam|")

		v.Units.Fahrenheit = true
		said = partsOf(scene.Draw(v))
		assert.Contains(t, said["walls"], fixed(st.OutletWall.T*1.8-459.67, 0)+" degF")
		assert.Contains(t, said["wall chart"], "Wall temperature, degF")
	}
	open := viewOf(t, runOf(t, "steam-bench", "", 5.5), 5, scene.Units{})
	assert.NotContains(t, partsOf(scene.Draw(open)), "wall chart", "the coil's strip is needed")
}
