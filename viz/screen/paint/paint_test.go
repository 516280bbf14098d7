package paint_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/live"
	"underdisc/viz/golden"
	"underdisc/viz/letters"
	"underdisc/viz/paper"
	"underdisc/viz/scene"
	"underdisc/viz/screen/harness"
	"underdisc/viz/screen/paint"
	"underdisc/viz/view"
)

var moments = []float64{1.0, 2.19, 2.206, 3.0, 3.7}

// bench is the run that all tests look at.
var bench *live.Run

func viewAt(t testing.TB, at float64) *scene.View {
	t.Helper()
	if bench == nil {
		sc, err := scenarios.Load("gas-bench-plus")
		require.NoError(t, err)
		sc.Until = 4
		bench, err = live.Start(sc, live.Options{RelTol: 1e-6})
		require.NoError(t, err)
		require.NoError(t, bench.Finish())
	}
	v, err := view.At(bench, at, view.Options{Size: scene.Point{X: 1600, Y: 900}})
	require.NoError(t, err)
	v.Measure = letters.Width
	return v
}

// onScreen is a scene as a painter paints it.
func onScreen(p *paint.Painter, s *scene.Scene, scale float64) *image.RGBA {
	dst := ebiten.NewImage(int(s.Size.X*scale), int(s.Size.Y*scale))
	defer dst.Deallocate()
	p.Paint(dst, s, scale)
	got := harness.Pixels(dst)
	harness.Frame()
	return got
}

// onPaper is a scene as it is printed.
func onPaper(t testing.TB, s *scene.Scene, scale float64) image.Image {
	var b bytes.Buffer
	require.NoError(t, paper.PaintScene(s, &b, "png", scale))
	m, err := png.Decode(&b)
	require.NoError(t, err)
	return m
}

// keep leaves a picture where UNDERDISC_PICTURES says, to be looked at.
func keep(t testing.TB, name string, m image.Image) {
	dir := os.Getenv("UNDERDISC_PICTURES")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name))
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, m))
	require.NoError(t, f.Close())
}

// The screen shows what paper does, but for the edges of shapes and letters.
func TestScreenLooksLikePaper(t *testing.T) {
	harness.Need(t)
	for _, at := range moments {
		s := scene.Draw(viewAt(t, at))
		screen, page := onScreen(paint.New(), s, 1), onPaper(t, s, 1)
		keep(t, fmt.Sprintf("screen-%g.png", at), screen)
		keep(t, fmt.Sprintf("paper-%g.png", at), page)
		d, box := golden.Compare(screen, page)
		mean, share := golden.Spread(screen, page)
		t.Logf("%g s: worst tile %.4f at %v, mean %.5f, share %.5f", at, d, box, mean, share)
		assert.Less(t, d, worstTile, "at %v", box)
		assert.Less(t, mean, meanApart)
	}
}

// Bounds of what screen and paper may differ by: edges are softened by other
// means, and letters stand on other fractions of a pixel.
const (
	worstTile = 0.12
	meanApart = 0.004
)
