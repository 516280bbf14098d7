package plant

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A snapshot taken in the room of another one, of whatever moment and plant, is
// the same as one taken anew, and costs no memory.
func TestSnapshotInto(t *testing.T) {
	bench := tried()
	m, err := Build(bench)
	require.NoError(t, err)
	leaky := set("valve.pilot.leak-area", 6e-6)(bench)
	other, err := Build(leaky)
	require.NoError(t, err)

	g := launch(t, m.Net)
	into := &Snapshot{}
	lifted := 0
	for _, at := range []float64{0, 1, 2.13, 2.19, 2.205, 2.21, 2.6, 3.7, 3.78, 4, 5} {
		require.NoError(t, g.run.Finish(at))
		s := g.run.State()
		for _, of := range []*Model{m, other} {
			want := of.Snapshot(s.T, s.Y, s.Modes, s.Timers)
			of.SnapshotInto(into, s.T, s.Y, s.Modes, s.Timers)
			require.Equal(t, want, into, "%g s", at)
		}
		if into.Valves[0].Disc.Lift > 0 {
			lifted++
		}
		assert.Zero(t, testing.AllocsPerRun(10, func() { m.SnapshotInto(into, s.T, s.Y, s.Modes, s.Timers) }))
	}
	assert.Greater(t, lifted, 3)
}

func BenchmarkSnapshotInto(b *testing.B) {
	m, err := Build(tried())
	require.NoError(b, err)
	s, into := m.Net.Start(), &Snapshot{}
	b.ReportAllocs()
	for b.Loop() {
		m.SnapshotInto(into, s.T, s.Y, s.Modes, s.Timers)
	}
}
