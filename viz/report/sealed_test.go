package report

import (
	"context"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// sealed runs a scenario with a fault hidden in it.
func sealed(t *testing.T, name string, until float64, text string) *Record {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	sc.Until = until
	e, err := fault.ParseEntry(sc.Plant, text)
	require.NoError(t, err)
	require.NoError(t, sc.Hide("word", e))
	r, err := live.Start(sc, live.Options{RelTol: 1e-6, Keep: 4})
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	rec, err := NewRecord(r, 0)
	require.NoError(t, err)
	return rec
}

// Report and picture of a run with any fault hidden can be read, and what is
// seen and heard is what happened.
func TestSealedReports(t *testing.T) {
	for _, f := range onTheBench(t) {
		t.Run(f.Name, func(t *testing.T) {
			rec := sealed(t, "gas-bench-plus", 12, f.Name+"@4s")
			got := textOf(t, rec)
			for _, line := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, len(line), width+12, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
			}
			for _, word := range []string{"NaN", "Inf", "%!", "-0.0 "} {
				assert.NotContains(t, got, word)
			}
			st := newSealedStrip(span{0, rec.Until()})
			require.NoError(t, rec.sealedTrace(context.Background(), io.Discard, func(float64) {}, []*sealedStrip{st}))
			page := st.page(rec, &rec.Valves[0])
			readable(t, page)
			texts, _ := page.Texts()
			assert.Contains(t, strings.Join(texts, " "), rec.sealedCaption(&rec.Valves[0]))
			last := 0.0
			for _, s := range rec.Valves[0].signs {
				assert.GreaterOrEqual(t, s.t, last, "in order")
				last = s.t
			}
		})
	}
}

// What is heard at the tailpipe agrees with what the disc does.
func TestBlows(t *testing.T) {
	rec := sealed(t, "gas-bench-plus", 20, "coil-open@12s") // which stops the lifts
	lifts := rec.lifts(0)
	require.Greater(t, len(lifts), 1)
	var from, to, vessel []float64
	for _, s := range rec.Valves[0].signs {
		switch s.event {
		case "blows":
			from, vessel = append(from, s.t), append(vessel, s.vessel)
			assert.Equal(t, blows, s.tail)
		case "stops-blowing":
			to = append(to, s.t)
			assert.NotEqual(t, blows, s.tail)
		}
	}
	require.Len(t, from, len(lifts))
	require.Len(t, to, len(lifts))
	for i, l := range lifts {
		assert.InDelta(t, l.T, from[i], 0.06)
		assert.InDelta(t, l.Pressure, vessel[i], 0.05e5)
	}
	says(t, textOf(t, rec), "The tailpipe blew 2 times in 20 s.")
}

// With the code everything comes back: the same report, tables and summary as if
// nothing had been hidden, but that the fault is said to have been.
func TestRevealed(t *testing.T) {
	rec := sealed(t, "gas-bench-plus", 12, "pilot-leaks=6.17mm2@3s")
	require.True(t, rec.Run.Scenario.Hidden.Reveal("word"))
	rec, err := NewRecord(rec.Run, 0)
	require.NoError(t, err)
	open := record(t, "gas-bench-plus", 12, "pilot-leaks=6.17mm2@3s")
	cut := func(text string) string { return text[:strings.Index(text, "\nSOLVER")] }
	got := cut(textOf(t, rec))
	says(t, got, "hidden fault pilot-leaks from 3 s: valve.pilot.leak-area 6.17 mm2 (was 0 mm2)")
	squeeze := func(text string) string {
		return strings.Join(strings.Fields(strings.ReplaceAll(text, "hidden fault", "fault")), " ")
	}
	assert.Equal(t, squeeze(cut(textOf(t, open))), squeeze(got))
	was, is := open.Summary("v"), rec.Summary("v")
	was.Solver, is.Solver = SummarySolver{}, SummarySolver{}
	assert.Equal(t, was, is)
	a, b := files(t, open), files(t, rec)
	assert.Equal(t, string(a["trace.csv"]), string(b["trace.csv"]))
	assert.Equal(t, string(a["events.csv"]), string(b["events.csv"]))
	assert.Equal(t, len(a), len(b))
	for name := range b {
		assert.True(t, IsFile(name), name)
	}
}

// Two valves, of which one has no relay of its own selector: each is told by
// itself, and what one lacks is null.
func TestSealedTwoValves(t *testing.T) {
	rec := sealed(t, "testdata/two-valves.yaml", 6, "pilot-leaks:valve-2=1mm2")
	got := textOf(t, rec)
	says(t, got, "VALVE-2: IN SHORT")
	assert.NotContains(t, got, "selector")
	written := files(t, rec)
	for _, name := range []string{"plot.png", "plot.svg", "plot-valve-2.png", "plot-valve-2.svg", "trace.csv", "events.csv", "report.txt", "summary.json"} {
		assert.NotEmpty(t, written[name], name)
	}
	assert.Len(t, written, 8)
	var sum SealedSummary
	require.NoError(t, json.Unmarshal(written["summary.json"], &sum))
	require.Len(t, sum.Valves, 2)
	assert.True(t, sum.Sealed)
	assert.Nil(t, sum.Valves[0].Selector)
	assert.Nil(t, sum.Valves[0].Wall)
	assert.Empty(t, sum.Faults)
}
