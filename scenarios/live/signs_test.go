package live_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// What each fault must show in the exercise on the boiler plant, as its sign in
// the catalogue says: columns of the table that must go up or down against the
// healthy plant, appear, or be gone; and columns that must stay the same, which
// tell it from what looks alike. "rest-share down" and the like. A disc that hangs
// open keeps the end of the dump line at the saturation temperature of the
// tailpipe's pressure, so that line is warmer than the healthy valve's even with
// a tight pilot; that of a leaking one is hotter still (TestDumpLineTells).
var signsExpected = map[string]string{
	"bleed-enlarged":          "stroke-share up, stroke-delay up, stroke-seat down, switch-to-lift up, reset-to-seat down, rest-share same, stroke-current same",
	"bleed-plugged":           "stroke-seat up, reset-to-seat up, rest-share same, rest-dump same, reset-to-pilot same",
	"block-valve-leaks":       "shut-in up, rest-share same, lifts same, return-lift same",
	"block-valve-left-shut":   "rest-body down, stroke-lift down, stroke-dip down, stroke-current same, stroke-tail down, lifts down, highest up, stroke-pilot down",
	"block-valve-opened-fast": "return-lift up, rest-share same, lifts same, isolated-lift same, stroke-seat same",
	"block-valve-partly-shut": "stroke-body down, stroke-dip down, longest-lift up, lifts same, stroke-lift same",
	"chamber-condensate":      "stroke-delay up, switch-to-lift same, stroke-lift same, rest-share same",
	"coil-hot":                "stroke-current down, stroke-pilot gone, stroke-lift down, lifts down, highest up, late-coil up, stroke-dump down",
	"coil-open":               "stroke-current down, stroke-pilot gone, lifts down, highest up, peak-current down, late-fuse same",
	"coil-turns-shorted":      "stroke-current up, late-fuse down, longest-lift down, reset-to-seat gone, stroke-lift same, late-coil same",
	"contact-open":            "stroke-current down, stroke-pilot gone, lifts down, highest up, late-fuse same",
	"contact-welded":          "rest-current up, rest-relay same, rest-lift up, rest-share down, rest-dump up, rest-vessel down",
	"cover-leaks":             "rest-share down, rest-dump same, rest-current same, stroke-seat gone, late-lift up, late-share down, late-current same",
	"deadband-narrow":         "lifts up, cycle new, longest-lift down, reset-to-seat same, opens same",
	"disc-sticks":             "stroke-delay up, stroke-seat gone, late-lift up, late-share same, late-dump up, late-current same",
	"disc-stuck-open":         "stroke-delay same, stroke-seat gone, late-lift up, late-share same, late-dump up, late-current same, rest-share same",
	"disc-stuck-shut":         "stroke-lift down, stroke-share same, stroke-current same, stroke-tail down, stroke-dip down, lifts down, highest up, stroke-pilot same",
	"drain-plugged":           "stroke-water up, stroke-lift same, lifts same, stroke-seat same",
	"dump-restricted":         "stroke-pilot same, stroke-share up, stroke-delay up, switch-to-lift up, stroke-current same, rest-share same, reset-to-pilot same",
	"earths-two":              "rest-current up, rest-relay same, rest-lift up, rest-share down, rest-dump up, rest-vessel down",
	"fuse-out":                "stroke-current down, stroke-pilot gone, lifts down, highest up, late-fuse down",
	"gauge-reads-low":         "rest-vessel up, lifts same, stroke-lift same, opens same, rest-relay same",
	"guide-worn":              "stroke-share up, stroke-delay up, stroke-seat down, stroke-dump up, reset-to-seat down, stroke-current same, rest-share same",
	"header-heated":           "rest-tail up, rest-header up, rest-share same, rest-dump same, rest-lift same, lifts same",
	"header-pressure":         "rest-outlet up, isolated-lift up, shut-in up, rest-lift same, rest-current same",
	"inlet-throttled":         "stroke-body down, stroke-dip down, longest-lift up, stroke-lift same, opens same",
	"internals-reversed":      "stroke-lift down, stroke-dip down, stroke-current same, stroke-pilot same, highest up, late-tail down, stroke-share same",
	"lamp-shows-demand":       "lamp-after-coil down, stroke-lift same, lifts same, reset-to-seat same, late-lamp same",
	"outlet-throttled":        "rest-outlet up, stroke-share up, longest-lift up, rest-relay same, lifts same",
	"pilot-leaks":             "rest-share down, rest-dump up, rest-current same, rest-lift same, stroke-lift same, stroke-seat gone, late-lift up, late-share down",
	"pilot-slow":              "stroke-delay up, switch-to-lift up, stroke-seat up, reset-to-seat up, reset-to-pilot up, rest-share same, stroke-share same",
	"pilot-stroke-short":      "stroke-current same, stroke-share up, stroke-delay up, switch-to-lift up, stroke-lift same, rest-share same",
	"pilot-stuck-open":        "rest-share same, stroke-seat gone, late-current same, late-share down, late-lift up, late-dump up",
	"pilot-stuck-shut":        "stroke-current same, stroke-pilot gone, stroke-share up, stroke-dump down, stroke-lift down, lifts down, highest up",
	"plunger-not-seated":      "stroke-current up, stroke-pilot gone, lifts down, late-coil up, late-fuse down, stroke-dump down",
	"running-near-set":        "rest-vessel up, longest-lift up, opens same, stroke-lift same, rest-relay same, rest-share same",
	"seat-debris":             "rest-tail up, rest-share same, rest-dump same, rest-current same, rest-lift same, isolated-tail up",
	"seat-leaks":              "rest-tail up, rest-share same, rest-dump same, rest-current same, rest-lift same, isolated-tail up",
	"selector-left":           "stroke-lift same, lifts down, highest up, peak-current down, rest-gauge same",
	"sensing-root-shut":       "stroke-lift same, lifts down, highest up, peak-current down",
	"sensing-slow":            "opens up, longest-lift up, highest up, stroke-lift same, reset-to-pilot same",
	"sensing-trapped":         "late-relay up, late-current up, late-lift up, reset-to-seat gone, lowest down, stroke-seat same",
	"spring-broken":           "isolated-lift up, return-lift up, stroke-lift same, lifts same, stroke-seat up",
	"spring-weak":             "stroke-seat up, reset-to-seat up, lifts same, rest-share same",
	"supply-low":              "stroke-current down, stroke-pilot gone, lifts down, highest up, late-coil same",
	"switch-drifted":          "opens up, rest-gauge same, lifts same, stroke-delay same",
	"switch-stuck-made":       "rest-relay up, rest-current up, rest-lift up, rest-vessel down, rest-share down",
	"water-in-tailpipe":       "stroke-low down, stroke-lift same, lifts same",
	"water-leg-changed":       "opens up, rest-gauge down, lifts same, stroke-delay same",
}

