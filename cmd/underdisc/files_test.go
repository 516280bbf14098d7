package main

import (
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/report"
)

func TestFiles(t *testing.T) {
	dir := filepath.Join(inFolder(t), "a", "b")
	status, out, errs := call(t, t.Context(), "run", "gas-bench", "--until", "9s", "--out", dir, "--json")
	require.Equal(t, exitGood, status, errs)
	names := []string{"events.csv", "first-lift.png", "first-lift.svg", "plot.png", "plot.svg", "report.txt", "summary.json", "trace.csv", listName}
	empty(t, dir, names...)
	for _, name := range names {
		assert.Equal(t, name != listName, report.IsFile(name))
	}

	t.Run("summary", func(t *testing.T) {
		data, err := os.ReadFile(filepath.Join(dir, "summary.json"))
		require.NoError(t, err)
		assert.JSONEq(t, out, string(data))
	})
	t.Run("pictures", func(t *testing.T) {
		for _, name := range names {
			f, err := os.Open(filepath.Join(dir, name))
			require.NoError(t, err)
			defer f.Close()
			switch filepath.Ext(name) {
			case ".png":
				img, err := png.Decode(f)
				require.NoError(t, err, name)
				assert.Equal(t, 1600, img.Bounds().Dx())
				assert.Equal(t, 900, img.Bounds().Dy())
			case ".svg":
				isSVG(t, f)
			}
		}
	})
	t.Run("events", func(t *testing.T) {
		rows := table(t, filepath.Join(dir, "events.csv"))
		var s report.Summary
		require.NoError(t, json.Unmarshal([]byte(out), &s))
		require.Len(t, rows, len(s.Events)+1)
		assert.Equal(t, []string{"time_s", "event", "part", "valve", "vessel_bar_abs", "above_bar_abs", "below_bar_abs", "outlet_bar_abs", "disc_lift_mm"}, rows[0])
		for i, e := range s.Events {
			assert.Equal(t, []string{e.Name, e.Part, "valve"}, rows[i+1][1:4])
			assert.InDelta(t, e.T, float(t, rows[i+1][0]), 1e-9)
		}
	})
	t.Run("trace", func(t *testing.T) {
		rows := table(t, filepath.Join(dir, "trace.csv"))
		assert.Equal(t, "time_s", rows[0][0])
		for _, unit := range []string{"valve.above_bar_abs", "valve.below_bar_abs", "valve.lift_below_bar_abs", "valve.drop_above_bar_abs",
			"valve.disc_lift_mm", "valve.pilot_lift_mm", "valve.coil_current_A", "valve.seat_flow_kg_per_s"} {
			assert.Contains(t, rows[0], unit)
		}
		last := -1.0
		highest := 0.0
		lift := slices.Index(rows[0], "valve.disc_lift_mm")
		for _, row := range rows[1:] {
			now := float(t, row[0])
			require.GreaterOrEqual(t, now, last, "times do not fall")
			last = now
			for _, cell := range row {
				float(t, cell)
			}
			highest = max(highest, float(t, row[lift]))
		}
		assert.Equal(t, 9.0, last)
		assert.InDelta(t, 15, highest, 0.1)
		assert.Greater(t, len(rows), 1000)
	})
}

func table(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	return rows
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// isSVG asserts that a drawing is sound XML with texts and a title.
func isSVG(t *testing.T, r io.Reader) {
	t.Helper()
	d := xml.NewDecoder(r)
	count := map[string]int{}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if e, ok := tok.(xml.StartElement); ok {
			count[e.Name.Local]++
		}
	}
	assert.Equal(t, 1, count["svg"])
	assert.Equal(t, 1, count["title"])
	assert.Positive(t, count["text"])
	assert.Positive(t, count["path"])
}

