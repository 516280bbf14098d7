package twin_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/viz/scene"
	"underdisc/viz/twin"
	"underdisc/viz/view"
)

// Of a boiler plant all that its panel shows is said, of one run and of two;
// while a fault is hidden, what is seen from outside.
func TestBoiler(t *testing.T) {
	r := run(t, "boiler-plant", 75)
	said := textAt(t, r, 73, scene.Units{})
	for _, want := range []string{"boiler, Drum: 40.4", ", falling, fire holds 38.00, switch sets 41.00", "boiler, Water: 51 %, feedwater ", "boiler, Fire: 1",
		"asked for 2.00 MW", "boiler, Load: ", "its valve 10 % open", "boiler, Operators: told, read 40.", "boiler, Lamps: demand lamp lit",
		"wall temperatures: tailpipe ", " (lowest point ", "block valve: 100 % open", "body drain: shut", "the tailpipe ends in: header at 1."} {
		assert.Contains(t, said, want)
	}
	assert.NotContains(t, said, "leak past the chamber")
	for _, l := range strings.Split(said, "\n") {
		assert.LessOrEqual(t, len(l), 340)
	}
	va, err := view.At(r, 73, view.Options{})
	require.NoError(t, err)
	p := &scene.Pair{A: va, B: va, Forks: 1}
	both := twin.PairText(p, scene.DrawPair(p), held)
	assert.Contains(t, both, "A, boiler, Drum: 40.4")
	assert.Contains(t, both, "B, boiler, Operators: told")
	assert.NotContains(t, textAt(t, run(t, "steam-bench", 3), 2, scene.Units{}), "boiler")

	sc, err := scenarios.Load("boiler-plant")
	require.NoError(t, err)
	e, err := fault.ParseEntry(sc.Plant, "seat-leaks=2mm2")
	require.NoError(t, err)
	hidden := textAt(t, run(t, "boiler-plant", 75, e), 73, scene.Units{})
	assert.Contains(t, hidden, "boiler, Drum: 40.")
	assert.Contains(t, hidden, "boiler, Lamps: demand lamp lit")
	for _, inside := range []string{"disc shut", "disc open", "body drain", "header", "fuse"} {
		assert.NotContains(t, hidden, inside)
	}
}
