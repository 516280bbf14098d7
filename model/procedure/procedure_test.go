package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// TestEveryProcedureFits: each leads from sound plant to sound plant on a valve of
// the boiler's, in order of time, and says what it is done with care for.
func TestEveryProcedureFits(t *testing.T) {
	sc, err := scenarios.Load("boiler-plant-safeties")
	require.NoError(t, err)
	on := map[string]string{"piloted-valve": "valve", "spring-valve": "safety-2"}
	for _, d := range procedure.All() {
		t.Run(d.Name, func(t *testing.T) {
			assert.Contains(t, d.Valves(sc.Plant), on[d.Kind])
			settings, err := d.On(sc.Plant, on[d.Kind], 10)
			require.NoError(t, err)
			require.NotEmpty(t, settings)
			assert.GreaterOrEqual(t, len(d.Caution), 40)
			p, last := sc.Plant, 10.0
			for _, s := range settings {
				assert.GreaterOrEqual(t, s.At, last)
				last = s.At
				assert.True(t, sc.ByHand(s.Path), "%s is set by hand", s.Path)
				p, err = p.With(s.Path, s.Value)
				require.NoError(t, err)
			}
			assert.Empty(t, p.CheckRunning())
			lasts, err := d.Lasts(sc.Plant, on[d.Kind])
			require.NoError(t, err)
			assert.GreaterOrEqual(t, lasts, last-10-1e-9)
		})
	}
}

// TestProcedureSaysWhatIsMissing: the gas bench has no fuse.
func TestProcedureSaysWhatIsMissing(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	d, _, err := procedure.Parse("pull-fuse")
	require.NoError(t, err)
	_, err = d.On(sc.Plant, "", 0)
	assert.EqualError(t, err, "procedure pull-fuse: relay has no circuit.fuse.state; want a plant that has it, such as boiler-plant")
	_, err = d.On(sc.Plant, "north", 0)
	assert.ErrorContains(t, err, "want the name of a piloted valve: valve")
	_, _, err = procedure.Parse("isolat")
	assert.EqualError(t, err, "procedure isolat: there is no such procedure; want isolate")
}

// done runs the boiler plant with a firing that keeps its pressure and the
// procedures at their times.
func done(t *testing.T, until float64, set []string, at map[string]float64) *live.Run {
	t.Helper()
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	sc.Commands, sc.Until = nil, until
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err)
	for name, t0 := range at {
		d, ok := procedure.Find(name)
		require.True(t, ok)
		settings, err := d.On(sc.Plant, "", t0)
		require.NoError(t, err)
		for _, s := range settings {
			sc.Record(scenarios.Action{Command: &scenarios.Command{At: s.At, Path: s.Path, Value: s.Value}})
		}
	}
	run, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, run.Finish())
	return run
}

func count(run *live.Run, name string, from float64) (n int) {
	for _, e := range run.Sim.Events() {
		if e.Name == name && e.T >= from {
			n++
		}
	}
	return
}

// TestIsolationEmptiesTheValve: after it, body and chamber stand at the pressure
// around them, and the coil is dead; with a leaking block valve the body does
// not, which is why zero energy has to be proved.
func TestIsolationEmptiesTheValve(t *testing.T) {
	run := done(t, 150, nil, map[string]float64{"isolate": 5})
	v := &run.Now().Valves[0]
	assert.Less(t, v.Above, 1.1e5)
	assert.Less(t, v.Below, 1.1e5)
	assert.Zero(t, v.Coil.Voltage)
	assert.Equal(t, 0.0, v.Block.Opening)
	assert.InDelta(t, 38e5, run.Now().Drums[0].Pressure, 1e5, "the boiler goes on")

	leaking := done(t, 150, []string{"line.block-valve.motion.leak-area=20mm2"}, map[string]float64{"isolate": 5})
	assert.Greater(t, leaking.Now().Valves[0].Above, 2e5)
}

// TestReturnToService: cracked open, the chamber keeps up and nothing lifts but
// the stroke at the end; spun open, the disc lifts with no demand.
func TestReturnToService(t *testing.T) {
	slow := done(t, 460, nil, map[string]float64{"isolate": 5, "return-slowly": 120})
	cold := done(t, 345, []string{"line.block-valve.opening=0", "relay.circuit.fuse.state=out", "relay.selector.position=off"}, map[string]float64{"return-slowly": 5})
	for name, run := range map[string]*live.Run{"hot": slow, "cold": cold} {
		from := 0.0
		if run == slow {
			from = 120
		}
		assert.Equal(t, 1, count(run, "disc-lift", from), "%s: the stroke", name)
		v := &run.Now().Valves[0]
		assert.Greater(t, v.Below, 0.9*v.Above, name)
		assert.Equal(t, plant.HeldShut, v.Disc.Hold, name)
	}

	fast := done(t, 200, nil, map[string]float64{"isolate": 5, "return-fast": 120})
	assert.Positive(t, count(fast, "disc-lift", 120))
	assert.Zero(t, count(fast, "coil-on", 120))
}
