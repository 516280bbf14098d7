package view_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// begin starts a scenario that is driven as it is looked at.
func begin(t testing.TB, scenario string) *live.Run {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	return r
}

func advance(t testing.TB, r *live.Run, to float64) {
	t.Helper()
	_, err := r.Sim.Advance(to, 0)
	require.NoError(t, err)
}

// same holds two views of one moment against each other, to the last bit.
func same(t *testing.T, want, got *scene.View) {
	t.Helper()
	require.Equal(t, want.Snapshot, got.Snapshot)
	require.Equal(t, want.Facts, got.Facts)
	require.Equal(t, want.State, got.State)
	require.Equal(t, want.Sentence, got.Sentence)
	require.Equal(t, want.Pins, got.Pins)
	require.Equal(t, len(want.Marks), len(got.Marks))
	for i := range want.Marks {
		require.Equal(t, want.Marks[i], got.Marks[i])
	}
	require.Equal(t, want.Range, got.Range)
	a, b := &want.Trace, &got.Trace
	require.Equal(t, []float64{a.From, a.To, a.Zero}, []float64{b.From, b.To, b.Zero})
	require.Equal(t, a.ZeroName, b.ZeroName)
	require.Equal(t, a.T, b.T)
	for i, y := range columns(a) {
		for k, v := range columns(b)[i] {
			if math.Float64bits(y[k]) != math.Float64bits(v) {
				require.Failf(t, "not the same", "curve %d at %g s: %g, not %g", i, a.T[k], v, y[k])
			}
		}
	}
}

func columns(tr *scene.Trace) [][]float64 {
	return [][]float64{tr.Above, tr.Below, tr.Outlet, tr.Vessel, tr.LiftBelow, tr.DropAbove, tr.Lift, tr.Pilot, tr.Current,
		tr.Huddle, tr.Under, tr.Flow, tr.Wear, tr.Up, tr.Down}
}

// truthful holds the samples of a trace against the history.
func truthful(t *testing.T, r *live.Run, tr *scene.Trace, now float64) {
	t.Helper()
	for i, at := range tr.T {
		require.LessOrEqual(t, at, now, "what lies ahead is not shown")
		s, _, err := r.At(at)
		require.NoError(t, err)
		if len(s.Valves) == 0 {
			v := &s.Springs[0]
			require.Equal(t, []float64{v.Inlet, v.Huddle, v.Under, v.Outlet, v.Vessel, v.Lift, v.W, v.Wear, v.Spring + v.Weight},
				[]float64{tr.Above[i], tr.Huddle[i], tr.Under[i], tr.Outlet[i], tr.Vessel[i], tr.Lift[i], tr.Flow[i], tr.Wear[i], tr.Down[i]}, "%g s", at)
			continue
		}
		v := &s.Valves[0]
		require.Equal(t, []float64{v.Above, v.Below, v.Outlet, v.Vessel, v.Disc.Lift, v.Pilot.Lift, v.Coil.Current},
			[]float64{tr.Above[i], tr.Below[i], tr.Outlet[i], tr.Vessel[i], tr.Lift[i], tr.Pilot[i], tr.Current[i]}, "%g s", at)
	}
}

// Whatever way it has come to a moment, a lens shows what one shows that has
// just been made: while the run goes on under it, at several rates, back, and by
// jumps.
func TestLensIsTheSameWhateverItsWay(t *testing.T) {
	names := scenarios.Sample()
	if testing.Short() {
		names = []string{"gas-bench-plus", "steam-bench", "plant-bleed-plugged"}
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := begin(t, name)
			l := view.NewLens(r, 0)
			look := func(at float64, head bool) {
				t.Helper()
				var o view.Options
				if !head { // a new one does not know how high it has been
					o.Range = &scene.Range{High: 1e6}
				}
				got, err := l.At(at, o)
				require.NoError(t, err)
				want, err := view.NewLens(r, 0).At(at, o)
				require.NoError(t, err)
				same(t, want, got)
			}
			at := 0.0
			for i, pace := range []float64{1. / 30, 1. / 300, 1. / 10, 1. / 30} {
				for range 30 {
					advance(t, r, at)
					look(at, true)
					at += pace * (1 + 0.1*math.Sin(float64(i)))
				}
			}
			end := at - 0.1
			for range 30 { // back
				end = math.Max(end-0.043, 0)
				look(end, false)
			}
			for i := range 30 { // anywhere
				look(math.Mod(float64(i)*0.61803399, 1)*(at-0.11), false)
			}
			v, err := l.At(at-0.11, view.Options{})
			require.NoError(t, err)
			truthful(t, r, &v.Trace, at-0.11)
			for _, m := range slices.Concat(v.Marks, v.Pins) {
				assert.LessOrEqual(t, m.T, at-0.11)
			}
		})
	}
}

// At is what a lens shows, with the whole run known to it.
func TestAtIsWhatALensShows(t *testing.T) {
	r := run(t, "gas-bench-plus", 4)
	l := view.NewLens(r, 0)
	_, err := l.At(4, view.Options{})
	require.NoError(t, err)
	for _, at := range []float64{0, 2.19, 2.206, 3.7, 3.78, 1, 4} {
		for _, ahead := range []bool{false, true} {
			want, err := view.At(r, at, view.Options{Ahead: ahead})
			require.NoError(t, err)
			got, err := l.At(at, view.Options{Ahead: ahead})
			require.NoError(t, err)
			same(t, want, got)
		}
	}
}

