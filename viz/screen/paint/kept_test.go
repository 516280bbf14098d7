package paint_test

import (
	"fmt"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/golden"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
	"underdisc/viz/screen/paint"
)

// A painter that has painted for a while, with triangles and a base that it
// keeps, shows what a new one shows: as things move, when they stand still, and
// when they go on.
func TestKeptIsAsNew(t *testing.T) {
	harness.Need(t)
	p := paint.New()
	dst := ebiten.NewImage(1600, 900)
	defer dst.Deallocate()
	seen := map[int]bool{}
	at := 2.13
	for frame := range 240 {
		if frame < 100 || frame >= 170 { // in between it stands still
			at += 0.0006
		}
		s := scene.Draw(viewAt(t, at))
		p.Paint(dst, s, 1)
		seen[p.Stats().Bases] = true
		if frame%29 == 0 || frame == 169 {
			d, box := golden.Compare(harness.Pixels(dst), onScreen(paint.New(), s, 1))
			// A shape that moved keeps its triangles, its edges a rounding apart.
			assert.Less(t, d, 0.004, "frame %d, %g s, at %v", frame, at, box)
			if frame == 169 {
				st := p.Stats()
				assert.Zero(t, st.Triangles, "what stands still is in the base")
				assert.Zero(t, st.Made)
			}
		}
	}
	assert.Greater(t, len(seen), 2, "the base has been made and made again")
	assert.Less(t, p.Stats().Bases, 40, "but not for every frame")
}

// Another size or scale, and there and back, leaves nothing of the one before.
func TestAnotherSize(t *testing.T) {
	harness.Need(t)
	p := paint.New()
	s := scene.Draw(viewAt(t, 2.206))
	want := onScreen(paint.New(), s, 1)
	for range 40 {
		onScreen(p, s, 1)
	}
	onScreen(p, s, 0.75)
	for range 40 {
		d, _ := golden.Compare(onScreen(p, s, 1), want)
		require.Less(t, d, 0.001)
	}
}

// At twice the scale the picture is that of paper at twice the scale, not the
// simple one made larger.
func TestSharpAtTwiceTheScale(t *testing.T) {
	harness.Need(t)
	s := scene.Draw(viewAt(t, 2.206))
	screen, page := onScreen(paint.New(), s, 2), onPaper(t, s, 2)
	keep(t, "screen-twice.png", screen)
	d, box := golden.Compare(screen, page)
	mean, _ := golden.Spread(screen, page)
	t.Logf("worst tile %.4f at %v, mean %.5f", d, box, mean)
	const sharp = 0.08
	assert.Less(t, d, sharp, "at %v", box)

	once := ebiten.NewImage(1600, 900)
	paint.New().Paint(once, s, 1)
	large := ebiten.NewImage(3200, 1800)
	var o ebiten.DrawImageOptions
	o.GeoM.Scale(2, 2)
	o.Filter = ebiten.FilterLinear
	large.DrawImage(once, &o)
	blurred, _ := golden.Compare(harness.Pixels(large), page)
	assert.Greater(t, blurred, 2*sharp, "the bound tells sharp from blurred")
}

// More letters than the atlas holds, one size after the other.
func TestManySizesOfLetters(t *testing.T) {
	harness.Need(t)
	p := paint.New()
	var last *scene.Scene
	for k := range 60 {
		last = &scene.Scene{Size: scene.Point{X: 900, Y: 120}}
		for line := range 2 {
			last.Shapes = append(last.Shapes, scene.Shape{Part: "words", Text: &scene.Text{
				At: scene.Point{X: 10.3 + 0.17*float64(k), Y: 40.4 + 40*float64(line)}, Size: 14 + 0.31*float64(k), Ink: scene.Dark, Bold: line == 1,
				Words: fmt.Sprintf("%d The quick brown fox jumps over it: 0123456789", k)}})
		}
		got := onScreen(p, last, 1)
		d, box := golden.Compare(got, onScreen(paint.New(), last, 1))
		require.Zero(t, d, "size %d at %v", k, box)
	}
}
