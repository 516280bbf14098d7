package screen

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
	"underdisc/viz/screen/desk"
)

// In every window, every panel holds all of its items, what can be pointed at is
// large enough, and no two things that can be reached lie on each other.
func TestPanelsHoldTheirItems(t *testing.T) {
	s := sit(t, "gas-bench-plus", scene.Point{X: 1600, Y: 900}, 1)
	s.press("n", "w", "Down", "Down", "Down", "Tab", "Tab", "Tab", "Tab", "Tab", "Enter")
	require.True(t, s.desk.Two())
	s.dry = true
	for _, c := range []struct {
		w, h, scale float64
		projector   bool
	}{{1024, 640, 1, false}, {1280, 720, 1, false}, {1600, 900, 1, false}, {1024, 640, 2, false}, {1280, 720, 1, true}, {1920, 1080, 1, true}, {1024, 640, 1, true}} {
		for _, beside := range []bool{false, true} {
			s.desk.Projector, s.desk.Beside = c.projector, beside
			s.desk.Touch()
			s.resize(scene.Point{X: c.w, Y: c.h}, c.scale)
			for _, keys := range [][]string{{}, {"a"}, {"f", "Down"}, {"f", "Down", "Down", "Down", "Down", "Down", "Down"}, {"h"}, {"u"}, {"y"}, {"y", "Right"}, {"y", "Right", "Right"}, {"c", "Down"}, {"c", "Down", "Down", "Down", "Down"},
				{"f", "Down", "Down", "Tab", "Tab", "Tab", "Right", "Tab", "Tab", "Tab", "Enter"}} {
				s.press("Escape")
				s.press(keys...)
				name := fmt.Sprintf("%gx%g scale %g projector %v beside %v %v", c.w, c.h, c.scale, c.projector, beside, keys)
				s.checkStops(name)
				if len(keys) > 5 && keys[4] == "Tab" {
					require.Contains(t, s.item("code").Wrong, "Found no code", name)
					s.press("Escape", "f")
					for s.desk.Focus() != "item hidden" {
						s.press("Tab")
					}
					s.press("Left") // openly again
				}
				if len(keys) > 0 {
					assert.LessOrEqual(t, s.board.over, 0, "%s: items end below the panel", name)
				}
			}
		}
	}
}

func (s *sitting) item(name string) *desk.Item {
	for i := range s.items {
		if s.items[i].Name == name {
			return &s.items[i]
		}
	}
	require.Fail(s.t, "no item "+name)
	return nil
}

func (s *sitting) checkStops(name string) {
	least := int(24 * s.scale)
	screen := s.on.Bounds()
	for a, r := range s.board.stops {
		assert.GreaterOrEqual(s.t, r.Dx(), least, "%s: %s", name, a)
		assert.GreaterOrEqual(s.t, r.Dy(), least, "%s: %s", name, a)
		assert.True(s.t, r.In(screen), "%s: %s at %v", name, a, r)
		for b, q := range s.board.stops {
			bar := func(n string) bool { return len(n) > 7 && n[:7] == "button " }
			if a != b && bar(a) == bar(b) { // a panel lies over nothing that can be reached meanwhile
				assert.True(s.t, r.Intersect(q).Empty(), "%s: %s and %s overlap", name, a, b)
			}
		}
	}
}
