package desk

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

// A key and a press of the picture's corner go from valve to valve, round the end; on
// a plant with one valve neither does.
func TestNextValve(t *testing.T) {
	d, out := newDesk(t, "boiler-plant-safeties")
	assert.Zero(t, d.Valve)
	for _, want := range []struct {
		valve int
		name  string
	}{{1, "safety-1"}, {2, "safety-2"}, {0, "valve"}} {
		press(d, "g")
		assert.Equal(t, want.valve, d.Valve)
		assert.Contains(t, out.last(), "Valve "+want.name)
	}
	d.enterSpot(&scene.Spot{Name: "valve"}, Shown{})
	assert.Equal(t, 1, d.Valve)

	d, out = newDesk(t, "spring-reference")
	press(d, "g")
	assert.Zero(t, d.Valve)
	assert.Contains(t, out.last(), "Not now")
}

// The lever is pulled on the panel, which carries its caution and says how hard it
// would have to be pulled now; the gag is put on there.
func TestLeverAndGag(t *testing.T) {
	d, out := newDesk(t, "spring-reference")
	pass(t, d, 0.1)
	press(d, "a")
	items := d.Items()
	assert.Equal(t, Caution, items[0].Kind)
	lever := item(t, d, "safety.lever.pull")
	st := d.springState(lever.Name)
	require.NotNil(t, st)
	assert.Contains(t, lever.Beside, scene.Force(st.HandToLift)+" lift it now")
	assert.Equal(t, 0, lever.Picked)
	assert.Equal(t, []string{"off", "on"}, item(t, d, "safety.gag.leaves-lift").Options)
	assert.Equal(t, 0, item(t, d, "safety.gag.leaves-lift").Picked)
	lever.Pick(4)
	assert.Contains(t, strings.ToLower(out.last()), "lever pull: all")
	press(d, "Space")
	pass(t, d, 1)
	assert.Greater(t, d.springState("safety.").Lift, 0.01, "it has been lifted by hand")
	item(t, d, "safety.lever.pull").Pick(0)
	item(t, d, "safety.gag.leaves-lift").Pick(1)
	assert.Contains(t, strings.ToLower(out.last()), "gag: on")
	assert.Equal(t, 1, item(t, d, "safety.gag.leaves-lift").Picked)
}

// The page that says why answers for the valve that is shown.
func TestWhyOfASpringValve(t *testing.T) {
	d, _ := newDesk(t, "boiler-plant-safeties")
	press(d, "g", "y")
	assert.Contains(t, read(d), "Why is it shut?")
	item(t, d, "show").Pick(whyLinks)
	assert.Contains(t, read(d), "1 inlet: acts now")
	item(t, d, "show").Pick(whyNumbers)
	assert.Contains(t, read(d), "blowdown, of the pop, gauge: ")
	press(d, "g")
	assert.Contains(t, read(d), "pops at: ")
}
