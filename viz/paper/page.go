package paper

import "image/color"

// Width and Height of a page in pixels.
const (
	Width  = 1600.0
	Height = 900.0
)

// Colours. Red means "now" elsewhere in the program; on paper there is no now,
// so there is no red.
var (
	Ground = color.RGBA{0xF4, 0xF2, 0xEC, 0xFF} // the page
	White  = color.RGBA{0xFF, 0xFF, 0xFF, 0xFF} // inside a chart
	Ink    = color.RGBA{0x14, 0x20, 0x2B, 0xFF}
	Faded  = color.RGBA{0x44, 0x51, 0x5D, 0xFF} // second ink
	Grid   = color.RGBA{0xDD, 0xE0, 0xE1, 0xFF}
	Deep   = color.RGBA{0x2C, 0x69, 0xA8, 0xFF} // contrast 2.9:1 with the ink, 5.1:1 with the page
)

// Point is a place on the page.
type Point struct{ X, Y float64 }

// Rect is an upright rectangle; Top < Bottom.
type Rect struct{ Left, Top, Right, Bottom float64 }

// Overlaps tells whether the insides of two rectangles meet.
func (r Rect) Overlaps(s Rect) bool {
	return r.Left < s.Right && s.Left < r.Right && r.Top < s.Bottom && s.Top < r.Bottom
}

// Pen is how a line looks.
type Pen struct {
	Color color.Color
	Width float64
	Dash  []float64 // lengths of stroke and gap in turn; nil for an unbroken line
}

// Anchor says which end of a text its place is.
type Anchor int

const (
	FromLeft Anchor = iota // the text starts there
	Centred
	FromRight // the text ends there
)

// Font is how a text looks.
type Font struct {
	Size  float64 // em, px
	Bold  bool
	Color color.Color
}

// Smallest size of text: a fortieth of the page's height.
const Smallest = Height / 40

// shape is one of stroke, area, text.
type shape interface{}

type stroke struct {
	pen Pen
	pts []Point
}

type area struct {
	color color.Color
	pts   []Point
}

type disc struct {
	color  color.Color
	at     Point
	radius float64
}

type words struct {
	font Font
	at   Point // left end of the base line
	text string
}

// Page is what will be drawn.
type Page struct {
	Title  string // for readers who cannot see it
	shapes []shape
}

// Line adds a line through the points.
func (p *Page) Line(pen Pen, pts ...Point) {
	if len(pts) > 1 {
		p.shapes = append(p.shapes, stroke{pen, pts})
	}
}

// Fill adds a filled outline.
func (p *Page) Fill(c color.Color, pts ...Point) {
	p.shapes = append(p.shapes, area{c, pts})
}

// Box adds a filled rectangle.
func (p *Page) Box(c color.Color, r Rect) {
	p.Fill(c, Point{r.Left, r.Top}, Point{r.Right, r.Top}, Point{r.Right, r.Bottom}, Point{r.Left, r.Bottom})
}

// Text adds a line of text whose base line lies at the point.
func (p *Page) Text(f Font, at Point, from Anchor, text string) {
	if text == "" {
		return
	}
	switch w := TextWidth(f, text); from {
	case Centred:
		at.X -= w / 2
	case FromRight:
		at.X -= w
	}
	p.shapes = append(p.shapes, words{f, at, text})
}

// Badge adds a filled circle with a number or letter in it.
func (p *Page) Badge(at Point, radius float64, text string) {
	p.shapes = append(p.shapes, disc{Ink, at, radius})
	f := Font{Size: max(radius*1.5, Smallest), Bold: true, Color: White}
	p.Text(f, Point{at.X, at.Y + capHeight*f.Size/2}, Centred, text)
}

// Texts lists every text on the page with the rectangle that its letters may
// fill.
func (p *Page) Texts() (texts []string, boxes []Rect) {
	for _, s := range p.shapes {
		if w, ok := s.(words); ok {
			texts = append(texts, w.text)
			boxes = append(boxes, Rect{w.at.X, w.at.Y - capHeight*w.font.Size, w.at.X + TextWidth(w.font, w.text), w.at.Y + 0.2*w.font.Size})
		}
	}
	return texts, boxes
}

// SmallestText is the size of the smallest text on the page; with none, that
// of the page.
func (p *Page) SmallestText() float64 {
	least := Height
	for _, s := range p.shapes {
		if w, ok := s.(words); ok {
			least = min(least, w.font.Size)
		}
	}
	return least
}
