package scene_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
	"underdisc/viz/view"
)

// The keyboard's order, and what each place says.
func TestFocus(t *testing.T) {
	r := runOf(t, "gas-bench", "", 2.7)
	v, err := view.At(r, 2.190, view.Options{})
	require.NoError(t, err)
	s := scene.Draw(v)
	var names []string
	says := map[string]string{}
	for _, f := range s.Focus {
		names = append(names, f.Name)
		says[f.Name] = f.Says
		assert.Greater(t, f.At.Width(), 0.0, f.Name)
	}
	want := []string{"why", "link 1, switch", "link 2, relay", "link 3, coil", "link 4, pilot", "link 5, chamber", "link 6, disc", "forces", "charts"}
	for i := range 12 {
		want = append(want, fmt.Sprintf("pin %d", i+1))
	}
	assert.Equal(t, want, names)
	for name, words := range map[string][]string{
		"why":             {"emptying", "chamber"},
		"link 1, switch":  {"made", "set 12.00", "bar abs", "done"},
		"link 3, coil":    {"A", "drops at", "done"},
		"link 5, chamber": {"bar abs", "acts now"},
		"link 6, disc":    {"on its seat", "to come"},
		"forces":          {"To lift", "Body on rim", "Weight", "Seat holds"},
		"pin 1":           {"switch made at 2.127910 s"},
		"pin 12":          {"disc seated, to come"},
	} {
		for _, w := range words {
			assert.Contains(t, says[name], w, name)
		}
	}
}

// Of a pair each run has its links, its margin and its pins; of a sealed one the
// instruments.
func TestFocusOfPairAndSealed(t *testing.T) {
	names := func(s *scene.Scene) (out []string) {
		seen := map[string]bool{}
		for _, f := range s.Focus {
			assert.False(t, seen[f.Name], "%s twice", f.Name)
			seen[f.Name] = true
			assert.NotEmpty(t, f.Says, f.Name)
			assert.Greater(t, f.At.Width(), 0.0, f.Name)
			assert.Greater(t, f.At.Height(), 0.0, f.Name)
			out = append(out, f.Name)
		}
		return out
	}
	a := viewOf(t, runOf(t, "gas-bench-plus", "", 4.5), 4, scene.Units{})
	b := viewOf(t, runOf(t, "gas-bench-plus", "bleed-plugged=0.5mm2@3.4s", 4.5), 4, scene.Units{})
	s := scene.DrawPair(&scene.Pair{A: a, B: b, Forks: 3.4, Differs: []string{"bleed area 0.5 mm2, not 3.3 mm2"}})
	got := names(s)
	for _, want := range []string{"why", "A, link 1, switch", "A, link 6, disc", "A, margin", "B, link 1, switch", "B, link 5, chamber", "B, margin", "charts", "A, pin 1", "A, pin 12", "B, pin 7"} {
		assert.Contains(t, got, want)
	}
	assert.NotContains(t, got, "B, pin 6", "it is from before they parted")
	assert.Contains(t, s.Focus[0].Says, "bleed area 0.5 mm2, not 3.3 mm2")
	assert.Contains(t, s.Focus[0].Says, "A shut, B refilling")

	sealed := names(scene.Draw(viewOf(t, hiddenRun(t, "gas-bench-plus", 2.706), 2.206, scene.Units{})))
	for _, want := range []string{"why", "link 1, switch", "link 3, coil", "reading, Vessel", "reading, Tailpipe", "reading, Block valve", "link 4, pilot", "link 6, disc", "charts", "pin 1"} {
		assert.Contains(t, sealed, want)
	}
	assert.NotContains(t, sealed, "forces")
}
