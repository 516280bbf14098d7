package report

import (
	"bytes"
	"context"
	"flag"
	"io"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/paper"
)

var update = flag.Bool("update", false, "write golden files anew")

// record runs a scenario, with faults as on the command line.
func record(t *testing.T, name string, until float64, faults ...string) *Record {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	if until > 0 {
		sc.Until = until
	}
	for _, f := range faults {
		e, err := fault.ParseEntry(sc.Plant, f)
		require.NoError(t, err)
		sc.Faults = append(sc.Faults, e)
	}
	r, err := live.Start(sc, live.Options{RelTol: 1e-6, Keep: 4}) // some of the past is computed again
	require.NoError(t, err)
	require.NoError(t, r.Finish())
	rec, err := NewRecord(r, 10*time.Millisecond)
	require.NoError(t, err)
	return rec
}

// says is assert.Contains without printing the whole text.
func says(t *testing.T, text, part string) {
	t.Helper()
	assert.True(t, strings.Contains(text, part), "not said: %q", part)
}

func textOf(t *testing.T, rec *Record) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, rec.Text(&b))
	return b.String()
}

// files collects what Files writes.
func files(t *testing.T, rec *Record) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	require.NoError(t, rec.Files(context.Background(), "v", func(float64) {}, func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		err := write(&b)
		out[name] = b.Bytes()
		return err
	}))
	return out
}

// The report of the bench, word for word; numbers to a hundredth, since the
// last digits differ between processors.
func TestReportOfTheBench(t *testing.T) {
	const golden = "testdata/gas-bench.txt"
	got := textOf(t, record(t, "gas-bench", 0))
	got = got[:strings.Index(got, "\nLEDGER")] // what follows differs from run to run
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	number := regexp.MustCompile(`\d+(\.\d+)?`)
	require.Equal(t, number.ReplaceAllString(string(want), "#"), number.ReplaceAllString(got, "#"))
	was, is := number.FindAllString(string(want), -1), number.FindAllString(got, -1)
	for i := range was {
		a, _ := strconv.ParseFloat(was[i], 64)
		b, _ := strconv.ParseFloat(is[i], 64)
		assert.LessOrEqual(t, math.Abs(a-b), 0.01*math.Abs(a)+0.02, "number %d: %s was %s", i+1, is[i], was[i])
	}
}

func TestReportHasItsEnd(t *testing.T) {
	got := textOf(t, record(t, "gas-bench", 3))
	for _, line := range []string{"by integrated states", "  mass ", "  energy ", "  disc work ", " steps (", "rejected", "times as fast as the valve itself",
		"replaces the plant's procedure, the manufacturer's instructions, local code or licensed\n  practice", "keep clear of the exhaust", "Never gag a valve"} {
		says(t, got, line)
	}
}

// Reports and pictures of every scenario: no line too long, no number that is
// none, no two texts of a picture over each other or off the page, none too
// small to read.
func TestEveryScenario(t *testing.T) {
	for _, name := range scenarios.Sample() {
		t.Run(name, func(t *testing.T) { sound(t, record(t, name, 0)) })
	}
}

// onTheBench are the faults that the gas bench can have with all its parts.
func onTheBench(t *testing.T) []fault.Fault {
	t.Helper()
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	out := fault.Possible(sc.Plant)
	require.Greater(t, len(out), 15)
	return out
}

