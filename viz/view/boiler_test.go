package view_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/view"
)

// boilerRun is the boiler plant with a load that goes and a block valve that
// shuts, and a hidden fault or none.
func boilerRun(t *testing.T, hidden string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	if hidden != "" {
		e, err := fault.ParseEntry(sc.Plant, hidden)
		require.NoError(t, err)
		require.NoError(t, sc.Hide("a code", e))
	}
	sc.Commands = nil
	for _, c := range []scenarios.Command{{At: 2, Path: "load.opening", Value: plant.Value{Number: 0.6}}, {At: 4, Path: "line.block-valve.opening", Value: plant.Value{Number: 0.5}}} {
		sc.Record(scenarios.Action{Command: &c})
	}
	sc.Until = 12
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	return r
}

// What happens in the plant around the valve is marked, whether something is
// hidden or not, and belongs to no link.
func TestPlantIsMarked(t *testing.T) {
	for _, hidden := range []string{"", "seat-leaks=2mm2@1s"} {
		v, err := view.At(boilerRun(t, hidden), 11, view.Options{})
		require.NoError(t, err)
		var said []string
		for _, m := range v.Marks {
			if m.Link == 0 {
				said = append(said, m.Name)
				assert.True(t, m.Done)
			}
		}
		assert.Equal(t, []string{"load changes", "block valve moves"}, said, hidden)
	}
}

// Of a sealed boiler what is seen from outside stays: drum, operators, lamps, the
// stem of the block valve. Nothing tells how lamps are wired, what fuse and
// contact do, or what leaks.
func TestSealedBoiler(t *testing.T) {
	r := boilerRun(t, "cover-leaks@1s")
	v, err := view.At(r, 11, view.Options{})
	require.NoError(t, err)
	require.True(t, v.Sealed)
	truth, _, err := r.At(11)
	require.NoError(t, err)
	require.Positive(t, truth.Valves[0].Cover)
	assert.Equal(t, truth.Drums, v.Snapshot.Drums)
	assert.Equal(t, truth.Operators, v.Snapshot.Operators)
	require.Len(t, v.Snapshot.Lamps, len(truth.Lamps))
	for i, l := range v.Snapshot.Lamps {
		assert.Equal(t, truth.Lamps[i].Lit, l.Lit)
		assert.Empty(t, l.Shows)
	}
	st := &v.Snapshot.Valves[0]
	assert.InDelta(t, 1-7./60*2, st.Block.Opening, 2e-3)
	assert.Zero(t, st.Cover)
	assert.Zero(t, st.CoverArea)
	assert.Zero(t, st.Drain)
	assert.Equal(t, network.NoFuse, st.Control.Fuse)
	assert.Equal(t, network.Sound, st.Control.RelayContact)
	assert.Zero(t, st.Control.Earths)
}
