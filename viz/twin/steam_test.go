package twin_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/viz/scene"
)

// Of a steam plant it is said what is where and how warm the metal is; while a
// fault is hidden, only the metal that a hand outside feels.
func TestSteam(t *testing.T) {
	r := run(t, "steam-bench", 9)
	said := textAt(t, r, 4.112, scene.Units{})
	for _, want := range []string{"the drum holds: water in 50 % of its volume", "in the chamber: wet steam: 9", " % water by mass, ", " of it water, as mist or film",
		"wall temperatures: tailpipe 20 degC, dump line 2", ", body 250 degC, chamber 2"} {
		assert.Contains(t, said, want)
	}
	assert.Contains(t, textAt(t, r, 1, scene.Units{}), "in the tailpipe: air\n")
	assert.Contains(t, textAt(t, r, 9, scene.Units{}), " air, ")
	assert.Contains(t, textAt(t, r, 9, scene.Units{Fahrenheit: true}), "wall temperatures: tailpipe 1")
	for _, gas := range []string{"the drum", "wall temp", "water"} {
		assert.NotContains(t, textAt(t, run(t, "gas-bench-plus", 3), 2.6, scene.Units{}), gas)
	}

	sc, err := scenarios.Load("steam-bench")
	require.NoError(t, err)
	e, err := fault.ParseEntry(sc.Plant, "seat-leaks=2mm2")
	require.NoError(t, err)
	hidden := textAt(t, run(t, "steam-bench", 3, e), 3, scene.Units{})
	assert.Contains(t, hidden, "reading, Tailpipe wall: ")
	assert.Contains(t, hidden, "reading, Dump line wall: ")
	assert.Contains(t, hidden, "reading, Drum: ")
	for _, inside := range []string{"in the chamber", "the drum holds", "body", "by mass", "wall temperatures", "leaks past"} {
		assert.NotContains(t, hidden, inside)
	}
}
