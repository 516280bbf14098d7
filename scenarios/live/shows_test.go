package live_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
)

// TestScenariosShow runs every embedded scenario and holds it against what it
// says it shows. A scenario with a fault must not pass without it: what it
// says would then be true of a healthy plant.
func TestScenariosShow(t *testing.T) {
	for _, name := range scenarios.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			sc, err := scenarios.Load(name)
			require.NoError(t, err)
			require.NotNil(t, sc.Shows, "it says nothing")
			assert.Empty(t, live.Verify(played(t, sc)))
			if len(sc.Faults) > 0 {
				healthy := *sc
				healthy.Faults = nil
				assert.NotEmpty(t, live.Verify(played(t, &healthy)), "the plant shows all this without the fault")
			}
		})
	}
}

func TestEveryFaultHasAScenario(t *testing.T) {
	shown := map[string]bool{}
	for _, name := range scenarios.Names() {
		sc, err := scenarios.Load(name)
		require.NoError(t, err)
		for _, f := range sc.Faults {
			shown[f.Name] = true
		}
	}
	for _, f := range fault.All() {
		assert.True(t, shown[f.Name], "no scenario shows %s", f.Name)
	}
}

// TestVerifyFindsWhatDoesNotHold changes one expectation at a time of a run
// that shows what it says.
func TestVerifyFindsWhatDoesNotHold(t *testing.T) {
	sc, err := scenarios.Load("fault-pilot-leaks")
	require.NoError(t, err)
	r := played(t, sc)
	require.Empty(t, live.Verify(r))
	yes, none, two := true, 0, 2
	num := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		name   string
		change func(w *scenarios.Shows)
		want   string
	}{
		{"too many lifts", func(w *scenarios.Shows) { w.Lifts = &scenarios.Count{AtMost: &none} }, "1 lifts; want at most 0"},
		{"too few lifts", func(w *scenarios.Shows) { w.Lifts = &scenarios.Count{AtLeast: &two} }, "1 lifts; want at least 2"},
		{"another number of lifts", func(w *scenarios.Shows) { w.Lifts = &scenarios.Count{Exactly: &two} }, "1 lifts; want exactly 2"},
		{"another state", func(w *scenarios.Shows) { w.StateAtEnd = []string{"shut", "open"} }, "valve at the end: hung-open; want shut or open"},
		{"another link", func(w *scenarios.Shows) { w.LinkAtEnd = "chamber" }, "valve held at the end by pilot; want chamber"},
		{"on its seat", func(w *scenarios.Shows) { w.SeatedAtEnd = &yes }, "valve seated at the end: false; want true"},
		{"never what happens", func(w *scenarios.Shows) { w.Never = []string{"coil-on"} }, "coil-on happens at "},
		{"order turned round", func(w *scenarios.Shows) { slices.Reverse(w.Order) }, "coil-off first happens at "},
		{"order with what does not happen", func(w *scenarios.Shows) { w.Order = []string{"disc-lift", "disc-seated"} }, "disc-seated does not happen; want it in the order disc-lift, disc-seated"},
		{"too soon", func(w *scenarios.Shows) { w.First = []scenarios.FirstEvent{{Event: "disc-lift", After: num(3)}} }, "want no sooner than 3 s"},
		{"too late", func(w *scenarios.Shows) { w.First = []scenarios.FirstEvent{{Event: "disc-lift", Before: num(1)}} }, "want no later than 1 s"},
		{"first of what does not happen", func(w *scenarios.Shows) {
			w.First = []scenarios.FirstEvent{{Event: "disc-seated", Before: num(9)}}
		}, "disc-seated does not happen; want it"},
		{"below its bound", func(w *scenarios.Shows) { w.Final[0].AtLeast, w.Final[0].AtMost = num(11e5), nil }, "vessel.pressure at the end: 6."},
		{"above its bound", func(w *scenarios.Shows) { w.Final[0].AtMost = num(5e5) }, "want at most 5 bar abs"},
		{"no such quantity", func(w *scenarios.Shows) { w.Final[0].Quantity = "valve.colour" }, "nothing at the end is called valve.colour; want a quantity such as vessel.pressure"},
		{"bound of another unit", func(w *scenarios.Shows) { w.Final[0].Quantity = "vessel.temperature" }, "vessel.temperature is measured in another unit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			shows := *sc.Shows
			shows.Order, shows.Final = slices.Clone(shows.Order), slices.Clone(shows.Final)
			c.change(&shows)
			changed, run := *sc, *r
			changed.Shows, run.Scenario = &shows, &changed
			found := live.Verify(&run)
			require.NotEmpty(t, found)
			assert.Contains(t, found[0], c.want)
		})
	}
}
