package view_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// The words of a page: no pressure below zero, a force that holds and one that
// pushes, every way out with its repair and who does it, and a next step.
func TestWhyWordsAreSafe(t *testing.T) {
	r := whyRun(t, "boiler-plant", 75, "valve.disc.bond.shut=20 kN")
	why, pg, err := view.WhyAt(r, 75, 0, scene.Units{})
	require.NoError(t, err)
	assert.Equal(t, "no pressure would do", why.Rows[4].Threshold)
	f := &pg.Facts
	assert.Contains(t, why.Answer[0], scene.Force(f.Disc.Stick+f.Disc.Bond)+", and ")
	require.NotEmpty(t, why.Frees)
	for _, w := range why.Frees {
		assert.NotEmpty(t, w.Does, w.What)
		assert.NotEmpty(t, w.By, w.What)
	}
	for _, w := range why.Sums {
		assert.Empty(t, w.Does, w.What)
		assert.True(t, strings.HasPrefix(w.By, "nobody") || strings.HasPrefix(w.By, "only if") || strings.HasPrefix(w.By, "comes"), w.By)
	}
	assert.Contains(t, why.Next, "Tell the operators now")
	assert.NotContains(t, why.Next, "block valve")

	// A slow fill takes at least its time.
	r = whyRun(t, "gas-bench-plus", 4.5, "valve.bleed.area=0 mm2")
	why, _, err = view.WhyAt(r, 4.5, 0, scene.Units{})
	require.NoError(t, err)
	said := ""
	for _, n := range why.Numbers {
		said += n.Name + ": " + n.Value + "\n"
	}
	assert.Contains(t, said, "until the chamber is there: at least ")
	assert.Contains(t, why.Next, "never as the first step")
}