// onBenches is the one fault that has no place on the boiler plant: there
// outlet-throttled stands for it, which leaves load and drains to the air.
const onBenches = "back-pressure"

// quickSigns are those that are run in any case; the others want
// UNDERDISC_LONG.
var quickSigns = []string{"pilot-leaks", "cover-leaks", "contact-welded", "header-heated", "plunger-not-seated", "outlet-throttled", "water-in-tailpipe", "bleed-plugged"}

// TestSigns holds the signs that the simulation gives against those of the
// catalogue.
func TestSigns(t *testing.T) {
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	all, err := live.SignCases(sc)
	require.NoError(t, err)
	long := os.Getenv("UNDERDISC_LONG") != ""
	cases := slices.DeleteFunc(all, func(c live.SignCase) bool {
		return !long && c.Entry.Name != "" && !slices.Contains(quickSigns, c.Entry.Name)
	})
	rows, err := live.SignTable(t.Context(), cases, 1e-5, func(int) {})
	require.NoError(t, err)
	columns := map[string]live.SignColumn{}
	for _, c := range live.SignColumns() {
		columns[c.Key] = c
		for _, r := range rows {
			require.Contains(t, r.Values, c.Key)
		}
	}
	seen := 0
	for _, r := range rows {
		if r.Fault == "" {
			continue
		}
		seen++
		t.Run(r.Fault, func(t *testing.T) {
			healthy := live.Healthy(rows, r)
			require.NotNil(t, healthy)
			changes := 0
			for _, text := range strings.Split(signsExpected[r.Fault], ", ") {
				key, want, _ := strings.Cut(text, " ")
				c, ok := columns[key]
				require.True(t, ok, "no column %q", key)
				got := c.Compare(r.Values[key], healthy.Values[key])
				assert.Equal(t, want, got.String(), "%s: %g, healthy %g", key, r.Values[key], healthy.Values[key])
				if want != "same" {
					changes++
				}
			}
			assert.Positive(t, changes, "a fault that shows nothing")
		})
	}
	want := len(quickSigns)
	if long {
		want = len(ofThePiloted()) - 1
	}
	assert.Equal(t, want, seen)
}

// Every fault of the catalogue that is not of a spring-loaded valve has its
// expected signs.
func TestSignsAreExpectedOfEveryFault(t *testing.T) {
	all := ofThePiloted()
	for _, f := range all {
		if f.Name != onBenches {
			assert.NotEmpty(t, signsExpected[f.Name], f.Name)
		}
	}
	assert.Len(t, signsExpected, len(all)-1)
}

// ofThePiloted are the faults that the exercise is about. Those of spring-loaded
// valves show nothing in it, since the piloted valve spares them.
func ofThePiloted() []fault.Fault {
	return slices.DeleteFunc(fault.All(), func(f fault.Fault) bool { return f.Part == "spring-valve" })
}

// A table that is broken off ends with the reason, and a plant on which the
// exercise cannot be done is refused.
func TestSignTableEnds(t *testing.T) {
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err = live.SignTable(ctx, []live.SignCase{{On: sc}}, 1e-5, func(int) {})
	require.ErrorIs(t, err, context.Canceled)

	bench, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	_, err = live.Exercised(bench, fault.Entry{})
	require.ErrorContains(t, err, "1 piloted valves and 0 loads")
	_, err = live.SignTable(t.Context(), []live.SignCase{{On: bench}}, 1e-5, func(int) {})
	require.ErrorContains(t, err, fmt.Sprintf("%s: this plant", bench.Name))
}

// TestDumpLineTells: with the disc hanging open, the dump line is where a leaking
// pilot differs from a leaking cover and from a disc that is stuck: it stands
// above the saturation temperature of the tailpipe's pressure.
func TestDumpLineTells(t *testing.T) {
	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	var cases []live.SignCase
	for _, name := range []string{"pilot-leaks", "cover-leaks", "disc-stuck-open"} {
		shown, err := scenarios.Load("plant-" + name)
		require.NoError(t, err)
		cases = append(cases, live.SignCase{On: sc, Entry: shown.Faults[0]})
	}
	rows, err := live.SignTable(t.Context(), cases, 1e-5, func(int) {})
	require.NoError(t, err)
	leaks := rows[0].Values["late-dump"]
	for _, r := range rows[1:] {
		assert.Greater(t, r.Values["late-lift"], 0.014, r.Fault)
		assert.Greater(t, leaks, r.Values["late-dump"]+15, "%s, K", r.Fault)
	}
}
