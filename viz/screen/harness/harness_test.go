package harness_test

import (
	"image/color"
	"strings"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"

	"underdisc/viz/screen/harness"
)

func TestMain(m *testing.M) { harness.Main(m) }

var (
	black = color.RGBA{A: 255}
	red   = color.RGBA{R: 255, A: 255}
	green = color.RGBA{G: 255, A: 255}
)

func TestPixels(t *testing.T) {
	harness.Need(t)
	m := ebiten.NewImage(30, 20)
	m.Fill(red)
	m.Set(29, 19, green)
	got := harness.Pixels(m)
	assert.Equal(t, red, got.RGBAAt(0, 0))
	assert.Equal(t, green, got.RGBAAt(29, 19))
}

func TestWindow(t *testing.T) {
	w := harness.Start(t, harness.Program{Package: "./testdata/guest", Width: 320, Height: 200})
	if s := harness.Scale(); s != 1 {
		t.Skipf("the places below are for a display of scale 1, not %g", s)
	}
	w.Pointer(50, 40)
	first := w.Pixels()
	assert.Equal(t, 320, first.Rect.Dx())
	assert.Equal(t, 200, first.Rect.Dy())
	assert.Equal(t, red, first.RGBAAt(50, 40))
	assert.Equal(t, red, first.RGBAAt(69, 59))
	assert.Equal(t, black, first.RGBAAt(70, 59))
	assert.Equal(t, first.Pix, w.Pixels().Pix, "nothing passes between ticks")

	w.Hold(ebiten.KeyA)
	w.Tick(1)
	assert.Equal(t, green, w.Pixels().RGBAAt(50, 40))
	w.Release(ebiten.KeyA)
	w.Tick(1)
	assert.Equal(t, red, w.Pixels().RGBAAt(50, 40))

	w.Click(100, 100)
	assert.Equal(t, red, w.Pixels().RGBAAt(129, 129))
	assert.Equal(t, black, w.Pixels().RGBAAt(130, 129))

	w.Type("0.5 mm²")
	assert.False(t, w.Over())
	w.Hold(ebiten.KeyEscape)
	w.Press(ebiten.KeyB)
	assert.True(t, w.Over())
	// 1 by Pointer, 2 by Hold and Release, 4 by Click, 7 letters, and this one.
	const end = "typed 0.5 mm²\nticks 15\n"
	assert.Eventually(t, func() bool { return strings.Contains(w.Said(), end) }, 5*time.Second, 10*time.Millisecond)
	assert.Contains(t, w.Said(), end)
}

func TestWindowOfAProgramThatEnds(t *testing.T) {
	harness.Need(t)
	p := &probe{TB: t}
	done := make(chan struct{})
	go func() { // for a failure ends the goroutine
		defer close(done)
		harness.Start(p, harness.Program{Package: "./testdata/guest", Args: []string{"thanks"}})
	}()
	<-done
	assert.Contains(t, p.failure, "ended before it opened a window")
	assert.Contains(t, p.failure, "no: thanks")
}
