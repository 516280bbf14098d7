package live_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fluid"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// boilerWith is the boiler's plant with settings, and nothing done to it.
func boilerWith(t testing.TB, until float64, set ...string) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	sc.Commands, sc.Shows, sc.Until = nil, nil, until
	sc.Plant, err = scenarios.Set(sc.Plant, set...)
	require.NoError(t, err, "%v", set)
	return sc
}

// reject takes the load down at 10 s.
func reject(sc *scenarios.Scenario, to float64) *scenarios.Scenario {
	sc.Record(scenarios.Action{Command: &scenarios.Command{At: 10, Path: "load.opening", Value: plant.Value{Number: to}}})
	return sc
}

// highest is the highest pressure in the drum from a time on, and when.
func highest(t testing.TB, r *live.Run, from, to float64) (p, at float64) {
	t.Helper()
	const looks = 4000
	for k := range looks + 1 {
		x := from + (to-from)*float64(k)/looks
		s, _, err := r.At(x)
		require.NoError(t, err)
		if q := s.Drums[0].Pressure; q > p {
			p, at = q, x
		}
	}
	return
}

func happened(r *live.Run, name string) (times []float64) {
	for _, e := range r.Sim.Events() {
		if e.Name == name {
			times = append(times, e.T)
		}
	}
	return
}

// TestLoadRejection: from 8 kg/s the load falls to parts of it. The piloted
// valve passes more than the boiler makes, so it holds the pressure within the
// rise that its switch, relay and pilot let through; with the block valve shut
// the pressure goes on.
func TestLoadRejection(t *testing.T) {
	t.Parallel()
	const until = 180.0
	var table string
	for _, to := range []float64{0.6, 0.4, 0.2, 0.08, 0} {
		r := finished(t, reject(boilerWith(t, until), to))
		p, at := highest(t, r, 0, until)
		lifts := happened(r, "disc-lift")
		flow := 0.0
		for k := range 2000 {
			s, _, err := r.At(until * float64(k) / 2000)
			require.NoError(t, err)
			flow = math.Max(flow, s.Valves[0].Seat)
		}
		table += fmt.Sprintf("\n  load %.2f of its area: lifts %d, highest %.3f bar at %.1f s, valve passes %.2f kg/s", to, len(lifts), p/1e5, at, flow)
		switch {
		case to >= 0.6:
			assert.Empty(t, lifts, "the fire's controller copes alone")
		case to <= 0.2:
			assert.NotEmpty(t, lifts)
			assert.Less(t, p, 41.3e5, "held within 0.3 bar of the set pressure")
			assert.Greater(t, flow, 7.5, "kg/s: as good as all that the load took")
		}
	}
	r := finished(t, reject(boilerWith(t, until, "line.block-valve.opening=0"), 0.08))
	p, at := highest(t, r, 0, until)
	assert.Greater(t, p, 42.5e5, "with the valve isolated, nothing holds it")
	t.Logf("%s\n  isolated: highest %.3f bar at %.1f s", table, p/1e5, at)
}

// TestSensedAway: what the line between drum and valve costs. A lift shows at
// the drum's end of it one travel of sound later; sensed at the valve's end, the
// line's loss of pressure lets the switch reset while the drum is still high, so
// that the valve lifts again and again: more, the longer the line.
func TestSensedAway(t *testing.T) {
	t.Parallel()
	var table string
	last := 0
	for _, length := range []float64{2, 6, 12, 24, 48} {
		set := fmt.Sprintf("line.run.length=%g m", length)
		r := finished(t, reject(boilerWith(t, 60, set), 0.08))
		lift := happened(r, "disc-lift")[0]
		s, m, err := r.At(lift)
		require.NoError(t, err)
		var st fluid.State
		n := s.Look.Nodes[2]
		m.At(n.V/n.Mass, n.U/n.Mass, &st)
		sound := length / (st.V * math.Sqrt(st.P*st.Pu-st.Pv))
		// When half of the flow that settles enters the line.
		settled, _, err := r.At(lift + 1)
		require.NoError(t, err)
		enters := func(x float64) float64 {
			s, _, err := r.At(x)
			require.NoError(t, err)
			return s.Look.Channels[0].W
		}
		arrives := lift
		for enters(arrives) < 0.5*settled.Look.Channels[0].W {
			arrives += 2e-4
		}
		v := settled.Valves[0]
		away := finished(t, reject(boilerWith(t, 60, set, "sensor.on=line"), 0.08))
		lifts := len(happened(away, "disc-lift"))
		table += fmt.Sprintf("\n  %4.0f m: sound takes %5.1f ms, the flow at the drum's end follows the lift by %5.1f ms; loss of pressure %.2f bar; lifts in 50 s sensed at the drum %d, at the valve %d",
			length, 1e3*sound, 1e3*(arrives-lift), (v.Vessel-v.Above)/1e5, len(happened(r, "disc-lift")), lifts)
		assert.Greater(t, arrives-lift, sound, "nothing arrives faster than sound")
		assert.GreaterOrEqual(t, lifts, last)
		last = lifts
	}
	t.Log(table)
}

