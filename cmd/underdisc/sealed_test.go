package main

import (
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios"
)

// inside are words for what only the inside of the valve gives. The caution, the
// same in every run, has some of them.
var inside = regexp.MustCompile(`(?i)chamber|pilot|disc[ _.-]|disc$|lift|bleed|guide|plunger|spring|friction|bond|leak|below|above|` +
	`force|threshold|margin|seat|reseat|blowdown|hung|chatter|link|drift|\bN\b`)

var cautions = regexp.MustCompile(`(?s)CAUTION\n.*?\n\n|"caution": ".*?"|with a hidden fault`)

// secret is a fault that is hidden, and the traces that it could leave.
type secret struct {
	name, severity string // severity as on the command line
	traces         []string
}

func secretOf(t *testing.T, f fault.Fault) secret {
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	part := sc.Plant.OfKind(f.Part)[0].Name + "."
	v := f.Typical * 1.00317
	if f.Typical == 0 {
		v = 1.0173e-7 // of m2 or N
	}
	s := secret{name: f.Name, severity: unit.Exact(v, f.Dim()), traces: []string{f.Name, part + f.Param, strings.TrimSuffix(f.About, ".")}}
	for _, also := range f.Also {
		s.traces = append(s.traces, part+also.Param)
	}
	if f.Word != "" {
		s.severity = f.Word
		return s
	}
	switch f.Name {
	case "supply-low", "back-pressure", "block-valve-left-shut", "block-valve-partly-shut":
		return s // whose severity a meter or the valve's stem shows
	}
	for _, text := range []string{unit.Format(v, f.Dim()), s.severity} {
		if number, _, _ := strings.Cut(text, " "); len(number) > 3 {
			s.traces = append(s.traces, number)
		}
	}
	return s
}

// silent asserts that a text says nothing of the secret, plainly or in base64.
func (s secret) silent(t *testing.T, where, text string) {
	t.Helper()
	texts := []string{text}
	for _, word := range regexp.MustCompile(`[A-Za-z0-9+/_-]{12,}={0,2}`).FindAllString(text, -1) {
		for _, e := range []*base64.Encoding{base64.RawURLEncoding, base64.RawStdEncoding} {
			for cut := range 4 { // wherever it begins
				if plain, err := e.DecodeString(strings.TrimRight(word, "=")[cut:]); err == nil {
					texts = append(texts, string(plain))
				}
			}
		}
	}
	for _, trace := range s.traces {
		for _, in := range texts {
			assert.False(t, strings.Contains(in, trace), "%s tells %q", where, trace)
		}
	}
}

// outside asserts that it says nothing of the inside at all.
func (s secret) outside(t *testing.T, where, text string) {
	t.Helper()
	s.silent(t, where, text)
	bare := cautions.ReplaceAllString(text, "")
	assert.Empty(t, inside.FindAllString(bare, -1), "%s tells of the inside", where)
}

