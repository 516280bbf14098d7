package paper

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

// A text with much kerning ends on a PNG where its width says, at any size.
func TestKernedTextIsAsWideAsMeasured(t *testing.T) {
	for _, size := range []float64{13, 17.5, 50} {
		const words = "AVAVAVAVATAVA"
		s := &scene.Scene{Size: scene.Point{X: 600, Y: 80}, Shapes: []scene.Shape{{Text: &scene.Text{
			At: scene.Point{X: 10, Y: 60}, Size: size, Ink: scene.Black, Words: words}}}}
		var b bytes.Buffer
		require.NoError(t, PaintScene(s, &b, "png", 1))
		m, err := png.Decode(&b)
		require.NoError(t, err)
		last := 0
		for y := range 80 {
			for x := range 600 {
				if r, _, _, _ := m.At(x, y).RGBA(); r < 0x8000 {
					last = max(last, x)
				}
			}
		}
		assert.InDelta(t, 10+SceneTextWidth(size, false, words), last, 1.5, "size %g", size)
	}
}
