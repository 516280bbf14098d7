package scene

import "underdisc/model/plant"

// Draw turns a view into a picture. The same view gives the same picture.
func Draw(v *View) *Scene {
	s := &sheet{v: v, p: planOf(v.Size, v.Projector), st: &v.Snapshot.Valves[v.Valve]}
	s.fill("page", Box(Rect{0, 0, v.Size.X, v.Size.Y}, 0), Ground)
	s.header()
	s.panel("cutaway", s.p.cutaway)
	inside := Cutaway(v, s.p.cutaway)
	s.out = append(s.out, inside...)
	s.chain(inside)
	s.insideSpots(inside)
	s.panel("forces", s.p.margin)
	if s.p.forces.Width() > 0 {
		s.panel("forces", s.p.forces)
	}
	s.margin()
	s.forces()
	s.charts()
	s.ribbon()
	out := &Scene{Size: v.Size, Range: v.Range, Shapes: s.out, Focus: s.spots}
	for i := range s.out { // the cutaway says by how much what it draws has moved
		if c := s.out[i].Moves; c != Still {
			out.Shift[c] = shiftOf(v, s.p.cutaway, c)
		}
	}
	return out
}

// sheet is a picture in the making.
type sheet struct {
	v     *View
	p     *plan
	st    *plant.ValveState
	out   []Shape
	spots []Spot
}

func (s *sheet) fill(part string, path Path, ink Ink) {
	s.out = append(s.out, Shape{Part: part, Path: path, Fill: &Paint{Ink: ink}})
}

func (s *sheet) fluid(part string, path Path, pressure float64) {
	s.out = append(s.out, Shape{Part: part, Path: path, Fill: &Paint{Kind: Pressure, A: pressure}})
}

func (s *sheet) line(part string, path Path, ink Ink, width float64, dash ...float64) {
	if len(path) > 0 {
		s.out = append(s.out, Shape{Part: part, Path: path, Stroke: &Pen{Ink: ink, Width: width, Dash: dash}})
	}
}

// outlined is a filled area with a line round it.
func (s *sheet) outlined(part string, path Path, fill, ink Ink, width float64) {
	s.fill(part, path, fill)
	s.line(part, path, ink, width)
}

func (s *sheet) panel(part string, at Rect) { s.fill(part, Box(at, s.p.px(5)), Panel) }

// type of a text: its size, weight and colour.
type face struct {
	size float64
	bold bool
	ink  Ink
}

// small, label, strong and heading are the faces of most texts.
func (s *sheet) small() face   { return face{s.p.text(sizeSmall), false, Soft} }
func (s *sheet) label() face   { return face{s.p.text(sizeLabel), false, Dark} }
func (s *sheet) strong() face  { return face{s.p.text(sizeLabel), true, Dark} }
func (s *sheet) heading() face { return face{s.p.text(sizeHeading), true, Dark} }

func (s *sheet) width(f face, words string) float64 { return s.v.Measure(f.size, f.bold, words) }

// text writes a line and returns where it ends.
func (s *sheet) text(part string, f face, x, y float64, from Anchor, words string) float64 {
	if words == "" {
		return x
	}
	t := &Text{At: Point{x, y}, Anchor: from, Size: f.size, Bold: f.bold, Ink: f.ink, Words: words}
	s.out = append(s.out, Shape{Part: part, Text: t})
	return s.v.TextBox(t).Right
}

// onFluid writes a line on fluid of a pressure.
func (s *sheet) onFluid(part string, f face, x, y float64, words string, pressure float64) {
	s.out = append(s.out, Shape{Part: part, Text: &Text{At: Point{x, y}, Anchor: Centred, Size: f.size, Bold: f.bold, Ink: f.ink, Words: words, OnPressure: &pressure}})
}

// first writes the first of several wordings, longest first, that is no wider
// than the width; none if none is.
func (s *sheet) first(part string, f face, x, y float64, from Anchor, width float64, wordings ...string) {
	for _, w := range wordings {
		if s.width(f, w) <= width {
			s.text(part, f, x, y, from, w)
			return
		}
	}
}

func (s *sheet) spot(name string, at Rect, says string) {
	s.spots = append(s.spots, Spot{Name: name, At: at, Says: says})
}