// Whatever is hidden, nothing that the program puts out says it, and nothing
// says what only the inside of the valve gives; with the word all comes back.
func TestSealed(t *testing.T) {
	bench, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	for _, f := range fault.Possible(bench.Plant) {
		t.Run(f.Name, func(t *testing.T) {
			inFolder(t)
			s := secretOf(t, f)
			must := func(args ...string) string {
				t.Helper()
				status, out, errs := call(t, t.Context(), args...)
				require.Equal(t, exitGood, status, errs)
				require.Empty(t, errs)
				return out
			}
			const code = "red lamp"
			must("hide", "gas-bench-plus", "--fault", s.name+"="+s.severity+"@1.5s", "--code", code, "--out", "drill.yaml")
			file, err := os.ReadFile("drill.yaml")
			require.NoError(t, err)
			plain := secret{traces: append([]string{code, base64.StdEncoding.EncodeToString([]byte(s.name))[:8]}, s.traces...)}
			plain.silent(t, "the file", string(file))

			s.outside(t, "the report", must("run", "drill.yaml", "--until", "8s")+"\n\n")
			s.outside(t, "the summary", must("run", "drill.yaml", "--until", "8s", "--json"))
			s.outside(t, "the answer", must("explain", "drill.yaml", "--at", "5s")+"\n\n")
			s.outside(t, "the answer as JSON", must("explain", "drill.yaml", "--at", "5s", "--json"))
			s.outside(t, "what check says", must("check", "drill.yaml"))
			must("run", "drill.yaml", "--until", "8s", "--out", "out")
			entries, err := os.ReadDir("out")
			require.NoError(t, err)
			for _, e := range entries {
				data, err := os.ReadFile("out/" + e.Name())
				require.NoError(t, err)
				text := string(data) + "\n\n"
				switch {
				case strings.HasSuffix(e.Name(), ".png"), e.Name() == "written-by-underdisc.txt":
					continue
				case e.Name() == "trace.csv": // TestSealedTables looks at its columns
					text, _, _ = strings.Cut(text, "\n")
				case strings.HasSuffix(e.Name(), ".svg"):
					text = svgTexts(text)
				}
				s.outside(t, e.Name(), text)
			}
			assert.Equal(t, must("list", "paths", "gas-bench-plus"), strings.Replace(must("list", "paths", "drill.yaml"), "drill", "gas-bench-plus", 1),
				"the paths stand at what they stood at")

			// With the word it is the run that it is when nothing is hidden.
			got := must("run", "drill.yaml", "--until", "8s", "--code", "Red Lamp")
			for _, word := range []string{"hidden fault " + s.name, f.Param, "WHAT HELD IT", "disc"} {
				assert.Contains(t, got, word)
			}
			open := must("run", "gas-bench-plus", "--until", "8s", "--fault", s.name+"="+s.severity+"@1.5s", "--json")
			assert.Equal(t, summary(t, open), summary(t, must("run", "drill.yaml", "--until", "8s", "--code", code, "--json")))
			assert.Equal(t, summary(t, open), summary(t, must("run", "drill.yaml", "--until", "8s", "--answer", s.name, "--json")))
		})
	}
}

// summary is one without what differs from run to run.
func summary(t *testing.T, text string) map[string]any {
	t.Helper()
	var out map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &out))
	delete(out, "solver")
	delete(out, "scenario")
	require.Contains(t, out, "final")
	return out
}

// svgTexts are the texts of an SVG, its paths left out.
func svgTexts(svg string) string {
	var out []string
	for _, m := range regexp.MustCompile(`(?s)<(?:text|title|desc)[^>]*>(.*?)</`).FindAllStringSubmatch(svg, -1) {
		out = append(out, m[1])
	}
	return strings.Join(out, "\n")
}

// The tables of a sealed run have just the columns of what can be read.
func TestSealedTables(t *testing.T) {
	inFolder(t)
	call(t, t.Context(), "hide", "gas-bench-plus", "--fault", "pilot-leaks=6.17mm2", "--code", "w", "--out", "drill.yaml")
	status, _, errs := call(t, t.Context(), "run", "drill.yaml", "--until", "8s", "--out", "out")
	require.Equal(t, exitGood, status, errs)
	read := func(name string) [][]string {
		f, err := os.Open("out/" + name)
		require.NoError(t, err)
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		require.NoError(t, err)
		return rows
	}
	trace := read("trace.csv")
	assert.Equal(t, []string{"time_s", "valve.vessel_bar_abs", "valve.sensed_bar_abs", "valve.outlet_bar_abs", "valve.switch_made", "valve.relay_on",
		"valve.coil_current_A", "valve.supply_V", "valve.hisses", "valve.blows", "valve.blows_at_cover_joint", "valve.dump_wall_degC", "valve.block_valve_open",
		"valve.selector_open", "valve.selector_off"}, trace[0])
	steps := map[string]int{}
	for i := 2; i < len(trace); i++ {
		var a, b float64
		fmt.Sscan(trace[i-1][0], &a)
		fmt.Sscan(trace[i][0], &b)
		steps[fmt.Sprintf("%.6f", b-a)]++
	}
	assert.Len(t, steps, 1, "no row stands where the inside moves")
	kinds := map[string]bool{}
	for _, row := range read("events.csv")[1:] {
		kinds[row[1]] = true
	}
	assert.Subset(t, []string{"switch-made", "switch-reset", "coil-on", "coil-off", "blows", "stops-blowing"}, slices.Collect(maps.Keys(kinds)))
	assert.True(t, kinds["blows"])
}

