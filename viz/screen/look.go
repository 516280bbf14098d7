package screen

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"sync"

	eimage "github.com/ebitenui/ebitenui/image"
	"github.com/ebitenui/ebitenui/widget"
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"

	"underdisc/viz/letters"
	"underdisc/viz/scene"
)

// Look is what the one who looks prefers, to begin with.
type Look struct {
	Units     scene.Units
	Projector bool
}

// Sizes of the widgets' text, and the least of it, in the picture's units at its
// reference size; as in underdisc/viz/scene.
const (
	sizeTitle = 20.0
	sizeText  = 17.0
	sizeSmall = 15.6
	leastText = 12.0
)

// look is how widgets look at one size of the picture.
type look struct {
	scale float64 // pixels of the screen to a unit of the picture
	k     float64 // the picture's size to its reference size
	floor float64 // least text, units of the picture
	faces map[face]*text.Face
	paper map[tile]*eimage.NineSlice
}

type face struct {
	size float64 // px
	bold bool
}

// tile is a rounded box of one colour with a border of another.
type tile struct {
	fill, edge   color.RGBA
	width, round int // px
}

var sources = sync.OnceValue(func() [2]*text.GoTextFaceSource {
	var out [2]*text.GoTextFaceSource
	for i, bold := range []bool{false, true} {
		s, err := text.NewGoTextFaceSource(bytes.NewReader(letters.TTF(bold)))
		if err != nil {
			panic("a font that comes with the program cannot be read: " + err.Error())
		}
		out[i] = s
	}
	return out
})

// at is the look at another size; the same one if that has not changed.
func (l *look) at(size scene.Point, scale float64, projector bool) *look {
	k, floor := math.Min(size.X/1600, size.Y/900), leastText
	if projector {
		floor = math.Max(leastText, size.Y/40)
	}
	if l != nil && l.scale == scale && l.k == k && l.floor == floor {
		return l
	}
	return &look{scale: scale, k: k, floor: floor, faces: map[face]*text.Face{}, paper: map[tile]*eimage.NineSlice{}}
}

// text is the size of a text, px, that is base at the reference size.
func (l *look) text(base float64) float64 {
	return math.Max(base*l.k, l.floor) * l.scale
}

// px is a length, px, that is base at the reference size, at least one pixel.
func (l *look) px(base float64) int { return max(int(math.Round(base*l.k*l.scale)), 1) }

// row is the height of a button or field: never less than a pointer needs.
func (l *look) row() int {
	return max(int(math.Ceil(24*l.scale)), int(math.Ceil(1.72*l.text(sizeText))))
}

func (l *look) face(base float64, bold bool) *text.Face {
	key := face{l.text(base), bold}
	f := l.faces[key]
	if f == nil {
		i := 0
		if bold {
			i = 1
		}
		var tf text.Face = &text.GoTextFace{Source: sources()[i], Size: key.size}
		f = &tf
		l.faces[key] = f
	}
	return f
}

// width of a text as it is drawn, px.
func (l *look) width(base float64, bold bool, words string) int {
	return int(math.Ceil(text.AdvanceAt(words, len(words), *l.face(base, bold))))
}

// box is a rounded box to put behind something.
func (l *look) box(fill, edge scene.Ink, border float64) *eimage.NineSlice {
	t := tile{fill.Color(), edge.Color(), 0, l.px(5)}
	if border > 0 {
		t.width = l.px(border)
	}
	n := l.paper[t]
	if n == nil {
		n = t.slice()
		l.paper[t] = n
	}
	return n
}

// slice bakes the box: its corners once, stretched in between.
func (t tile) slice() *eimage.NineSlice {
	c := max(t.round, t.width) + 1
	n := 2*c + 1
	img := image.NewRGBA(image.Rect(0, 0, n, n))
	for y := range n {
		for x := range n {
			// Distance from the rounded outline, inside positive.
			dx := math.Max(float64(c)-float64(min(x, n-1-x))-0.5-float64(c-t.round), 0)
			dy := math.Max(float64(c)-float64(min(y, n-1-y))-0.5-float64(c-t.round), 0)
			d := float64(t.round) - math.Hypot(dx, dy)
			if dx == 0 || dy == 0 {
				d = math.Min(float64(min(x, n-1-x)), float64(min(y, n-1-y))) + 0.5
			}
			cover := clamp(d + 0.5)
			inner := clamp(d - float64(t.width) + 0.5)
			img.SetRGBA(x, y, mix(t.edge, t.fill, inner, cover))
		}
	}
	return eimage.NewNineSlice(ebiten.NewImageFromImage(img), [3]int{c, 1, c}, [3]int{c, 1, c})
}

func clamp(x float64) float64 { return math.Min(math.Max(x, 0), 1) }

// mix is a colour between two, covering a share of a pixel, with its alpha
// multiplied in.
func mix(a, b color.RGBA, share, cover float64) color.RGBA {
	m := func(x, y uint8) uint8 {
		return uint8(math.Round((float64(x)*(1-share) + float64(y)*share) * cover))
	}
	return color.RGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), m(a.A, b.A)}
}

// ground is what a button stands on, and how it is marked.
type ground int

const (
	plain  ground = iota // on a panel
	strong               // on a panel, the one that is meant
	onDark               // on the header
)

// button is how a button looks: a line round it; filled when it is on; grey when
// it cannot be pressed.
func (l *look) button(on bool, g ground) (*widget.ButtonImage, *widget.ButtonTextColor) {
	paper, ink, edge := scene.White, scene.Dark, 2.0
	hover, off := scene.Ahead, scene.Ground
	switch g {
	case strong:
		edge = 3.5
	case onDark:
		paper, ink, hover, off = scene.Dark, scene.White, scene.Soft, scene.Dark
	}
	soft := scene.Soft.Color()
	if g == onDark {
		soft = scene.Hatch.Color()
	}
	if on {
		paper, ink = ink, paper
		full := l.box(paper, paper, edge)
		return &widget.ButtonImage{Idle: full, Hover: full, Pressed: full, Disabled: full},
			&widget.ButtonTextColor{Idle: ink.Color(), Disabled: ink.Color()}
	}
	return &widget.ButtonImage{
		Idle: l.box(paper, ink, edge), Hover: l.box(hover, ink, edge), Pressed: l.box(scene.Hatch, ink, edge), Disabled: l.box(off, scene.Hatch, 2),
	}, &widget.ButtonTextColor{Idle: ink.Color(), Disabled: soft}
}