// The same for every fault that sets in while the bench runs, and for runs of
// odd lengths.
func TestFaultsOnTheBench(t *testing.T) {
	for _, f := range onTheBench(t) {
		t.Run(f.Name, func(t *testing.T) {
			bench := "gas-bench"
			sc, err := scenarios.Load(bench)
			require.NoError(t, err)
			if _, err := fault.ParseEntry(sc.Plant, f.Name); err != nil {
				bench += "-plus"
			}
			rec := record(t, bench, 30, f.Name+"@8s")
			got := strings.Join(strings.Fields(sound(t, rec)), " ")
			says(t, got, "typical value taken")
			says(t, got, "-- at 8 s: fault "+f.Name)
		})
	}
	for name, until := range map[string]float64{"a microsecond": 1e-6, "open at the end": 9, "in motion at the end": 2.205, "four minutes": 240} {
		t.Run(name, func(t *testing.T) { sound(t, record(t, "gas-bench", until)) })
	}
	t.Run("not reached", func(t *testing.T) {
		sc, err := scenarios.Load("gas-bench")
		require.NoError(t, err)
		sc.Until = 3
		sc.Faults = []fault.Entry{{Name: "pilot-leaks", At: 5}}
		r, err := live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, r.Finish())
		rec, err := NewRecord(r, 0)
		require.NoError(t, err)
		got := sound(t, rec)
		says(t, got, "which the run did not reach")
		assert.NotContains(t, got, "-- at 5 s")
	})
}

func TestTwoValves(t *testing.T) {
	rec := record(t, "testdata/two-valves.yaml", 0, "pilot-leaks:valve-2=1mm2")
	got := sound(t, rec)
	for _, line := range []string{"VALVE: IN SHORT", "VALVE-2: IN SHORT", "fault pilot-leaks from the start: valve-2.pilot.leak-area"} {
		says(t, got, line)
	}
	written := files(t, rec)
	for _, name := range []string{"plot.png", "plot-valve-2.png", "first-lift.svg", "first-lift-valve-2.svg"} {
		assert.NotEmpty(t, written[name], name)
		assert.True(t, IsFile(name))
	}
	head, _, _ := strings.Cut(string(written["trace.csv"]), "\n")
	assert.Contains(t, head, "valve.above_bar_abs")
	assert.Contains(t, head, "valve-2.above_bar_abs")
	assert.Equal(t, "valve-2", rec.Summary("").Faults[0].Part)
}

// sound checks report and pictures, and returns the report.
func sound(t *testing.T, rec *Record) string {
	t.Helper()
	got := textOf(t, rec)
	for _, line := range strings.Split(got, "\n") {
		assert.LessOrEqual(t, len(line), width+12, line)
		assert.Equal(t, strings.TrimRight(line, " "), line, "no blanks at the end")
	}
	for _, word := range []string{"NaN", "Inf", "%!", "-0.0 ", "nothing can be said"} {
		assert.False(t, strings.Contains(got, word), word)
	}
	require.NotNil(t, rec.Summary("").Ledger.MassByState)
	for i := range rec.Valves {
		pictures := []*picture{rec.wholeRun(i)}
		var closeUps []span
		if p, ok := rec.firstLift(i); ok {
			pictures = append(pictures, p)
			closeUps = append(closeUps, p.spans()...)
		}
		if p, ok := rec.lastLifts(i); ok {
			pictures = append(pictures, p)
		}
		require.NoError(t, rec.pass(context.Background(), closeUps, func(s *plant.Snapshot, _ bool) error {
			for _, p := range pictures {
				p.add(s)
			}
			return nil
		}))
		for k, p := range pictures {
			page := p.page(rec)
			readable(t, page)
			if texts, _ := page.Texts(); k == 0 {
				assert.Contains(t, strings.Join(texts, " "), rec.caption(&rec.Valves[i]), "nothing of the caption is cut off")
			}
		}
	}
	return got
}

// readable checks the texts of a page.
func readable(t *testing.T, page *paper.Page) {
	t.Helper()
	texts, boxes := page.Texts()
	for i, b := range boxes {
		assert.True(t, b.Left >= 0 && b.Top >= 0 && b.Right <= paper.Width && b.Bottom <= paper.Height, "%q leaves the page: %v", texts[i], b)
		for j := range i {
			assert.False(t, b.Overlaps(boxes[j]), "%q and %q lie over each other", texts[i], texts[j])
		}
	}
	assert.GreaterOrEqual(t, page.SmallestText(), paper.Smallest)
	assert.NotEmpty(t, page.Title)
}