// No question to a sealed scenario is answered otherwise for what is hidden in
// it than for what is not.
func TestSealedQuestions(t *testing.T) {
	inFolder(t)
	for name, f := range map[string]string{"a": "bleed-plugged", "b": "deadband-narrow@2s"} {
		status, _, errs := call(t, t.Context(), "hide", "gas-bench-plus", "--fault", f, "--code", "w", "--out", name+".yaml")
		require.Equal(t, exitGood, status, errs)
	}
	ask := func(args ...string) (int, string) {
		t.Helper()
		status, out, errs := call(t, t.Context(), args...)
		assert.Empty(t, out)
		isOneLine(t, errs)
		return status, errs
	}
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	first := ""
	for _, prm := range sc.Plant.Params() {
		if sc.ByHand(prm.Path) {
			continue
		}
		for _, file := range []string{"a.yaml", "b.yaml"} {
			set := prm.Path + "=" + plant.FormatValue(prm)
			status, errs := ask("run", file, "--set", set)
			assert.Equal(t, exitBadInput, status)
			errs = strings.Replace(errs, set, "SET", 1)
			if first == "" {
				first = errs
			}
			assert.Equal(t, first, errs)
		}
	}
	assert.Contains(t, first, "want only what a hand at the plant sets (feed, fire, load, block valve, drain, selector, fuse, lever, gag) changed until the fault is revealed")
	for _, f := range fault.All() {
		_, a := ask("run", "a.yaml", "--fault", f.Name)
		_, b := ask("run", "b.yaml", "--fault", f.Name)
		assert.Equal(t, a, b)
		assert.Equal(t, strings.Replace(first, `--set "SET"`, fmt.Sprintf("--fault %q", f.Name), 1), a)
	}
	for _, set := range []string{"inflow.mass-flow=1.2kg/s", "line.block-valve.opening=0.5", "relay.selector.position=open"} {
		status, _, errs := call(t, t.Context(), "run", "a.yaml", "--until", "3s", "--set", set)
		assert.Equal(t, exitGood, status, errs)
		status, _, errs = call(t, t.Context(), "run", "a.yaml", "--until", "3s", "--code", "w", "--set", "valve.bleed.area=2mm2")
		assert.Equal(t, exitGood, status, errs)
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"run", "a.yaml", "--code", "x"}, `--code: found "x", which reveals nothing here`},
		{[]string{"run", "gas-bench", "--code", "x"}, "nothing is hidden in gas-bench"},
		{[]string{"run", "gas-bench", "--answer", "coil-open"}, "nothing is hidden in gas-bench"},
		{[]string{"run", "a.yaml", "--answer", "coil-open"}, "--answer: found coil-open, which is not what is hidden here"},
		{[]string{"run", "a.yaml", "--answer", "coil-opn"}, "which is no fault"},
		{[]string{"print", "a.yaml", "--at", "1s", "--out", "a.png", "--code", "x"}, "reveals nothing"},
		{[]string{"hide", "gas-bench", "--code", "x"}, "no fault to hide"},
		{[]string{"hide", "gas-bench", "--fault", "coil-open", "--code", " "}, "want a word"},
		{[]string{"hide", "gas-bench", "--fault", "coil-open"}, "--code"},
		{[]string{"hide", "gas-bench", "--fault", "coil-opn", "--code", "x"}, "coil-open"},
		{[]string{"hide", "gas-bench", "--fault", "bleed-plugged", "--fault", "bleed-enlarged", "--code", "x"}, "valve.bleed.area"},
		{[]string{"hide", "gas-bench", "--fault", "deadband-narrow=12.5bar abs", "--code", "x"}, "switch.reset"},
		{[]string{"hide", "gas-bench", "--fault", "coil-open", "--code", "x", "--name", "A B"}, "lower-case words"},
		{[]string{"hide", "gas-bench", "--fault", "coil-open", "--code", "x", "--out", "none/drill.yaml"}, "--out"},
	} {
		status, errs := ask(c.args...)
		assert.Equal(t, exitBadInput, status)
		assert.Contains(t, errs, c.says)
	}
	_, printed, _ := call(t, t.Context(), "hide", "fault-pilot-leaks", "--code", "x")
	assert.NotContains(t, printed, "fault-pilot-leaks", "neither name nor title tell")
	assert.NotContains(t, printed, "hang")
	assert.Contains(t, printed, "\nhidden:\n")
}
