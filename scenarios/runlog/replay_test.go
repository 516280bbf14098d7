package runlog_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/scenarios/runlog"
)

func number(v float64) *float64 { return &v }

func set(path string, v float64) scenarios.Action {
	return scenarios.Action{Command: &scenarios.Command{Path: path, Value: plant.Value{Number: v}}}
}

func turn(position string) scenarios.Action {
	return scenarios.Action{Command: &scenarios.Command{Path: "relay.selector.position", Value: plant.Value{Word: position}}}
}

func goesWrong(e fault.Entry) scenarios.Action { return scenarios.Action{Fault: &e} }

// at is the action at a time.
func at(t float64, a scenarios.Action) scenarios.Action {
	if a.Command != nil {
		c := *a.Command
		c.At = t
		a.Command = &c
	} else {
		f := *a.Fault
		f.At = t
		a.Fault = &f
	}
	return a
}

// things are what may be done to gas-bench-plus, each once.
func things(r *rand.Rand) []scenarios.Action {
	secret := goesWrong(fault.Entry{Name: "seat-leaks", Severity: number(1e-6 * (1 + r.Float64()))})
	secret.Hidden, secret.Code = true, "a word"
	nameless := goesWrong(fault.Entry{Name: "sensing-slow"})
	nameless.Hidden = true
	out := []scenarios.Action{
		set("inflow.mass-flow", 2*r.Float64()), set("inflow.mass-flow", 1.0/3), set("inflow.mass-flow", 0),
		set("line.block-valve.opening", 0.2+0.8*r.Float64()), set("line.block-valve.opening", 1),
		turn("off"), turn("open"), turn("auto"), turn("auto"),
		goesWrong(fault.Entry{Name: "pilot-leaks", Severity: number(3e-6 * r.Float64())}),
		goesWrong(fault.Entry{Name: "spring-weak", Part: "valve"}),
		set("valve.chamber.volume", 0.3e-3*(1+r.Float64())),
		secret, nameless,
	}
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// doAll runs a scenario live to the end, with things done at odd moments, some
// at one moment, and writes the log.
func doAll(t *testing.T, sc *scenarios.Scenario, w *runlog.Writer, r *rand.Rand, until float64) *live.Run {
	run, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	now := 0.0
	for _, a := range things(r) {
		_, err := run.Sim.Advance(now, 0)
		require.NoError(t, err)
		done, err := run.Do(at(now, a))
		require.NoError(t, err)
		require.NoError(t, w.Did(done))
		if r.IntN(3) > 0 { // else something else happens at that very moment
			now += until / 12 * r.Float64()
		}
	}
	for now < until {
		now = math.Min(now+r.Float64(), until)
		_, err := run.Sim.Advance(now, 0)
		require.NoError(t, err)
		require.NoError(t, w.Reached(now))
	}
	require.NoError(t, run.Sim.Finish(until))
	return run
}

// sameRun asserts that two runs are the same, bit for bit.
func sameRun(t *testing.T, want, got *live.Run) {
	t.Helper()
	assert.Equal(t, want.Sim.State(), got.Sim.State())
	require.Len(t, got.Sim.Events(), len(want.Sim.Events()))
	for i, e := range want.Sim.Events() {
		g := got.Sim.Events()[i]
		require.Equal(t, math.Float64bits(e.T), math.Float64bits(g.T), "event %d", i)
		require.Equal(t, e, g)
	}
	end := want.Sim.State().T
	for k := range 400 {
		at := end * float64(k) / 400
		a, _, err := want.At(at)
		require.NoError(t, err)
		b, _, err := got.At(at)
		require.NoError(t, err)
		require.Equal(t, a, b, "snapshot at %g s", at)
	}
}

// A live run, its log, and the run that the log gives are the same, bit for bit.
func TestReplay(t *testing.T) {
	for seed := range uint64(6) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 1))
			sc, err := scenarios.Load("gas-bench-plus")
			require.NoError(t, err)
			sc.Faults = []fault.Entry{{Name: "dump-restricted", At: 2.5}}
			path := filepath.Join(t.TempDir(), "run.log.yaml")
			w, err := runlog.Create(path, sc)
			require.NoError(t, err)
			was := doAll(t, sc, w, r, 20+r.Float64())
			require.NoError(t, w.Close())

			read, err := runlog.Open(path)
			require.NoError(t, err)
			assert.Equal(t, was.Sim.State().T, read.Until)
			assert.Len(t, read.Log.Did, 14)
			assert.Equal(t, sc.Until, read.Log.Planned)
			assert.True(t, read.Sealed())
			again, err := live.Start(read, live.Options{RelTol: 1e-6})
			require.NoError(t, err)
			require.NoError(t, again.Finish())
			sameRun(t, was, again)
			assert.True(t, read.Hidden.Reveal("A  word"))

			// The log of the log holds the same run, too.
			var b bytes.Buffer
			_, err = runlog.New(&b, was.Scenario)
			require.NoError(t, err)
			third, err := runlog.Parse(b.Bytes(), "third")
			require.NoError(t, err)
			third.Until = read.Until
			last, err := live.Start(third, live.Options{RelTol: 1e-6})
			require.NoError(t, err)
			require.NoError(t, last.Finish())
			sameRun(t, was, last)
			assert.True(t, third.Hidden.Reveal("a word"))
		})
	}
}

