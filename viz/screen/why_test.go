package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/viz/scene"
)

// The answer opens with a key, all its pages fit, and it follows the moment.
func TestWhyIsShown(t *testing.T) {
	s := sit(t, "fault-pilot-leaks", scene.Point{X: 1600, Y: 900}, 1)
	s.press("Space")
	s.pass(2000)
	s.press("Space", "y")
	assert.Equal(t, "Why?", s.desk.Panel().Title())
	for _, size := range []struct {
		name      string
		size      scene.Point
		projector bool
	}{{"window", scene.Point{X: 1600, Y: 900}, false}, {"small", scene.Point{X: 1024, Y: 640}, false}, {"projector", scene.Point{X: 1280, Y: 720}, true}} {
		s.desk.Projector = size.projector
		s.resize(size.size, 1)
		for _, page := range []string{"answer", "links", "numbers", "frees"} {
			assert.LessOrEqual(t, s.board.over, 0, "%s, %s: longer than the panel", size.name, page)
			s.keep("why-" + size.name + "-" + page)
			s.press("Right")
		}
		s.press("Left", "Left", "Left")
	}
}
