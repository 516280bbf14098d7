package letters_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"

	"underdisc/viz/letters"
	"underdisc/viz/paper"
)

var samples = []string{
	"", "A", "AVATAR", "To lift 11.14 bar abs", "0.250 mm ×34", "pB < 7.75 bar – chamber empties", "°C ² Δ … “quoted”",
	"The disc is shut: 1,234.5 kg/h", "\u4e00 unknown", "not UTF-8: \xff\xfe",
}

// What is measured here is what paper sets.
func TestWidthIsThatOfPaper(t *testing.T) {
	same := func(t assert.TestingT, size float64, bold bool, words string) {
		want := paper.TextWidth(paper.Font{Size: size, Bold: bold}, words)
		assert.InDelta(t, want, letters.Width(size, bold, words), 1e-3*want+1e-9, "%q, %g, bold %t", words, size, bold)
	}
	for _, w := range samples {
		for _, size := range []float64{12, 15.6, 17.5, 50} {
			same(t, size, false, w)
			same(t, size, true, w)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		same(t, rapid.Float64Range(8, 100).Draw(t, "size"), rapid.Bool().Draw(t, "bold"), rapid.String().Draw(t, "words"))
	})
}

func TestBoldIsWider(t *testing.T) {
	assert.Greater(t, letters.Width(20, true, "chamber"), 1.02*letters.Width(20, false, "chamber"))
	assert.NotEqual(t, letters.TTF(true), letters.TTF(false))
}

// Letters stand where the width of what comes before them ends, kerned.
func TestSet(t *testing.T) {
	var at []float64
	all := letters.Set(20, false, "AVA", func(_ sfnt.GlyphIndex, x float64) { at = append(at, x) })
	assert.Equal(t, all, letters.Width(20, false, "AVA"))
	a := letters.Width(20, false, "A")
	if assert.Len(t, at, 3) {
		assert.Zero(t, at[0])
		assert.Less(t, at[1], a, "a V moves under an A")
		assert.InDelta(t, all-a, at[2], 1e-9)
	}
}

func TestWidthDoesNotAllocate(t *testing.T) {
	measure := func() {
		for _, w := range samples {
			letters.Width(17.5, true, w)
		}
	}
	measure()
	assert.Zero(t, testing.AllocsPerRun(100, measure))
}

func BenchmarkWidth(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		letters.Width(17.5, false, "The disc is shut: 11.14 bar abs")
	}
}