// A folder is used again as long as what lies in it is the program's own.
func TestFolder(t *testing.T) {
	again := func(t *testing.T, more ...string) (int, string) {
		status, _, errs := call(t, t.Context(), append([]string{"run", "gas-bench", "--until", "3s", "--out", "results"}, more...)...)
		return status, errs
	}
	first := func(t *testing.T) {
		inFolder(t)
		status, errs := again(t)
		require.Equal(t, exitGood, status, errs)
	}
	t.Run("replaces its own", func(t *testing.T) {
		first(t)
		require.FileExists(t, "results/first-lift.png")
		status, errs := again(t, "--fault", "coil-open")
		require.Equal(t, exitGood, status, errs)
		assert.NoFileExists(t, "results/first-lift.png", "it belonged to the earlier run")
		data, err := os.ReadFile("results/report.txt")
		require.NoError(t, err)
		assert.Contains(t, string(data), "fault coil-open")
	})
	t.Run("leaves other files alone", func(t *testing.T) {
		first(t)
		require.NoError(t, os.WriteFile("results/notes.txt", []byte("mine"), 0o600))
		status, errs := again(t)
		require.Equal(t, exitGood, status, errs)
		assert.FileExists(t, "results/notes.txt")
	})
	t.Run("does not replace what it has not written", func(t *testing.T) {
		inFolder(t)
		require.NoError(t, os.Mkdir("results", 0o755))
		require.NoError(t, os.WriteFile("results/trace.csv", []byte("mine"), 0o600))
		status, errs := again(t)
		assert.Equal(t, exitBadInput, status)
		isOneLine(t, errs)
		assert.Contains(t, errs, "trace.csv that underdisc has not written")
		empty(t, "results", "trace.csv")
	})
	t.Run("does not replace what was changed since", func(t *testing.T) {
		first(t)
		require.NoError(t, os.WriteFile("results/report.txt", []byte("with my notes"), 0o600))
		status, errs := again(t)
		assert.Equal(t, exitBadInput, status)
		isOneLine(t, errs)
		assert.Contains(t, errs, "report.txt changed since")
		data, err := os.ReadFile("results/report.txt")
		require.NoError(t, err)
		assert.Equal(t, "with my notes", string(data))
	})
	t.Run("does not trust a list that it has not written", func(t *testing.T) {
		inFolder(t)
		require.NoError(t, os.Mkdir("results", 0o755))
		require.NoError(t, os.WriteFile(filepath.Join("results", listName), []byte("mine"), 0o600))
		status, errs := again(t)
		assert.Equal(t, exitBadInput, status)
		assert.Contains(t, errs, listName)
	})
	t.Run("a file killed between its names is known again", func(t *testing.T) {
		inFolder(t)
		f, err := openFolder("results", report.IsFile)
		require.NoError(t, err)
		text := func(s string) func(io.Writer) error {
			return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
		}
		require.NoError(t, f.add("trace.csv", text("old")))
		require.NoError(t, f.commit())
		f, err = openFolder("results", report.IsFile)
		require.NoError(t, err)
		require.NoError(t, f.add("trace.csv", text("new")))
		both := []entry{}
		for e := range f.known {
			both = append(both, e)
		}
		for e := range f.pending {
			both = append(both, e)
		}
		require.NoError(t, f.writeList(both)) // as commit does first; and then it is killed
		for _, content := range []string{"old", "new"} {
			require.NoError(t, os.WriteFile("results/trace.csv", []byte(content), 0o600))
			_, err = openFolder("results", report.IsFile)
			assert.NoError(t, err, content)
		}
	})
}

// Results that cannot be written fail the run, and what was begun is taken
// back.
func TestWritingFails(t *testing.T) {
	inFolder(t)
	f, err := openFolder("a/b", report.IsFile)
	require.NoError(t, err)
	require.Error(t, f.add("trace.csv", func(w io.Writer) error {
		_, _ = io.WriteString(w, strings.Repeat("x", 1<<20))
		return errors.New("no room")
	}))
	f.abandon()
	empty(t, ".")
}
