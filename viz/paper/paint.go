package paper

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"sync"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// capHeight is the height of a capital or a figure over the size of the font.
const capHeight = 0.72

// faces are the fonts, which come with the program.
var faces = sync.OnceValue(func() *font.Cache { return font.NewCache(liberation.Collection()) })

func (f Font) face() font.Face {
	w := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if f.Bold {
		w.Weight = xfont.WeightBold
	}
	return faces().Lookup(w, vg.Length(f.Size))
}

// TextWidth is the width of a text in px.
func TextWidth(f Font, text string) float64 {
	face := f.face()
	return float64(face.Width(text))
}

// Wrap breaks a text at spaces into lines no wider than the width.
func Wrap(f Font, width float64, text string) []string {
	var lines []string
	line := ""
	for _, word := range bytes.Fields([]byte(text)) {
		next := string(word)
		if line != "" {
			next = line + " " + next
		}
		if line != "" && TextWidth(f, next) > width {
			lines = append(lines, line)
			next = string(word)
		}
		line = next
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// paint puts the shapes on a canvas, whose y points up.
func (p *Page) paint(c vg.Canvas) {
	at := func(q Point) vg.Point { return vg.Point{X: vg.Length(q.X), Y: vg.Length(Height - q.Y)} }
	path := func(pts []Point) vg.Path {
		var out vg.Path
		for i, q := range pts {
			if i == 0 {
				out.Move(at(q))
			} else {
				out.Line(at(q))
			}
		}
		return out
	}
	c.SetColor(Ground)
	ground := path([]Point{{0, 0}, {Width, 0}, {Width, Height}, {0, Height}})
	ground.Close()
	c.Fill(ground)
	for _, s := range p.shapes {
		switch s := s.(type) {
		case stroke:
			c.SetColor(s.pen.Color)
			c.SetLineWidth(vg.Length(s.pen.Width))
			var dash []vg.Length
			for _, d := range s.pen.Dash {
				dash = append(dash, vg.Length(d))
			}
			for _, piece := range pieces(s.pts) {
				c.SetLineDash(dash, vg.Length(piece.along))
				c.Stroke(path(piece.pts))
			}
		case area:
			c.SetColor(s.color)
			outline := path(s.pts)
			outline.Close()
			c.Fill(outline)
		case disc:
			c.SetColor(s.color)
			var round vg.Path
			round.Move(vg.Point{X: vg.Length(s.at.X + s.radius), Y: vg.Length(Height - s.at.Y)})
			round.Arc(at(s.at), vg.Length(s.radius), 0, 2*math.Pi)
			round.Close()
			c.Fill(round)
		case words:
			c.SetColor(s.font.Color)
			c.FillString(s.font.face(), at(s.at), s.text)
		}
	}
}

// piece is a part of a line that begins so far along it.
type piece struct {
	pts   []Point
	along float64
}

// pieces cuts a long line up: what it costs to paint one grows with the square
// of its points. Neighbours share a stretch, so that no corner is lost.
func pieces(line []Point) []piece {
	const most = 100 // points; fewer cost more to set up than they save
	var out []piece
	along := 0.0
	for len(line) > most {
		out = append(out, piece{line[:most], along})
		for i := 1; i < most-1; i++ {
			along += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
		}
		line = line[most-2:]
	}
	return append(out, piece{line, along})
}

// PNG writes the page as a picture of 1600 by 900 pixels.
func (p *Page) PNG(w io.Writer) error {
	const dotsPerPoint = 72 // one point of the canvas is one pixel
	c := vgimg.NewWith(vgimg.UseWH(Width, Height), vgimg.UseDPI(dotsPerPoint), vgimg.UseBackgroundColor(color.White))
	p.paint(c)
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}

// SVG writes the page as a drawing that carries its fonts.
func (p *Page) SVG(w io.Writer) error {
	c := vgsvg.NewWith(vgsvg.UseWH(Width, Height), vgsvg.EmbedFonts(true))
	p.paint(c)
	var buf bytes.Buffer
	if _, err := c.WriteTo(&buf); err != nil {
		return err
	}
	// The canvas counts in points; a page is meant in pixels. It has a title
	// for those who read it without seeing it.
	head := fmt.Sprintf(`<svg width="%gpt" height="%gpt"`, Width, Height)
	body := buf.Bytes()
	if i := bytes.Index(body, []byte(head)); i >= 0 {
		var title bytes.Buffer
		if err := xml.EscapeText(&title, []byte(p.Title)); err != nil {
			return err
		}
		end := i + bytes.IndexByte(body[i:], '>') + 1
		opening := bytes.Replace(body[i:end], []byte(head), fmt.Appendf(nil, `<svg width="%g" height="%g" role="img"`, Width, Height), 1)
		body = bytes.Join([][]byte{body[:i], opening, []byte("\n<title>"), title.Bytes(), []byte("</title>"), body[end:]}, nil)
	}
	_, err := w.Write(body)
	return err
}
