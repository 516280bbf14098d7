package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// explained is the part of the answer in JSON that is held against the text.
type explained struct {
	At      float64 `json:"at_s"`
	Sealed  bool    `json:"sealed"`
	Caution string  `json:"caution"`
	Valves  []struct {
		Answer   []string `json:"answer"`
		Question string   `json:"question"`
		Link     string   `json:"link"`
		Reason   string   `json:"reason"`
		Below    *float64 `json:"chamber_bar_abs"`
		Leaves   *float64 `json:"leaves_bar_abs"`
		Links    []struct {
			Holds bool `json:"holds"`
		} `json:"links"`
		Frees []struct {
			Path   string   `json:"path"`
			Needed *float64 `json:"needed"`
			Unit   string   `json:"unit"`
			By     string   `json:"by"`
		} `json:"frees"`
	} `json:"valves"`
}

func explainJSON(t *testing.T, args ...string) explained {
	t.Helper()
	status, out, errs := call(t, t.Context(), append([]string{"explain", "--json"}, args...)...)
	require.Equal(t, exitGood, status, errs)
	var e explained
	require.NoError(t, json.Unmarshal([]byte(out), &e))
	return e
}

// The page begins with the answer and ends with the caution, and says in text
// what it says in JSON.
func TestExplainHangsOpen(t *testing.T) {
	args := []string{"gas-bench-plus", "--at", "5s", "--set", "valve.pilot.leak-area=6mm2"}
	status, out, errs := call(t, t.Context(), append([]string{"explain"}, args...)...)
	require.Equal(t, exitGood, status, errs)
	at := -1
	for _, part := range []string{"WHY WON'T IT RESEAT?", "link 4 (pilot)", "THE SIX LINKS", "<- this one", "NUMBERS", "WHAT WOULD FREE IT", "at most 4.69 mm²", "CAUTION", "Before anyone touches"} {
		i := strings.Index(out[at+1:], part) + at + 1
		assert.Greater(t, i, at, part)
		at = max(at, i)
	}
	e := explainJSON(t, args...)
	assert.InDelta(t, 5, e.At, 0)
	require.Len(t, e.Valves, 1)
	v := e.Valves[0]
	assert.Equal(t, []string{"wont-reseat", "pilot", "pilot-leaks"}, []string{v.Question, v.Link, v.Reason})
	assert.Contains(t, strings.Join(strings.Fields(out), " "), v.Answer[0])
	require.NotNil(t, v.Leaves)
	assert.Less(t, *v.Below, *v.Leaves)
	require.Len(t, v.Links, 6)
	assert.True(t, v.Links[3].Holds)
	require.NotEmpty(t, v.Frees)
	assert.Equal(t, "valve.pilot.leak-area", v.Frees[0].Path)
	assert.Equal(t, "m2", v.Frees[0].Unit)
	assert.Contains(t, e.Caution, "plant's procedure")

	// What it says would free it does.
	freed := explainJSON(t, "gas-bench-plus", "--at", "5s", "--set", "valve.pilot.leak-area=4mm2")
	assert.Equal(t, "rests", freed.Valves[0].Question)
	assert.Greater(t, *v.Frees[0].Needed, 4e-6)
}

// Without --at it is the end; units are those asked for; a file is read too.
func TestExplainEndAndUnits(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mine.yaml", []byte("name: mine\ntitle: My own\ninclude: gas-bench-plus\nuntil: 3 s\nplant: {relay: {supply: 40 V}}\n"), 0o600))
	status, out, errs := call(t, t.Context(), "explain", "mine.yaml", "--units", "psi,gauge")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "at 3.000000 s")
	assert.Contains(t, out, "WHY WON'T IT LIFT?")
	assert.Contains(t, out, "psig")
	assert.NotContains(t, out, "bar abs")
}

// A hidden fault stays hidden: the answer is that of one who stands outside, in
// text and in JSON; the code opens it.
func TestExplainSealed(t *testing.T) {
	inFolder(t)
	status, _, errs := call(t, t.Context(), "hide", "gas-bench-plus", "--fault", "pilot-leaks=6.021mm2@2s", "--code", "rain", "--out", "drill.yaml")
	require.Equal(t, exitGood, status, errs)
	for _, args := range [][]string{{"explain", "drill.yaml", "--at", "5s"}, {"explain", "drill.yaml", "--at", "5s", "--json"}} {
		status, out, errs := call(t, t.Context(), args...)
		require.Equal(t, exitGood, status, errs)
		said := cautions.ReplaceAllString(out+"\n\n", "")
		said = strings.NewReplacer("without opening the valve", "", "what holds it", "").Replace(said)
		assert.NotRegexp(t, inside, said)
		assert.Contains(t, out, "hidden")
		for _, trace := range []string{"pilot-leaks", "6.02", "six links", "SIX LINKS"} {
			assert.NotContains(t, out, trace)
		}
	}
	status, out, errs := call(t, t.Context(), "explain", "drill.yaml", "--at", "5s", "--code", "rain")
	require.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "link 4 (pilot)")
}

func TestExplainBad(t *testing.T) {
	dir := inFolder(t)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"nothing-such"}, "nothing-such"},
		{[]string{"gas-bench", "--at", "soon"}, "--at"},
		{[]string{"gas-bench", "--at=-1s"}, "want 0 s to"},
		{[]string{"gas-bench", "--units", "stone"}, "--units"},
		{[]string{"gas-bench", "--set", "valve.bleed.aria=1mm2"}, "want valve.bleed.area"},
		{[]string{"gas-bench", "--fault", "pilot-leeks"}, "pilot-leaks"},
		{[]string{"gas-bench", "--code", "rain"}, "nothing is hidden"},
		{nil, "NAME|FILE|LOG"},
	} {
		status, out, errs := call(t, t.Context(), append([]string{"explain"}, c.args...)...)
		assert.Equal(t, exitBadInput, status, "%v", c.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.says)
		assert.Equal(t, 1, strings.Count(errs, "\n"), errs)
	}
	empty(t, dir)
}