// The time ahead is shown as far as it has been shown before, though the engine
// knows more.
func TestLensLooksNoFurtherThanItHas(t *testing.T) {
	r := run(t, "gas-bench", 5)
	l := view.NewLens(r, 0)
	for _, c := range []struct{ at, until float64 }{{2.1, 2.1}, {2.2, 2.2}, {2.15, 2.2}, {2.13, 2.15}, {2.19, 2.2}} {
		v, err := l.At(c.at, view.Options{Ahead: true})
		require.NoError(t, err)
		last := v.Trace.T[len(v.Trace.T)-1]
		assert.LessOrEqual(t, last, c.until)
		assert.InDelta(t, math.Min(c.until, v.Trace.To), last, 1e-12, "%g s", c.at)
		assert.Contains(t, v.Trace.T, c.at)
		for _, m := range v.Marks {
			assert.LessOrEqual(t, m.T, c.until)
			assert.Equal(t, m.T <= c.at, m.Done)
		}
	}
}

// What is done at the moment shown takes the engine's last step back, which the
// lens had sampled.
func TestLensFollowsWhatIsDone(t *testing.T) {
	r := begin(t, "gas-bench-plus")
	l := view.NewLens(r, 0)
	at := 0.0
	for i := range 120 {
		at += 1. / 28
		advance(t, r, at)
		if i%20 == 13 {
			before, err := l.At(at, view.Options{})
			require.NoError(t, err)
			require.Greater(t, r.Sim.State().T, at, "the engine is ahead")
			require.NotEmpty(t, before.Trace.T)
			_, err = r.Do(scenarios.Action{Command: &scenarios.Command{At: at, Path: "inflow.mass-flow", Value: plant.Value{Number: 0.1 * float64(i)}}})
			require.NoError(t, err)
			advance(t, r, at+1e-3)
		}
		got, err := l.At(at, view.Options{})
		require.NoError(t, err)
		want, err := view.NewLens(r, 0).At(at, view.Options{})
		require.NoError(t, err)
		same(t, want, got)
		truthful(t, r, &got.Trace, at)
	}
	assert.Greater(t, len(r.Sim.Systems()), 6)
}

// No spike is lost between two samples, however long the window: the highest
// and lowest values of each curve are those of a scan a hundred times as fine.
func TestTraceMissesNoSpike(t *testing.T) {
	r := run(t, "fault-deadband-narrow", 0)
	end := r.Sim.State().T
	v, err := view.At(r, end, view.Options{})
	require.NoError(t, err)
	tr := &v.Trace
	require.Greater(t, end-tr.From, 1.0)
	got := extremes(tr)
	var fine scene.Trace
	const n = 100_000
	for k := range n {
		at := tr.From + (end-tr.From)*float64(k)/n
		s, _, err := r.At(at)
		require.NoError(t, err)
		x := &s.Valves[0]
		fine.Above, fine.Below, fine.Outlet = append(fine.Above, x.Above), append(fine.Below, x.Below), append(fine.Outlet, x.Outlet)
		fine.Vessel, fine.Lift = append(fine.Vessel, x.Vessel), append(fine.Lift, x.Disc.Lift)
		fine.Pilot, fine.Current = append(fine.Pilot, x.Pilot.Lift), append(fine.Current, x.Coil.Current)
	}
	want := extremes(&fine)
	for i := range want {
		tall := want[i][1] - want[i][0]
		assert.InDelta(t, want[i][0], got[i][0], 2e-3*tall, "curve %d: lowest", i)
		assert.InDelta(t, want[i][1], got[i][1], 2e-3*tall, "curve %d: highest", i)
	}
	assert.Less(t, len(tr.T), 6000)
}

func extremes(tr *scene.Trace) (out [][2]float64) {
	for _, y := range [][]float64{tr.Above, tr.Below, tr.Outlet, tr.Vessel, tr.Lift, tr.Pilot, tr.Current} {
		out = append(out, [2]float64{slices.Min(y), slices.Max(y)})
	}
	return out
}

// In steady use the trace costs no memory, and the rest little.
func TestSteadyLensAllocatesLittle(t *testing.T) {
	r := run(t, "gas-bench", 3)
	l := view.NewLens(r, 0)
	at := 1.5
	frame := func() {
		at += 1e-3
		_, err := l.At(at, view.Options{})
		require.NoError(t, err)
	}
	for range 500 {
		frame()
	}
	at = 2.3
	for range 200 {
		frame()
	}
	assert.LessOrEqual(t, testing.AllocsPerRun(200, frame), 25.0)
}

// A lens over a run that moves at its own pace, at 30 pictures a second; the
// run's own steps are not counted.
func BenchmarkLens(b *testing.B) {
	for _, c := range []struct {
		name        string
		from, frame float64
	}{{"shut", 1.0, 1. / 30}, {"popping, slowed", 2.18, 1e-4}, {"open", 2.4, 1. / 30}, {"refilling, slowed", 3.6, 1e-3}} {
		b.Run(c.name, func(b *testing.B) {
			r := begin(b, "gas-bench-plus")
			require.NoError(b, r.Finish())
			l := view.NewLens(r, 0)
			at := c.from
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				if i%30 == 0 { // nothing of what is to come has been seen
					b.StopTimer()
					l, at = view.NewLens(r, 0), c.from
					_, err := l.At(at, view.Options{})
					require.NoError(b, err)
					b.StartTimer()
				}
				at += c.frame
				if _, err := l.At(at, view.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("jumping", func(b *testing.B) {
		r := begin(b, "gas-bench-plus")
		require.NoError(b, r.Finish())
		l := view.NewLens(r, 0)
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			if _, err := l.At(math.Mod(float64(i)*7.77, 50), view.Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
