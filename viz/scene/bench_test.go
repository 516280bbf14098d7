package scene_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

func benchView(b *testing.B, name string, at float64) *scene.View {
	b.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(b, err)
	sc.Until = at + 0.1
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(b, err)
	require.NoError(b, r.Finish())
	v, err := view.At(r, at, view.Options{})
	require.NoError(b, err)
	return v
}

// What a picture of a run that goes costs, drawn into the room of the last one.
func BenchmarkDrawer(b *testing.B) {
	v := benchView(b, "gas-bench-plus", 2.206)
	d := new(scene.Drawer)
	b.ReportAllocs()
	for b.Loop() {
		v.Snapshot.T += 1e-6
		v.Snapshot.Valves[0].Below += 7
		d.Draw(v)
	}
}

// What one drawn once costs.
func BenchmarkDraw(b *testing.B) {
	v := benchView(b, "gas-bench-plus", 2.206)
	b.ReportAllocs()
	for b.Loop() {
		scene.Draw(v)
	}
}

func BenchmarkDrawerPair(b *testing.B) {
	v, w := benchView(b, "gas-bench-plus", 3.78), benchView(b, "gas-bench-plus", 3.78)
	d := new(scene.Drawer)
	b.ReportAllocs()
	for b.Loop() {
		v.Snapshot.T += 1e-6
		d.DrawPair(&scene.Pair{A: v, B: w, Forks: 3.5, Differs: []string{"bleed area 0.5 mm2, not 3.3 mm2"}})
	}
}
