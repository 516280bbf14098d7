package desk

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/scenarios/runlog"
	"underdisc/viz/session"
)

// choose opens the page of procedures and chooses one.
func choose(t *testing.T, d *Desk, name string) {
	t.Helper()
	if d.Panel() == nil {
		press(d, "a")
	}
	page := item(t, d, "page")
	page.Pick(index(page.Options, "procedures"))
	list := item(t, d, "procedure")
	list.Pick(index(list.Options, name))
}

// reach brings the run to a moment, as a clock would, or goes back to it.
func reach(t *testing.T, d *Desk, at float64) {
	t.Helper()
	const rate = 20
	if at < d.Session.T() {
		require.NoError(t, d.Session.Seek(at))
		return
	}
	d.Session.SlowByItself(false)
	d.Session.SetRate(rate)
	d.Session.Go()
	for d.Session.T() < at-1e-6 {
		left := time.Duration((at - d.Session.T()) / rate * float64(time.Second))
		require.NoError(t, d.Session.Tick(min(max(left, time.Nanosecond), time.Second/60)))
	}
	d.Session.Hold()
}

func opening(t *testing.T, l *session.Lane, at float64) float64 {
	t.Helper()
	s, _, err := l.Run.At(at)
	require.NoError(t, err)
	return s.Valves[0].Block.Opening
}

// The page shows what is done and with what care before it can be done; doing it
// decides all of its settings at once.
func TestProcedureIsBegun(t *testing.T) {
	d, r := newDesk(t, "boiler-plant")
	reach(t, d, 2)
	press(d, "a")
	assert.Equal(t, []string{"boiler", "valve", "procedures"}, item(t, d, "page").Options)
	page := item(t, d, "page")
	page.Pick(2)
	assert.Len(t, item(t, d, "procedure").Options, 7)
	for _, it := range d.Items() {
		assert.NotEqual(t, "do it", it.Name, "not before one is chosen")
	}
	choose(t, d, "isolate")
	cautions := ""
	for _, it := range d.Items() {
		if it.Kind == Caution {
			cautions += it.Text
		}
	}
	assert.Contains(t, cautions, "One shut block valve is no proof")
	assert.Contains(t, cautions, "prove zero energy")
	assert.Equal(t, "takes 49.0 s", item(t, d, "do it").Beside)
	item(t, d, "do it").Do()
	assert.Nil(t, d.Panel())
	assert.Contains(t, r.last(), "Isolate, until 51.0 s")
	did := d.Session.Lanes()[0].Did
	require.Len(t, did, 5)
	for i, at := range []float64{2, 34, 44, 46, 51} {
		assert.InDelta(t, at, did[i].At(), 1e-3)
	}
	reach(t, d, 20)
	assert.InDelta(t, 0.4, opening(t, d.Session.Lanes()[0], 20), 1e-3)
}

// Another one is refused while one is under way, and may begin once it is over.
func TestSecondProcedureWaits(t *testing.T) {
	d, _ := newDesk(t, "boiler-plant")
	choose(t, d, "isolate")
	item(t, d, "do it").Do()
	reach(t, d, 10)
	choose(t, d, "stroke")
	said := ""
	for _, it := range d.Items() {
		said += it.Text
	}
	assert.Contains(t, said, "Isolate is under way; its last setting is made at 49.0 s.")
	item(t, d, "do it").Do()
	assert.Equal(t, "Found isolate under way until 49.0 s, want it over before another procedure begins.", item(t, d, "do it").Wrong)
	assert.Len(t, d.Session.Lanes()[0].Did, 5)

	reach(t, d, 50)
	item(t, d, "do it").Do()
	assert.Nil(t, d.Panel())
	assert.Len(t, d.Session.Lanes()[0].Did, 7)
}