// TestTailpipeAfterReseat: after a clean reseat the pipe cools, from a peak that
// comes soon; with a leak it stays hot; where water lies in a pipe whose drain is
// plugged, its lowest point stays cold although the seat leaks.
func TestTailpipeAfterReseat(t *testing.T) {
	t.Parallel()
	stroked := func(set ...string) (*live.Run, float64) {
		sc := boilerWith(t, 1800, set...)
		for at, to := range map[float64]string{10: "open", 12.5: "auto"} {
			sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: "relay.selector.position", Value: plant.Value{Word: to}}})
		}
		r := finished(t, sc)
		seated := happened(r, "disc-seated")
		require.Len(t, seated, 1)
		return r, seated[0]
	}
	wall := func(r *live.Run, at float64) *plant.ValveState {
		s, _, err := r.At(at)
		require.NoError(t, err)
		return &s.Valves[0]
	}
	clean, seated := stroked()
	peak, when := 0.0, 0.0
	for k := range 20001 {
		x := seated - 1 + 101*float64(k)/20000
		if w := wall(clean, x).OutletWall.T; w > peak {
			peak, when = w, x
		}
	}
	end := wall(clean, 1800).OutletWall.T
	assert.Less(t, when-seated, 5.0, "s from reseat to the wall's peak")
	assert.Less(t, wall(clean, seated+60).OutletWall.T, peak)
	assert.Less(t, end, peak-20)
	leaking, _ := stroked("valve.seat.leak-area=2 mm2")
	hot := wall(leaking, 1800).OutletWall.T
	assert.Greater(t, hot, end+20)
	assert.InDelta(t, 373, wall(leaking, 1800).LowPoint.T, 2, "it drains, and is as hot as the pipe")
	plugged, _ := stroked("valve.seat.leak-area=2 mm2", "tailpipe.drain.area=0 mm2", "tailpipe.low-point.water=3 L")
	cold := wall(plugged, 1800).LowPoint.T
	assert.Less(t, cold, 313.0, "oddly cold")
	t.Logf("peak %.1f degC, %.2f s after the reseat; after 60 s %.1f, after half an hour %.1f; with a leak of 2 mm2 %.1f; lowest point with 3 L of water lying %.1f",
		peak-273.15, when-seated, wall(clean, seated+60).OutletWall.T-273.15, end-273.15, hot-273.15, cold-273.15)
}

// TestCleanValveCools: after one clean lift the walls of dump line and tailpipe
// cool for good, towards what surrounds them, and no water gathers in the dump
// line, which has no drain.
func TestCleanValveCools(t *testing.T) {
	t.Parallel()
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	sc.Until = 5000
	r := finished(t, sc)
	dump, tail := math.Inf(1), math.Inf(1)
	for at := 200.0; at <= 5000; at += 100 {
		s, _, err := r.At(at)
		require.NoError(t, err)
		v := &s.Valves[0]
		assert.Less(t, v.DumpWall.T, dump+0.01, "dump line at %g s", at)
		assert.Less(t, v.OutletWall.T, tail+0.01, "tailpipe at %g s", at)
		assert.Less(t, v.DumpFluid.Water, 1e-6, "water in the dump line at %g s", at)
		dump, tail = v.DumpWall.T, v.OutletWall.T
	}
	assert.InDelta(t, 293.15, dump, 2)
	assert.Less(t, r.Now().Valves[0].AboveFluid.Water, 20e-6, "what condenses in the body runs back to the drum")
}

// TestFireInHand: taken in hand the fire stays as it is, and goes back to its
// controller without a jump; a new power in hand is what is asked for.
func TestFireInHand(t *testing.T) {
	t.Parallel()
	sc := reject(boilerWith(t, 200), 0.3)
	set := func(at float64, path string, v plant.Value) {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: path, Value: v}})
	}
	set(60, "firing.control.mode", plant.Value{Word: "hand"})
	set(100, "firing.power", plant.Value{Number: 10e6})
	set(150, "firing.control.mode", plant.Value{Word: "automatic"})
	r := finished(t, sc)
	asked := func(at float64) float64 {
		s, _, err := r.At(at)
		require.NoError(t, err)
		return s.Drums[0].Asked
	}
	assert.InEpsilon(t, asked(60-1e-6), asked(60+1e-6), 1e-3)
	assert.InEpsilon(t, asked(60+1e-6), asked(99), 1e-9)
	assert.InEpsilon(t, 10e6, asked(101), 1e-9)
	assert.InEpsilon(t, 10e6, asked(150+1e-6), 1e-3)
}

// TestCoilEventsOfHands: a fuse that is pulled from a live coil takes its supply,
// and goes on record as such.
func TestCoilEventsOfHands(t *testing.T) {
	t.Parallel()
	sc := boilerWith(t, 20)
	for at, c := range map[float64][2]string{5: {"relay.selector.position", "open"}, 8: {"relay.circuit.fuse.state", "out"}, 12: {"relay.circuit.fuse.state", "in"}} {
		sc.Record(scenarios.Action{Command: &scenarios.Command{At: at, Path: c[0], Value: plant.Value{Word: c[1]}}})
	}
	r := finished(t, sc)
	assert.Equal(t, []float64{8}, happened(r, "coil-off"))
	on := happened(r, "coil-on")
	require.Len(t, on, 2)
	assert.Equal(t, 12.0, on[1])
}
