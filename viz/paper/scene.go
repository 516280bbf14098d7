package paper

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"underdisc/viz/letters"
	"underdisc/viz/outline"
	"underdisc/viz/scene"
)

// Formats are those that PaintScene writes.
var Formats = []string{"png", "svg", "pdf"}

// PaintScene writes a scene as a picture. One unit of the scene is scale pixels
// of a PNG and scale points of a PDF; the drawing of an SVG has the scene's own
// units and is shown scale times as large. The same scene gives the same bytes.
func PaintScene(s *scene.Scene, w io.Writer, format string, scale float64) error {
	if !(scale > 0) || !(s.Size.X > 0 && s.Size.Y > 0) {
		return fmt.Errorf("a scene of %g by %g at scale %g has no size", s.Size.X, s.Size.Y, scale)
	}
	switch format {
	case "png":
		const dotsPerPoint = 72 // one point of the canvas is one pixel
		c := vgimg.NewWith(vgimg.UseWH(vg.Length(s.Size.X*scale), vg.Length(s.Size.Y*scale)), vgimg.UseDPI(dotsPerPoint), vgimg.UseBackgroundColor(color.White))
		paintScene(s, c, scale, forPNG)
		_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
		return err
	case "svg":
		c := vgsvg.NewWith(vgsvg.UseWH(vg.Length(s.Size.X), vg.Length(s.Size.Y)), vgsvg.EmbedFonts(true))
		paintScene(s, c, 1, usual)
		var b bytes.Buffer
		if _, err := c.WriteTo(&b); err != nil {
			return err
		}
		_, err := w.Write(inPixels(b.Bytes(), s.Size, scale))
		return err
	case "pdf":
		return scenePDF(s, w, scale)
	}
	return fmt.Errorf("no format %q: it is one of %v", format, Formats)
}

// inPixels gives a drawing, whose head counts in points, its size in pixels.
func inPixels(svg []byte, size scene.Point, scale float64) []byte {
	const from, to = `<svg width="`, ` viewBox=`
	i := bytes.Index(svg, []byte(from))
	if i < 0 {
		return svg
	}
	j := bytes.Index(svg[i:], []byte(to))
	if j < 0 {
		return svg
	}
	head := fmt.Appendf(nil, `<svg width="%g" height="%g" role="img"`, size.X*scale, size.Y*scale)
	return bytes.Join([][]byte{svg[:i], head, svg[i+j:]}, nil)
}

// SceneTextWidth is the width of a text on paper, for scene.View.
func SceneTextWidth(size float64, bold bool, words string) float64 {
	return TextWidth(Font{Size: size, Bold: bold}, words)
}

// painter puts a scene on a canvas, whose y points up.
type painter struct {
	s     *scene.Scene
	c     vg.Canvas
	scale float64
	fonts
}

// fonts is how a canvas wants its texts: their letters and their face, and
// whether in pieces within which there is no kerning. The canvas of a PNG kerns
// by the font's units as though they were 1/64 px, whatever the size.
type fonts struct {
	encode func(string) string
	face   func(size float64, bold bool) font.Face
	pieces bool
}

var usual = fonts{
	encode: func(s string) string { return s },
	face:   func(size float64, bold bool) font.Face { return Font{Size: size, Bold: bold}.face() },
}

var forPNG = fonts{usual.encode, usual.face, true}

func paintScene(s *scene.Scene, c vg.Canvas, scale float64, f fonts) {
	p := &painter{s, c, scale, f}
	for i := range s.Shapes {
		p.shape(&s.Shapes[i])
	}
}

func (p *painter) at(q scene.Point) vg.Point {
	return vg.Point{X: vg.Length(q.X * p.scale), Y: vg.Length((p.s.Size.Y - q.Y) * p.scale)}
}

func (p *painter) shape(s *scene.Shape) {
	by := p.s.Shift[s.Moves]
	switch {
	case s.Fill != nil:
		p.fill(s, by)
	case s.Stroke != nil:
		p.stroke(s, by)
	case s.Text != nil:
		p.text(s.Text, by)
	}
}

// smooth is how far chords may miss their curve, px.
const smooth = 0.1

// fill paints an area. Its blends keep their place when the area moves with a
// part.
func (p *painter) fill(s *scene.Shape, by scene.Point) {
	var whole, clipped outline.Lines
	whole.Flatten(s.Path, by, 1, smooth/p.scale, false)
	areas := &whole
	if s.Clip != nil {
		clipped.Clip(areas, *s.Clip)
		areas = &clipped
	}
	lines := make([][]scene.Point, areas.Len())
	for i := range lines {
		lines[i] = areas.At(i)
	}
	f := s.Fill
	switch f.Kind {
	case scene.Flat:
		p.area(f.Ink.Color(), lines)
	case scene.Pressure:
		p.area(p.s.Range.Color(f.A), lines)
	case scene.Hatched:
		p.area(f.Ink.Color(), lines)
		p.hatch(areas)
	case scene.Blend:
		p.blend(f, lines)
	}
}

