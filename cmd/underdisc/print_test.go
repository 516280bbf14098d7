package main

import (
	"context"
	"image"
	"image/gif"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

func TestPrintOne(t *testing.T) {
	dir := inFolder(t)
	for _, name := range []string{"a.png", "a.svg", "a.pdf"} {
		status, out, errs := call(t, t.Context(), "print", "gas-bench", "--at", "2.206s", "--out", name, "--units", "psi,gauge")
		require.Equal(t, exitGood, status, errs)
		assert.Equal(t, name+"\n", out)
	}
	empty(t, dir, "a.pdf", "a.png", "a.svg")
	f, err := os.Open("a.png")
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	assert.Equal(t, image.Pt(1600, 900), img.Bounds().Size())
	for name, head := range map[string]string{"a.svg": "<", "a.pdf": "%PDF"} {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), head), name)
		info, err := os.Stat(name)
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o644), info.Mode().Perm())
	}

	status, _, errs := call(t, t.Context(), "print", "gas-bench", "--at", "0s", "--out", "a.png", "--size", "1024x640", "--projector")
	require.Equal(t, exitGood, status, errs)
	again, err := os.Open("a.png")
	require.NoError(t, err)
	defer again.Close()
	c, err := png.DecodeConfig(again)
	require.NoError(t, err)
	assert.Equal(t, []int{1024, 640}, []int{c.Width, c.Height}, "replaced")
}

func TestPrintIsTheSameTwice(t *testing.T) {
	inFolder(t)
	for _, name := range []string{"a.png", "b.png"} {
		status, _, errs := call(t, t.Context(), "print", "gas-bench", "--at", "2.19s", "--out", name)
		require.Equal(t, exitGood, status, errs)
	}
	a, err := os.ReadFile("a.png")
	require.NoError(t, err)
	b, err := os.ReadFile("b.png")
	require.NoError(t, err)
	assert.Equal(t, a, b)

	status, _, errs := call(t, t.Context(), "print", "gas-bench", "--at", "5s", "--out", "c.png", "--fault", "bleed-plugged=0mm2", "--set", "valve.disc.friction=15N")
	require.Equal(t, exitGood, status, errs)
}

func TestPrintSequence(t *testing.T) {
	dir := inFolder(t)
	status, out, errs := call(t, t.Context(), "print", "gas-bench", "--from", "2.2s", "--to", "2.206s", "--every", "3ms", "--out", "pop.svg")
	require.Equal(t, exitGood, status, errs)
	assert.Equal(t, "3 pictures, pop-0001.svg to pop-0003.svg\n", out)
	empty(t, dir, "pop-0001.svg", "pop-0002.svg", "pop-0003.svg")
}

func TestPrintMoving(t *testing.T) {
	dir := inFolder(t)
	status, out, errs := call(t, t.Context(), "print", "gas-bench", "--from", "2.198s", "--to", "2.206s", "--every", "4ms", "--out", "pop.gif", "--size", "1024x640")
	require.Equal(t, exitGood, status, errs)
	assert.Equal(t, "pop.gif\n", out)
	empty(t, dir, "pop.gif")
	f, err := os.Open("pop.gif")
	require.NoError(t, err)
	defer f.Close()
	g, err := gif.DecodeAll(f)
	require.NoError(t, err)
	require.Len(t, g.Image, 3)
	assert.Equal(t, image.Rect(0, 0, 1024, 640), g.Image[0].Bounds())
	assert.LessOrEqual(t, g.Image[1].Bounds().Dx()*g.Image[1].Bounds().Dy(), 1024*640)
	assert.NotEmpty(t, g.Image[0].Palette)
	assert.Greater(t, g.Delay[2], g.Delay[0], "the end stands")
}

