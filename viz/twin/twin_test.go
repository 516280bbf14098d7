package twin_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/twin"
	"underdisc/viz/view"
)

var held = twin.Clock{State: "held", Measure: "1 s here = 1 s there"}

func run(t *testing.T, name string, until float64, hidden ...fault.Entry) *live.Run {
	t.Helper()
	sc, err := scenarios.Load(name)
	require.NoError(t, err)
	for _, f := range hidden {
		sc.Record(scenarios.Action{Fault: &f, Hidden: true, Code: "lantern"})
	}
	r, err := live.Start(sc, live.Options{RelTol: 1e-6})
	require.NoError(t, err)
	require.NoError(t, r.Sim.Finish(until))
	return r
}

func textAt(t *testing.T, r *live.Run, at float64, u scene.Units) string {
	t.Helper()
	v, err := view.At(r, at, view.Options{Units: u})
	require.NoError(t, err)
	return twin.Text(v, scene.Draw(v), held)
}

// What the picture shows is said: state, reason, all links, the forces, the
// pressures with their unit, the flows, the caution.
func TestSaysWhatIsShown(t *testing.T) {
	r := run(t, "gas-bench-plus", 4)
	said := textAt(t, r, 2.206, scene.Units{})
	for _, want := range []string{"run: gas-bench-plus\n", "time: 2.206 s, held\n", "why: opening.", "drive it down.",
		"link 1, switch: made", "link 6, disc: moving, 1.9 mm of 15.0 mm", "link 6, disc stands: acts now",
		"Chamber 1.86 kN up", "chamber 4.83, tailpipe 1.03 bar abs", "flow past the seat: ", "pin 6: disc full open, to come", twin.Caution} {
		assert.Contains(t, said, want)
	}
	for _, l := range strings.Split(strings.TrimSpace(said), "\n") {
		assert.LessOrEqual(t, len(l), 340, "short enough to be read aloud: %s", l)
		assert.NotContains(t, l, "NaN")
	}
	psi := textAt(t, r, 2.206, scene.Units{Pressure: scene.PSI, Gauge: true, PoundsPerHour: true, Fahrenheit: true})
	assert.Contains(t, psi, "psig")
	assert.Contains(t, psi, "lb/h")
	assert.Contains(t, psi, "degF")
	assert.NotContains(t, psi, "bar")
	assert.Equal(t, said, textAt(t, r, 2.206, scene.Units{}), "the same moment is said in the same words")
	assert.NotEqual(t, said, textAt(t, r, 2.208, scene.Units{}))
}

func TestSaysTwoRuns(t *testing.T) {
	a, b := run(t, "gas-bench-plus", 4), run(t, "fault-bleed-plugged", 4)
	va, err := view.At(a, 3.9, view.Options{})
	require.NoError(t, err)
	vb, err := view.At(b, 3.9, view.Options{})
	require.NoError(t, err)
	p := &scene.Pair{A: va, B: vb, Forks: 1, Differs: []string{"valve bleed area 0.5 mm2, not 3.3 mm2"}}
	said := twin.PairText(p, scene.DrawPair(p), held)
	for _, want := range []string{"two runs, parted at: ", "B has: valve bleed area 0.5 mm2", "A: " + va.State + ". ", "B: " + vb.State + ". ", "A, pressures", "B, flow past the seat"} {
		assert.Contains(t, said, want)
	}
}

// While a fault is hidden, nothing of the inside is said, whatever the fault.
func TestSealed(t *testing.T) {
	for _, f := range fault.All() {
		sc, err := scenarios.Load("gas-bench-plus")
		require.NoError(t, err)
		e, err := fault.ParseEntry(sc.Plant, f.Name)
		if err != nil {
			continue
		}
		r := run(t, "gas-bench-plus", 9, e)
		for _, at := range []float64{1, 2.19, 2.206, 3, 3.7, 3.9, 8} {
			said := textAt(t, r, at, scene.Units{})
			said = strings.ReplaceAll(said, "chamber and disc lift not measured", "")
			for _, inside := range []string{"pressures: ", "temperatures: ", "lift", "kN", "mm2", "bleed", "balance", "the seat", f.Name, strings.ReplaceAll(f.Name, "-", " ")} {
				assert.NotContains(t, said, inside, "%s at %g s", f.Name, at)
			}
			assert.Contains(t, said, "link 5, chamber: sealed")
			assert.Contains(t, said, "reading, Vessel: ")
		}
	}
}
