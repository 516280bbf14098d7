package scene_test

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/viz/scene"
)

// linear undoes the sRGB curve (IEC 61966-2-1).
func linear(c uint8) float64 {
	x := float64(c) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

// deuteranopia turns linear RGB into what an eye without the green cones sees:
// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based
// model for simulation of color vision deficiency, IEEE Transactions on
// Visualization and Computer Graphics 15 (2009) 1291-1298, matrix for
// deuteranomaly of severity 1.0.
var deuteranopia = [3][3]float64{
	{0.367322, 0.860646, -0.227968},
	{0.280085, 0.672501, 0.047413},
	{-0.011820, 0.042940, 0.968881},
}

// lightness is CIE L*, 0 to 100, in grey, and as seen in deuteranopia.
func lightness(c color.RGBA) (grey, blind float64) {
	rgb := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var seen [3]float64
	for i := range seen {
		for j := range rgb {
			seen[i] += deuteranopia[i][j] * rgb[j]
		}
		seen[i] = min(max(seen[i], 0), 1)
	}
	l := func(p [3]float64) float64 {
		y := 0.2126*p[0] + 0.7152*p[1] + 0.0722*p[2]
		if y > 216.0/24389 {
			return 116*math.Cbrt(y) - 16
		}
		return y * 24389 / 27
	}
	return l(rgb), l(seen)
}

func TestSimulationKeepsGreys(t *testing.T) {
	for i := range deuteranopia {
		assert.InDelta(t, 1, deuteranopia[i][0]+deuteranopia[i][1]+deuteranopia[i][2], 1e-5)
	}
	white, blind := lightness(color.RGBA{255, 255, 255, 255})
	assert.InDelta(t, 100, white, 1e-3)
	assert.InDelta(t, 100, blind, 1e-2)
	red, _ := lightness(color.RGBA{255, 0, 0, 255}) // 53.24 in every table of sRGB
	assert.InDelta(t, 53.24, red, 0.01)
}

// toldApart is a difference of lightness that is seen at once between areas: four
// times the 2.3 that is just noticed (M. Mahy, L. Van Eycken, A. Oosterlinck,
// Color Research and Application 19 (1994) 105-121).
const toldApart = 9.2

// Pressures that differ by a fifth of the range differ in lightness, whatever
// the eye.
func TestColoursTellPressuresApart(t *testing.T) {
	r := scene.Range{Low: 0, High: 100}
	for low := 0.0; low <= 80; low += 0.5 {
		for high := low + 20; high <= 100; high += 5 {
			ga, ba := lightness(r.Color(low))
			gb, bb := lightness(r.Color(high))
			assert.Greater(t, gb-ga, toldApart, "%g and %g, grey", low, high)
			assert.Greater(t, bb-ba, toldApart, "%g and %g, deuteranopia", low, high)
		}
	}
}

// fillOf is the pressure that a part of the picture is painted with.
func fillOf(t *testing.T, s *scene.Scene, part string) float64 {
	t.Helper()
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Part == part && sh.Fill != nil && sh.Fill.Kind == scene.Pressure {
			return sh.Fill.A
		}
	}
	require.Fail(t, "no fluid in "+part)
	return 0
}

// Above and below the disc: painted in the colours of their pressures, each with
// a line of its own and a name of its own, always.
func TestAboveAndBelowAreToldApart(t *testing.T) {
	differ := 0
	each(t, func(t *testing.T, v *scene.View, s *scene.Scene) {
		st := &v.Snapshot.Valves[0]
		above, below := fillOf(t, s, "inlet and body"), fillOf(t, s, "chamber")
		require.Equal(t, []float64{st.Above, st.Below}, []float64{above, below})
		if math.Abs(above-below) >= 0.2*(s.Range.High-s.Range.Low) {
			differ++
			ga, ba := lightness(s.Range.Color(above))
			gb, bb := lightness(s.Range.Color(below))
			assert.Greater(t, math.Abs(ga-gb), toldApart)
			assert.Greater(t, math.Abs(ba-bb), toldApart)
		}
		// The two widest unbroken lines of the pressure chart.
		var widths []float64
		for i := range s.Shapes {
			if p := s.Shapes[i].Stroke; p != nil && s.Shapes[i].Part == "pressure chart" && s.Shapes[i].Clip != nil && p.Dash == nil {
				widths = append(widths, p.Width)
			}
		}
		require.GreaterOrEqual(t, len(widths), 2)
		assert.GreaterOrEqual(t, widths[0], 2*widths[len(widths)-1], "the chamber is twice as wide")
		named := map[string]bool{}
		for _, sh := range texts(s) {
			for _, name := range []string{"body", "chamber"} {
				named[name] = named[name] || sh.Part == "pressure chart" && (strings.HasPrefix(sh.Text.Words, name+" ") || strings.HasPrefix(sh.Text.Words, "body = chamber "))
			}
		}
		assert.Equal(t, map[string]bool{"body": true, "chamber": true}, named)
	})
	assert.Greater(t, differ, 50)
}

// Of a pair, B's lines are dashed and A's are not, and both ends are named.
func TestPairsLinesAreToldApart(t *testing.T) {
	a := viewOf(t, runOf(t, "gas-bench-plus", "", 4.5), 4, scene.Units{})
	b := viewOf(t, runOf(t, "gas-bench-plus", "bleed-plugged=0.5mm2@3.4s", 4.5), 4, scene.Units{})
	for _, projector := range []bool{false, true} {
		a.Projector = projector
		s := scene.DrawPair(&scene.Pair{A: a, B: b, Forks: 3.4, Differs: []string{"bleed area 0.5 mm2, not 3.3 mm2"}})
		for _, part := range []string{"pressure chart", "lift chart"} {
			var dashed, solid int
			ends := ""
			for i := range s.Shapes {
				sh := &s.Shapes[i]
				if sh.Part != part {
					continue
				}
				if sh.Stroke != nil && sh.Clip != nil && sh.Stroke.Dash != nil {
					dashed++
				}
				if sh.Stroke != nil && sh.Clip != nil && sh.Stroke.Dash == nil {
					solid++
				}
				if sh.Text != nil {
					ends += "|" + sh.Text.Words
				}
			}
			assert.Equal(t, []int{1, 1}, []int{dashed, solid}, part)
			assert.Contains(t, ends, "|A ")
			assert.Contains(t, ends, "|B ")
		}
	}
}
