package scene

import "underdisc/model/plant"

// Draw turns a view into a picture. The same view gives the same picture.
func Draw(v *View) *Scene { return new(Drawer).Draw(v) }

// Drawer draws picture after picture into the same room.
type Drawer struct {
	stock stock
	scene Scene
}

// Draw is Draw, but the picture holds only until the drawer is used again.
func (d *Drawer) Draw(v *View) *Scene {
	s := d.sheet(v)
	s.header()
	s.boiler()
	switch {
	case v.Sealed && v.Spring != nil:
		s.sealedSpring()
	case v.Sealed:
		s.sealed()
	case v.Spring != nil:
		s.spring()
	default:
		s.panel("cutaway", s.p.cutaway)
		in := s.inside(s.p.cutaway)
		s.chain(in)
		s.insideSpots(in)
		s.panel("forces", s.p.margin)
		if s.p.forces.Width() > 0 {
			s.panel("forces", s.p.forces)
		}
		s.margin()
		s.forces()
	}
	s.charts()
	s.ribbon()
	s.foot()
	return d.finish(s)
}

// sheet begins a picture: the page.
func (d *Drawer) sheet(v *View) *sheet {
	d.stock.empty()
	d.scene = Scene{Size: v.Size, Range: v.Range}
	s := &sheet{stock: &d.stock, scene: &d.scene, v: v, p: planOf(v), st: v.piloted(), sp: v.SpringState()}
	s.fill("page", s.box(Rect{0, 0, v.Size.X, v.Size.Y}, 0), Ground)
	return s
}

func (d *Drawer) finish(s *sheet) *Scene {
	if s.v.Controls {
		s.rooms = append(s.rooms, Room{"time", s.p.time}, Room{"views", s.p.views})
	}
	d.scene.Shapes, d.scene.Focus, d.scene.Rooms = s.out, s.spots, s.rooms
	return &d.scene
}

// sheet is a picture in the making.
type sheet struct {
	*stock
	scene *Scene
	v     *View
	p     *plan
	st    *plant.ValveState  // what both kinds have, of a spring-loaded valve
	sp    *plant.SpringState // nil of a piloted one
	lane  string             // of a pair: laneA or laneB
	pair  *Pair
}

// inside draws the cutaway of the sheet's view, and says by how much its parts
// have moved.
func (s *sheet) inside(at Rect) []Shape {
	d := newDrawing(s.stock, s.v, at)
	d.second, d.brief = s.lane == laneB, s.lane != ""
	in := d.draw()
	from := len(s.out)
	s.out = append(s.out, in...)
	for _, c := range [...]Carrier{WithDisc, WithPlunger, WithGate} {
		s.scene.Shift[d.as(c)] = d.g.shift(c)
	}
	return s.out[from:]
}

func (s *sheet) fill(part string, path Path, ink Ink) {
	s.out = append(s.out, Shape{Part: part, Path: path, Fill: s.paints.put(Paint{Ink: ink})})
}

func (s *sheet) fluid(part string, path Path, pressure float64) {
	s.out = append(s.out, Shape{Part: part, Path: path, Fill: s.paints.put(Paint{Kind: Pressure, A: pressure})})
}

func (s *sheet) hatched(part string, path Path) {
	s.out = append(s.out, Shape{Part: part, Path: path, Fill: s.paints.put(Paint{Kind: Hatched, Ink: Metal})})
}

func (s *sheet) line(part string, path Path, ink Ink, width float64, dash ...float64) {
	if len(path) > 0 {
		s.out = append(s.out, Shape{Part: part, Path: path, Stroke: s.pens.put(Pen{Ink: ink, Width: width, Dash: s.numbers.list(dash...)})})
	}
}

// outlined is a filled area with a line round it.
func (s *sheet) outlined(part string, path Path, fill, ink Ink, width float64) {
	s.fill(part, path, fill)
	s.line(part, path, ink, width)
}

func (s *sheet) panel(part string, at Rect) { s.fill(part, s.box(at, s.p.px(5)), Panel) }

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
	t := s.texts.put(Text{At: Point{x, y}, Anchor: from, Size: f.size, Bold: f.bold, Ink: f.ink, Words: words})
	s.out = append(s.out, Shape{Part: part, Text: t})
	return s.v.TextBox(t).Right
}

// onFluid writes a line on fluid of a pressure.
func (s *sheet) onFluid(part string, f face, x, y float64, words string, pressure float64) {
	s.out = append(s.out, Shape{Part: part, Text: s.texts.put(Text{At: Point{x, y}, Anchor: Centred, Size: f.size, Bold: f.bold, Ink: f.ink, Words: words, OnPressure: s.numbers.put(pressure)})})
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
	if s.lane != "" {
		name = s.say(s.lane, ", ", name)
	}
	s.spots = append(s.spots, Spot{Name: name, At: at, Says: says})
}
