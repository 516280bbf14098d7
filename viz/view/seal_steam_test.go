package view_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

func sealedSteam(t *testing.T, entry string, until float64) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	e, err := fault.ParseEntry(sc.Plant, entry)
	require.NoError(t, err)
	require.NoError(t, sc.Hide("a code", e))
	sc.Until = until
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// Of a steam plant with a hidden fault the walls of dump line and tailpipe are
// shown, for a hand feels them; what is inside, and the metal of body and chamber,
// are not.
func TestSealedSteam(t *testing.T) {
	for _, f := range []string{"seat-leaks=2mm2", "pilot-leaks=2mm2", "bleed-plugged=0.2mm2@1s", "spring-weak"} {
		t.Run(f, func(t *testing.T) {
			r := sealedSteam(t, f, 9)
			l := view.NewLens(r, 0)
			for _, at := range []float64{0, 2, 3.9, 4.112, 5, 7.3, 9} {
				v, err := l.At(at, view.Options{})
				require.NoError(t, err)
				require.True(t, v.Sealed)
				assert.NotRegexp(t, insideWords, v.Sentence)
				assert.NotContains(t, v.Sentence, "gas")
				st := v.Snapshot.Valves[0]
				truth, _, err := r.At(at)
				require.NoError(t, err)
				in := truth.Valves[0]
				assert.Equal(t, plant.WallState{Fitted: true, T: in.DumpWall.T}, st.DumpWall)
				assert.Equal(t, plant.WallState{Fitted: true, T: in.OutletWall.T}, st.OutletWall)
				for _, c := range []plant.Contents{st.AboveFluid, st.BelowFluid, st.OutletFluid, st.DumpFluid} {
					assert.Equal(t, plant.Contents{}, c)
				}
				assert.Equal(t, plant.WallState{}, st.BodyWall)
				assert.Equal(t, plant.WallState{}, st.ChamberWall)
				_, known := v.DrumWater()
				assert.False(t, known)
				n := len(v.Trace.T)
				assert.InDelta(t, in.OutletWall.T, v.Trace.TailWall[n-1], 1e-6)
				assert.InDelta(t, in.DumpWall.T, v.Trace.DumpWall[n-1], 1e-6)

				cards := map[string]string{}
				for _, f := range scene.Draw(v).Focus {
					cards[f.Name] = f.Says
				}
				assert.Contains(t, cards["reading, Tailpipe wall"], v.Units.Temperature(in.OutletWall.T))
				assert.Contains(t, cards["reading, Dump line wall"], v.Units.Temperature(in.DumpWall.T))
			}
		})
	}
	// A gas plant's picture stays as it was: its wall is told in the report.
	v, err := view.NewLens(sealedRun(t, "spring-weak"), 0).At(3, view.Options{})
	require.NoError(t, err)
	assert.False(t, v.Snapshot.Valves[0].DumpWall.Fitted)
}

func TestSealedSteamSentence(t *testing.T) {
	v, err := view.At(sealedSteam(t, "seat-leaks=2mm2", 3), 2, view.Options{})
	require.NoError(t, err)
	assert.Contains(t, v.Sentence, "a little steam leaves through the tailpipe")
}

// While a steam valve rests, the charts reach back to when its disc seated, for
// its walls cool over minutes; otherwise they show what they do of a gas.
func TestWindowAtRest(t *testing.T) {
	sc, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	sc.Until = 14
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	seated := 0.0
	for _, e := range r.Sim.Events() {
		if e.Name == "disc-seated" {
			seated = e.T
			break
		}
	}
	require.Greater(t, seated, 5.0)
	v, err := view.At(r, 14, view.Options{})
	require.NoError(t, err)
	require.True(t, v.AtRest())
	assert.Less(t, v.Trace.From, seated)
	assert.Equal(t, seated, v.Trace.Zero)
	assert.Equal(t, "the disc seated", v.Trace.ZeroName)
	for i, x := range v.Trace.TailWall {
		assert.False(t, math.IsNaN(x), "%g s", v.Trace.T[i])
	}
	v, err = view.At(r, 5, view.Options{})
	require.NoError(t, err)
	assert.False(t, v.AtRest())
	assert.Less(t, v.Trace.To-v.Trace.From, 3.0)
}