func TestPrintBadInput(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		says string
	}{
		{"no such scenario", []string{"nothing", "--at", "1s", "--out", "a.png"}, "nothing"},
		{"no moment", []string{"gas-bench", "--out", "a.png"}, "want --at TIME, or --from"},
		{"half a sequence", []string{"gas-bench", "--from", "1s", "--to", "2s", "--out", "a.png"}, "want --at TIME, or --from"},
		{"both", []string{"gas-bench", "--at", "1s", "--to", "2s", "--out", "a.png"}, "beside"},
		{"no unit", []string{"gas-bench", "--at", "1", "--out", "a.png"}, "--at"},
		{"before the start", []string{"gas-bench", "--at=-1s", "--out", "a.png"}, "want 0 s to"},
		{"backwards", []string{"gas-bench", "--from", "2s", "--to", "1s", "--every", "1ms", "--out", "a.png"}, "--to"},
		{"standing", []string{"gas-bench", "--from", "1s", "--to", "2s", "--every", "0s", "--out", "a.png"}, "--every"},
		{"too many", []string{"gas-bench", "--from", "0s", "--to", "60s", "--every", "1ms", "--out", "a.png"}, "60001 pictures"},
		{"too many frames", []string{"gas-bench", "--from", "0s", "--to", "1s", "--every", "1ms", "--out", "a.gif"}, "1001 frames"},
		{"a moving moment", []string{"gas-bench", "--at", "1s", "--out", "a.gif"}, "a sequence"},
		{"no format", []string{"gas-bench", "--at", "1s", "--out", "a.bmp"}, ".png, .svg, .pdf or .gif"},
		{"no output", []string{"gas-bench", "--at", "1s"}, "--out"},
		{"no folder", []string{"gas-bench", "--at", "1s", "--out", "b/a.png"}, "found no folder b"},
		{"a folder", []string{"gas-bench", "--at", "1s", "--out", "taken.png"}, "no plain file"},
		{"small", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--size", "640x480"}, "--size"},
		{"no size", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--size", "1600x900px"}, "--size"},
		{"no such unit", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--units", "atm"}, "found \"atm\""},
		{"two units", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--units", "bar,psi"}, "psi beside bar"},
		{"bad fault", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--fault", "no-such"}, "no-such"},
		{"a fault after the end", []string{"gas-bench", "--at", "1s", "--out", "a.png", "--fault", "bleed-plugged@2s"}, "after the end"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := inFolder(t)
			require.NoError(t, os.Mkdir("taken.png", 0o755))
			status, out, errs := call(t, t.Context(), append([]string{"print"}, c.args...)...)
			assert.Equal(t, exitBadInput, status, errs)
			assert.Empty(t, out)
			isOneLine(t, errs)
			assert.Contains(t, errs, c.says)
			empty(t, dir, "taken.png")
		})
	}
}

func TestPrintInterrupted(t *testing.T) {
	for name, args := range map[string][]string{
		"while running": {"--at", "9e6s", "--out", "a.png"},
		"while drawing": {"--from", "0s", "--to", "1s", "--every", "1ms", "--out", "a.png"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := inFolder(t)
			ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
			defer cancel()
			status, out, errs := call(t, ctx, append([]string{"print", "gas-bench"}, args...)...)
			assert.Equal(t, exitInterrupted, status, errs)
			assert.Empty(t, out)
			isOneLine(t, errs)
			empty(t, dir)
		})
	}
}

// A picture that cannot be written ends with status 1 and leaves nothing.
func TestPrintCannotWrite(t *testing.T) {
	dir := inFolder(t)
	out, err := openFiles([]string{"a.png"})
	require.NoError(t, err)
	require.NoError(t, out.add(0, func(w io.Writer) error { _, err := w.Write([]byte("x")); return err }))
	require.NoError(t, os.Mkdir("a.png", 0o755))
	require.NoError(t, os.WriteFile(filepath.Join("a.png", "in the way"), nil, 0o600))
	assert.Error(t, out.commit())
	out.abandon()
	empty(t, dir, "a.png")
}

func TestUnitsFlag(t *testing.T) {
	u, err := parseUnits("psi,gauge,degF,lb/h")
	require.NoError(t, err)
	assert.Equal(t, scene.Units{Pressure: scene.PSI, Gauge: true, Fahrenheit: true, PoundsPerHour: true}, u)
	u, err = parseUnits("kPa, abs, kg/s")
	require.NoError(t, err)
	assert.Equal(t, scene.Units{Pressure: scene.KPa, KilogramsPerSecond: true}, u)
}

// Slowed down, a sequence has most of its pictures where something fast happens.
func TestPrintSlowed(t *testing.T) {
	dir := inFolder(t)
	status, out, errs := call(t, t.Context(), "print", "gas-bench-plus", "--from", "1.9s", "--to", "2.4s", "--every", "0.4s", "--slowed", "--size", "1024x640", "--out", "slow.svg")
	require.Equal(t, exitGood, status, errs)
	even := 2 // of the half second, at real time
	names, err := filepath.Glob(filepath.Join(dir, "slow-*.svg"))
	require.NoError(t, err)
	assert.Greater(t, len(names), 4*even, out)
	assert.Less(t, len(names), 40)
	status, _, errs = call(t, t.Context(), "print", "gas-bench-plus", "--at", "2s", "--slowed", "--out", "a.png")
	assert.Equal(t, exitBadInput, status)
	assert.Contains(t, errs, "--slowed")
}