func (p *painter) area(c color.RGBA, lines [][]scene.Point) {
	if c.A == 0 {
		return
	}
	var path vg.Path
	for _, l := range lines {
		if len(l) < 3 {
			continue
		}
		for i, q := range l {
			if i == 0 {
				path.Move(p.at(q))
			} else {
				path.Line(p.at(q))
			}
		}
		path.Close()
	}
	if len(path) > 0 {
		p.c.SetColor(c)
		p.c.Fill(path)
	}
}

// hatch draws the lines of hatching that lie in an area, at 45 degrees on a
// raster that all areas share.
func (p *painter) hatch(areas *outline.Lines) {
	pitch, width := outline.Raster(p.s.Size)
	p.c.SetColor(scene.Hatch.Color())
	p.c.SetLineWidth(vg.Length(width * p.scale))
	p.c.SetLineDash(nil, 0)
	var crossings []outline.Crossing
	for _, s := range outline.Hatching(nil, areas, pitch, &crossings) {
		var path vg.Path
		path.Move(p.at(s[0]))
		path.Line(p.at(s[1]))
		p.c.Stroke(path)
	}
}

// blend paints an area in the colours of pressures from A at From to B at To.
// What lies beyond each step is painted over what lies before, so that no seam
// shows between them.
func (p *painter) blend(f *scene.Paint, lines [][]scene.Point) {
	dx, dy := f.To.X-f.From.X, f.To.Y-f.From.Y
	if l := dx*dx + dy*dy; l > 0 && f.A != f.B {
		const finest = 2.0 // length of a step
		steps := int(math.Min(math.Max(math.Sqrt(l)/finest, 2), 64))
		last := color.RGBA{}
		for i := range steps + 1 {
			c := p.s.Range.Color(f.A + (f.B-f.A)*(float64(i))/float64(steps))
			if i > 0 && c == last {
				continue
			}
			last = c
			rest := lines
			if i > 0 {
				t := (float64(i) - 0.5) / float64(steps)
				rest = make([][]scene.Point, len(lines))
				for k := range lines {
					rest[k] = outline.Cut(nil, lines[k], dx, dy, f.From.X*dx+f.From.Y*dy+t*l)
				}
			}
			p.area(c, rest)
		}
		return
	}
	p.area(p.s.Range.Color(f.A), lines)
}

func (p *painter) stroke(s *scene.Shape, by scene.Point) {
	pen := s.Stroke
	if pen.Ink == scene.NoInk || pen.Width <= 0 {
		return
	}
	p.c.SetColor(pen.Ink.Color())
	p.c.SetLineWidth(vg.Length(pen.Width * p.scale))
	var dash []vg.Length
	for _, d := range pen.Dash {
		dash = append(dash, vg.Length(d*p.scale))
	}
	var lines, runs outline.Lines
	var along []float64
	lines.Flatten(s.Path, by, 1, smooth/p.scale, true)
	for i := range lines.Len() {
		runs.Reset()
		along = runs.Runs(lines.At(i), s.Clip, along[:0])
		for k := range runs.Len() {
			run := runs.At(k)
			phase := along[k] + pen.Phase
			if total := sum(pen.Dash); total > 0 {
				phase -= total * math.Floor(phase/total)
			}
			p.c.SetLineDash(dash, vg.Length(phase*p.scale))
			var path vg.Path
			closed := len(run) > 2 && run[0] == run[len(run)-1]
			for i, q := range run {
				switch {
				case i == 0:
					path.Move(p.at(q))
				case closed && i == len(run)-1:
					path.Close()
				default:
					path.Line(p.at(q))
				}
			}
			p.c.Stroke(path)
		}
	}
}

func sum(x []float64) (t float64) {
	for _, v := range x {
		t += v
	}
	return t
}

// text writes a text: on fluid in white or black, whichever contrasts more.
func (p *painter) text(t *scene.Text, by scene.Point) {
	ink := t.Ink
	if t.OnPressure != nil {
		ink = scene.InkOn(p.s.Range.Color(*t.OnPressure))
	}
	if t.Words == "" || ink == scene.NoInk {
		return
	}
	x := t.At.X + by.X
	switch w := SceneTextWidth(t.Size, t.Bold, t.Words); t.Anchor {
	case scene.Centred:
		x -= w / 2
	case scene.FromRight:
		x -= w
	}
	p.c.SetColor(ink.Color())
	face := p.face(t.Size*p.scale, t.Bold)
	y := t.At.Y + by.Y
	if !p.pieces {
		p.c.FillString(face, p.at(scene.Point{X: x, Y: y}), p.encode(t.Words))
		return
	}
	kerned(t.Size, t.Bold, t.Words, func(words string, at float64) {
		p.c.FillString(face, p.at(scene.Point{X: x + at, Y: y}), p.encode(words))
	})
}

// kerned cuts a text up where its font moves letters together or apart, and
// says where each piece starts.
func kerned(size float64, bold bool, words string, each func(piece string, at float64)) {
	from, at, before := 0, 0.0, ""
	for i, r := range words {
		letter := string(r)
		if before != "" {
			pair := letters.Width(size, bold, before+letter)
			if apart := letters.Width(size, bold, before) + letters.Width(size, bold, letter); math.Abs(pair-apart) > 1e-9*size {
				each(words[from:i], at)
				from, at = i, letters.Width(size, bold, words[:i])+pair-apart
			}
		}
		before = letter
	}
	each(words[from:], at)
}
