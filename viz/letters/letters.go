// Package letters has the fonts of every picture, on paper and on the screen,
// and measures texts set in them. It paints nothing.
package letters

import (
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TTF is the font's file, upright or bold.
func TTF(bold bool) []byte {
	if bold {
		return liberationsansbold.TTF
	}
	return liberationsansregular.TTF
}

// Width of a text whose em has the given size, in the unit of that size, with
// the font's kerning. It may be called from several goroutines.
func Width(size float64, bold bool, words string) float64 {
	return Set(size, bold, words, nil)
}

// Set sets a text and returns its width as Width does. It calls each, unless
// that is nil, with every letter's glyph and the distance of its origin from
// the start of the text.
func Set(size float64, bold bool, words string, each func(glyph sfnt.GlyphIndex, at float64)) float64 {
	f := regular()
	if bold {
		f = heavy()
	}
	f.Lock()
	defer f.Unlock()
	width := 0
	var before letter
	for i, r := range words {
		l := f.letter(r)
		if i > 0 {
			width += f.kern(before, l)
		}
		if each != nil {
			each(l.glyph, float64(width)*size/float64(f.em))
		}
		width += l.advance
		before = l
	}
	return float64(width) * size / float64(f.em)
}

// letter is a glyph and how far it leads on, in units of the font.
type letter struct {
	glyph   sfnt.GlyphIndex
	advance int
}

// measures are what is known of a font: each letter and each pair is looked up
// once.
type measures struct {
	sync.Mutex
	font    *sfnt.Font
	em      fixed.Int26_6 // units of the font in an em; asked at this size, lengths come in these units
	buffer  sfnt.Buffer
	letters map[rune]letter
	plain   [128]letter // those of ASCII, once known
	known   [128]bool
	pairs   map[[2]sfnt.GlyphIndex]int
}

var (
	regular = sync.OnceValue(func() *measures { return parse(TTF(false)) })
	heavy   = sync.OnceValue(func() *measures { return parse(TTF(true)) })
)

func parse(ttf []byte) *measures {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("a font that comes with the program cannot be read: " + err.Error())
	}
	return &measures{font: f, em: fixed.Int26_6(f.UnitsPerEm()), letters: map[rune]letter{}, pairs: map[[2]sfnt.GlyphIndex]int{}}
}

func (m *measures) letter(r rune) letter {
	ascii := r >= 0 && int(r) < len(m.plain)
	if ascii && m.known[r] {
		return m.plain[r]
	}
	if l, ok := m.letters[r]; ok {
		return l
	}
	var l letter
	var err error
	if l.glyph, err = m.font.GlyphIndex(&m.buffer, r); err == nil {
		var a fixed.Int26_6
		a, err = m.font.GlyphAdvance(&m.buffer, l.glyph, m.em, font.HintingNone)
		l.advance = int(a)
	}
	if err != nil {
		panic("a font that comes with the program cannot be read: " + err.Error())
	}
	if ascii {
		m.plain[r], m.known[r] = l, true
	} else {
		m.letters[r] = l
	}
	return l
}

// kern is what is added between two letters; none where the font names none.
func (m *measures) kern(a, b letter) int {
	pair := [2]sfnt.GlyphIndex{a.glyph, b.glyph}
	k, ok := m.pairs[pair]
	if !ok {
		if x, err := m.font.Kern(&m.buffer, a.glyph, b.glyph, m.em, font.HintingNone); err == nil {
			k = int(x)
		}
		m.pairs[pair] = k
	}
	return k
}
