package twin_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/viz/scene"
	"underdisc/viz/twin"
	"underdisc/viz/view"
)

// What the picture of a spring-loaded valve shows is said: state and reason, its
// links, forces, pressures, flow, rings, wear as an index, lever and caution.
func TestSaysWhatIsShownOfASpringValve(t *testing.T) {
	r := run(t, "spring-reference", 5)
	said := textAt(t, r, 4.3, scene.Units{Gauge: true})
	for _, want := range []string{"why: at full lift.", "link 1, Inlet: ", "link 5, Flow holds stands: acts now", "link 6, Reseat: open, shuts below 38.2",
		"huddling chamber 17.4", "below the upper ring 12.0", "lift: 14.0 mm of 14.0 mm", "lower ring: 2.5 mm of gap with the disc shut, 16.5 mm now",
		"upper ring: its way out is 26.0 mm high", "wear of the seat, a relative index: ", "Spring 9.56 kN down", "pin 3: full lift at 3.98", "lever: ", twin.Caution} {
		assert.Contains(t, said, want)
	}
	shut := textAt(t, r, 0.3, scene.Units{Gauge: true})
	assert.Contains(t, shut, "by hand at the lever it would take")
	assert.Contains(t, shut, "faces part at 39.17")
	for _, l := range strings.Split(strings.TrimSpace(said+shut), "\n") {
		assert.LessOrEqual(t, len(l), 340, "short enough to be read aloud: %s", l)
		assert.NotContains(t, l, "NaN")
	}
	v, err := view.At(run(t, "boiler-plant-safeties", 2), 1, view.Options{Valve: 2})
	require.NoError(t, err)
	assert.Contains(t, twin.Text(v, scene.Draw(v), held), "valve: safety-2, valve 3 of 3")
}

// A hidden gag is not said.
func TestSealedSpringTwinSaysNothingOfTheInside(t *testing.T) {
	r := run(t, "spring-reference", 5)
	e, err := fault.ParseEntry(r.Scenario.Plant, "gag-left-on")
	require.NoError(t, err)
	hidden := run(t, "spring-reference", 4, e)
	said := textAt(t, hidden, 3.5, scene.Units{})
	assert.Contains(t, said, "Vessel gauge: ")
	assert.Contains(t, said, "Lever: at rest")
	for _, wrong := range []string{"gag", "lift: ", "kN", "wear", "ring: ", "NaN", "parts at", "it would take"} {
		assert.NotContains(t, said, wrong)
	}
}
