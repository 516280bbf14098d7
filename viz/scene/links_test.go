package scene_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/viz/scene"
)

// A shut valve that nobody asked to open has no link that has acted, though its
// seat or its pilot leaks.
func TestLinksOfALeakingValveAreToCome(t *testing.T) {
	for _, c := range []struct {
		scenario string
		at       float64
		acts     int
	}{{"leaking-seat-steam", 60, 6}, {"fault-pilot-leaks-small", 1, 4}} {
		v := viewOf(t, runOf(t, c.scenario, "", c.at+0.5), c.at, scene.Units{})
		for link := 1; link <= 6; link++ {
			want := scene.ToCome
			if link == c.acts {
				want = scene.ActsNow
			}
			assert.Equal(t, want, v.LinkStanding(link), "%s, link %d", c.scenario, link)
		}
	}
}

// While it is asked, they are those that have acted.
func TestLinksOfAnOpeningValveHaveActed(t *testing.T) {
	v := viewOf(t, runOf(t, "gas-bench-plus", "", 2.706), 2.206, scene.Units{})
	for link := 1; link <= 5; link++ {
		assert.Equal(t, scene.Done, v.LinkStanding(link), link)
	}
	assert.Equal(t, scene.ActsNow, v.LinkStanding(6))
}