func TestTolerance(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = runlog.New(&b, sc, runlog.Tolerance(2.5e-9))
	require.NoError(t, err)
	read, err := runlog.Parse(b.Bytes(), "log")
	require.NoError(t, err)
	assert.Equal(t, 2.5e-9, read.Log.RelTol)
}

func TestCreate(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	dir := t.TempDir()
	path := filepath.Join(dir, "run.log.yaml")
	w, err := runlog.Create(path, sc)
	require.NoError(t, err)
	read, err := runlog.Open(path)
	require.NoError(t, err, "before anything is done")
	assert.Equal(t, sc.Plant, read.Plant)
	require.NoError(t, w.Did(at(2, set("inflow.mass-flow", 1.5))))
	require.NoError(t, w.Reached(1), "less than is known")
	read, err = runlog.Open(path)
	require.NoError(t, err, "while it is written")
	assert.Equal(t, 2.0, read.Until)
	require.NoError(t, w.Close())
	assert.Error(t, w.Did(at(3, set("inflow.mass-flow", 1))), "closed")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing else is left")

	_, err = runlog.Create(path, sc)
	assert.ErrorIs(t, err, os.ErrExist)
	_, err = runlog.Create(filepath.Join(dir, "none", "run.log.yaml"), sc)
	assert.Error(t, err)
	_, err = runlog.Parse([]byte("name: a\ntitle: b\n"+sc.Text()[len("name: gas-bench\n"):]), "x")
	assert.Error(t, err)
	_, err = runlog.Parse([]byte(sc.Text()), "x.yaml")
	assert.ErrorContains(t, err, "x.yaml: log: found a scenario that is no log")
}

// stubborn takes some bytes, then fails for a while.
type stubborn struct {
	took bytes.Buffer
	left int
}

func (s *stubborn) Write(p []byte) (int, error) {
	n := min(len(p), s.left)
	s.left -= n
	s.took.Write(p[:n])
	if n < len(p) {
		return n, os.ErrDeadlineExceeded
	}
	return n, nil
}

// What could not be written is not acknowledged, and spoils nothing.
func TestOutputFails(t *testing.T) {
	sc, err := scenarios.Load("gas-bench")
	require.NoError(t, err)
	out := &stubborn{left: len(sc.LogHead(0)) + 70}
	w, err := runlog.New(out, sc)
	require.NoError(t, err)
	var failed []bool
	for i := range 3 {
		failed = append(failed, w.Did(at(float64(i+1), set("inflow.mass-flow", 1.5))) != nil)
		if i == 1 {
			out.left = 1000 // there is room again, but half a line stands there
		}
	}
	assert.Equal(t, []bool{false, true, true}, failed)
	read, err := runlog.Parse(out.took.Bytes(), "log")
	require.NoError(t, err)
	assert.Len(t, read.Commands, 1)

	w, err = runlog.New(&bytes.Buffer{}, sc)
	require.NoError(t, err)
	assert.Error(t, w.Did(at(1, set("vessel.pressure", 1e5))), "it could not be read back")
	assert.NoError(t, w.Did(at(1, set("inflow.mass-flow", 1))), "and then the log goes on")
}