// Back in time before it was begun, a second run has nothing of it; in the midst
// of it, the second run goes on with it.
func TestProcedureAndForks(t *testing.T) {
	d, _ := newDesk(t, "boiler-plant")
	reach(t, d, 2)
	choose(t, d, "isolate")
	item(t, d, "do it").Do()
	reach(t, d, 60)

	set := func() {
		press(d, "a")
		item(t, d, "page").Pick(0)
		item(t, d, "load.opening").Pick(4)
		d.Close()
	}
	require.NoError(t, d.Session.Seek(1)) // back
	set()
	require.True(t, d.Two())
	reach(t, d, 60)
	assert.Len(t, d.Session.Lanes()[1].Did, 1)
	assert.Equal(t, 1.0, opening(t, d.Session.Lanes()[1], 55))
	assert.Zero(t, opening(t, d.Session.Lanes()[0], 55), "what has been seen stays")

	reach(t, d, 15)
	set()
	reach(t, d, 60)
	b := d.Session.Lanes()[1]
	assert.Len(t, b.Did, 6)
	assert.Zero(t, opening(t, b, 55))
	s, _, err := b.Run.At(58)
	require.NoError(t, err)
	assert.Less(t, s.Valves[0].Above, 10e5, "it has been drained")
	assert.Equal(t, 1.0, s.Drums[0].Opening)
}

// The log of a run with a procedure replays bit for bit, though something else
// was done while it went on.
func TestProcedureOnRecord(t *testing.T) {
	d, _ := newDesk(t, "boiler-plant")
	reach(t, d, 3)
	choose(t, d, "isolate")
	item(t, d, "do it").Do()
	reach(t, d, 20)
	press(d, "a")
	item(t, d, "page").Pick(0)
	item(t, d, "load.opening").Pick(1)
	reach(t, d, 58)
	l := d.Session.Lanes()[0]
	var text bytes.Buffer
	w, err := runlog.New(&text, d.Scenario, runlog.Tolerance(1e-6))
	require.NoError(t, err)
	for _, a := range l.Did {
		require.NoError(t, w.Did(a))
	}
	require.NoError(t, w.Reached(58))
	require.NoError(t, w.Close())
	again, err := scenarios.Parse("log.yaml", text.Bytes(), scenarios.BuiltIn)
	require.NoError(t, err)
	require.Len(t, again.Log.Did, 6)
	again.Until = 58
	r, err := live.Start(again, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	for _, at := range []float64{10, 36, 47, 55, 57.5} {
		a, _, err := l.Run.At(at)
		require.NoError(t, err)
		b, _, err := r.At(at)
		require.NoError(t, err)
		assert.Equal(t, math.Float64bits(a.Valves[0].Below), math.Float64bits(b.Valves[0].Below), "at %g s", at)
	}
}

// While a fault is hidden the people of the plant go on working it: settings and
// procedures.
func TestProcedureOnASealedPlant(t *testing.T) {
	d, r := newDesk(t, "boiler-plant")
	press(d, "f")
	list := item(t, d, "fault")
	list.Pick(index(list.Options, "pilot leaks"))
	item(t, d, "hidden").Pick(1)
	item(t, d, "code").Type("4711")
	item(t, d, "set").Do()
	require.True(t, d.Sealed())
	d.Close()
	choose(t, d, "pull fuse")
	item(t, d, "do it").Do()
	assert.Nil(t, d.Panel(), r.last())
	reach(t, d, 1)
	press(d, "a")
	item(t, d, "page").Pick(0)
	item(t, d, "operators.told").Pick(1)
	assert.Contains(t, r.last(), "Operators told: no")
	item(t, d, "firing.control.mode").Pick(1)
	assert.Contains(t, r.last(), "Firing mode: hand")
	assert.True(t, d.Sealed())
}

// Every setting that a hand makes has a name of its own.
func TestSettingsHaveNames(t *testing.T) {
	d, _ := newDesk(t, "boiler-plant")
	press(d, "a")
	seen := map[string]string{}
	for i := range item(t, d, "page").Options[:2] {
		item(t, d, "page").Pick(i)
		for _, it := range d.Items() {
			if strings.Contains(it.Name, ".") {
				assert.Empty(t, seen[it.Text], it.Text)
				seen[it.Text] = it.Name
			}
		}
	}
	for _, want := range []string{"Load", "Firing power", "Firing mode", "Firing hold", "Operators told", "Block valve", "Travel time", "Selector", "Fuse", "Body drain", "Feedwater"} {
		assert.NotEmpty(t, seen[want], want)
	}
	plain, _ := newDesk(t, "gas-bench-plus")
	press(plain, "a")
	for _, it := range plain.Items() {
		assert.NotEqual(t, "page", it.Name, "a few settings need no pages")
	}
}
