package sound_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/sound"
)

// A pop and a reseat as they are heard at sixty pictures a second: silence, the
// hiss of the pilot, the roar, the hiss of the bleed as the chamber fills,
// silence.
func TestPopAndReseat(t *testing.T) {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Sim.Finish(6))
	v := sound.NewVoice()
	var order []string
	loud := map[string]float64{}
	for f := range 6 * 60 {
		s, _, err := r.At(float64(f) / 60)
		require.NoError(t, err)
		st := &s.Valves[0]
		phase := "rests"
		switch {
		case st.Disc.Hold == plant.HeldOpen:
			phase = "blows"
		case st.Disc.Hold != plant.HeldShut:
			phase = "moves"
		case st.PilotFlow > 0.01:
			phase = "empties"
		case st.Bleed > 1e-3:
			phase = "fills"
		}
		if len(order) == 0 || order[len(order)-1] != phase {
			order = append(order, phase)
		}
		v.Set(st, false)
		left, _ := hear(t, v, 1./60)
		require.LessOrEqual(t, peak(left), 1.0)
		loud[phase] = math.Max(loud[phase], rms(left))
		if s.T > 1 && s.T < 2 || s.T > 5 {
			assert.Zero(t, peak(left), "at rest at %.3f s", s.T)
		}
	}
	for _, phase := range []string{"rests", "empties", "blows", "fills"} {
		assert.Contains(t, order, phase)
	}
	assert.Greater(t, loud["empties"], 0.02)
	assert.Greater(t, loud["blows"], 2*loud["empties"])
	assert.Greater(t, loud["fills"], 0.01)
}
