package main

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
	"underdisc/viz/golden"
)

// The browser shows the picture that was kept, at the instants that window and
// paper are held against in viz/screen/paint: each the end of a log, to which
// one key goes.
func TestGoldensInBrowser(t *testing.T) {
	browser := chromium(t)
	for _, in := range []struct {
		name, scenario string
		at             float64
	}{
		{"shut", "gas-bench-plus", 1}, {"emptying", "gas-bench-plus", 2.19}, {"opening", "gas-bench-plus", 2.206},
		{"refilling", "gas-bench-plus", 3.7}, {"hung-open", "fault-bleed-plugged", 4.5},
	} {
		t.Run(in.name, func(t *testing.T) {
			sc, err := scenarios.Load(in.scenario)
			require.NoError(t, err)
			path := filepath.Join(t.TempDir(), in.name+".yaml")
			w, err := runlog.Create(path, sc)
			require.NoError(t, err)
			require.NoError(t, w.Reached(in.at))
			require.NoError(t, w.Close())

			v := open(t, browser, served(t, path), 1280, 760, 1, "")
			v.until("underdisc.ready", "the first picture is drawn")
			v.press("e")
			v.until("underdisc.state().includes('t="+formatted(in.at)+" ')", "the last moment is shown")
			v.ticks(40) // the widgets, too
			shot, err := chromedp.Run(v.ctx, chromedp.CaptureScreenshot())
			require.NoError(t, err)
			m, err := png.Decode(bytes.NewReader(shot))
			require.NoError(t, err)
			canvas := image.NewRGBA(image.Rect(0, 0, 1280, 720))
			draw.Draw(canvas, canvas.Rect, m, m.Bounds().Min, draw.Src)
			if dir := os.Getenv("UNDERDISC_PICTURES"); dir != "" {
				require.NoError(t, os.WriteFile(filepath.Join(dir, "browser-"+in.name+".png"), shot, 0o644))
			}
			golden.Check(t, filepath.Join("testdata", "browser-"+in.name+".png"), canvas, 0.03)
		})
	}
}

func formatted(t float64) string { return strconv.FormatFloat(t, 'f', 6, 64) }
