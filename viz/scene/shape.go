package scene

import "math"

// Point is a place in the picture.
type Point struct{ X, Y float64 }

// Rect is an upright rectangle, Top < Bottom.
type Rect struct{ Left, Top, Right, Bottom float64 }

// Width and Height of a rectangle.
func (r Rect) Width() float64  { return r.Right - r.Left }
func (r Rect) Height() float64 { return r.Bottom - r.Top }

// Meets tells whether the insides of two rectangles overlap.
func (r Rect) Meets(s Rect) bool {
	return r.Left < s.Right && s.Left < r.Right && r.Top < s.Bottom && s.Top < r.Bottom
}

// Ink is a fixed colour by its meaning. Colours.go has the values.
type Ink int

const (
	NoInk  Ink = iota
	Dark       // text, outlines
	Soft       // second text, thin lines
	Ground     // the page
	Panel      // a panel on it
	Ahead      // time to come
	Metal      // fixed metal, always with Hatch
	Hatch      // its lines
	Now        // what is now or moves now, always with a ring, an arrow or a word
	White
	Black
)

// PaintKind says how an area is filled.
type PaintKind int

const (
	Flat     PaintKind = iota // Ink
	Pressure                  // the colour of the pressure A
	Blend                     // from the colour of A at From to that of B at To
	Hatched                   // Ink with diagonal lines of Hatch over it
)

// Paint fills an area. Pressures are absolute, Pa; View.Range says what the
// ends of the map stand for.
type Paint struct {
	Kind     PaintKind
	Ink      Ink
	A, B     float64
	From, To Point
}

// Pen draws a line.
type Pen struct {
	Ink   Ink
	Width float64
	Dash  []float64 // lengths of stroke and gap in turn; nil: unbroken
	Phase float64   // how far along the dashes start
}

// Op is what one piece of a path does.
type Op int

const (
	MoveTo  Op = iota // to P[0]
	LineTo            // to P[0]
	CurveTo           // Bezier by P[0], P[1] to P[2]
	Close
)

// Seg is one piece of a path.
type Seg struct {
	Op Op
	P  [3]Point
}

// Path is an outline or a line.
type Path []Seg

// Polygon is a closed path through points.
func Polygon(pts ...Point) Path {
	p := Line(pts...)
	return append(p, Seg{Op: Close})
}

// Line is an open path through points.
func Line(pts ...Point) Path {
	p := make(Path, 0, len(pts)+1)
	for i, q := range pts {
		op := LineTo
		if i == 0 {
			op = MoveTo
		}
		p = append(p, Seg{Op: op, P: [3]Point{q}})
	}
	return p
}

// Box is a rectangle as a path, its corners rounded by radius.
func Box(r Rect, radius float64) Path {
	if radius <= 0 {
		return Polygon(Point{r.Left, r.Top}, Point{r.Right, r.Top}, Point{r.Right, r.Bottom}, Point{r.Left, r.Bottom})
	}
	var p Path
	round(func(s Seg) *Seg { p = append(p, s); return nil }, r, radius)
	return p
}

// round hands out the pieces of a rectangle with rounded corners.
func round(put func(Seg) *Seg, r Rect, radius float64) {
	k, a := radius*(1-kappa), radius
	c := func(p1, p2, p3 Point) { put(Seg{Op: CurveTo, P: [3]Point{p1, p2, p3}}) }
	l := func(x, y float64) { put(Seg{Op: LineTo, P: [3]Point{{x, y}}}) }
	put(Seg{Op: MoveTo, P: [3]Point{{r.Left + a, r.Top}}})
	l(r.Right-a, r.Top)
	c(Point{r.Right - k, r.Top}, Point{r.Right, r.Top + k}, Point{r.Right, r.Top + a})
	l(r.Right, r.Bottom-a)
	c(Point{r.Right, r.Bottom - k}, Point{r.Right - k, r.Bottom}, Point{r.Right - a, r.Bottom})
	l(r.Left+a, r.Bottom)
	c(Point{r.Left + k, r.Bottom}, Point{r.Left, r.Bottom - k}, Point{r.Left, r.Bottom - a})
	l(r.Left, r.Top+a)
	c(Point{r.Left, r.Top + k}, Point{r.Left + k, r.Top}, Point{r.Left + a, r.Top})
	put(Seg{Op: Close})
}

// kappa makes a Bezier curve follow a quarter of a circle to 3e-4.
const kappa = 0.5522847498

// Circle is a circle as a path.
func Circle(at Point, radius float64) Path {
	return Box(Rect{at.X - radius, at.Y - radius, at.X + radius, at.Y + radius}, radius)
}

// Arrow is a line from one point to another with a head of the given size.
func Arrow(from, to Point, head float64) Path {
	a, b, ok := barbs(from, to, head)
	if !ok {
		return nil
	}
	return append(Line(from, to), Line(a, to, b)...)
}

// barbs are the ends of an arrow's head; none of one without length.
func barbs(from, to Point, head float64) (a, b Point, ok bool) {
	d := math.Hypot(to.X-from.X, to.Y-from.Y)
	if d == 0 {
		return a, b, false
	}
	ux, uy := (to.X-from.X)/d, (to.Y-from.Y)/d
	a = Point{to.X - head*ux - 0.5*head*uy, to.Y - head*uy + 0.5*head*ux}
	b = Point{to.X - head*ux + 0.5*head*uy, to.Y - head*uy - 0.5*head*ux}
	return a, b, true
}

// Anchor says which end of a text its place is.
type Anchor int

const (
	FromLeft Anchor = iota
	Centred
	FromRight
)

// Text is one line of text.
type Text struct {
	At     Point // on the base line
	Anchor Anchor
	Size   float64 // em
	Bold   bool
	Ink    Ink
	Words  string
	// OnPressure: the text stands on fluid of this pressure and is white or
	// black, whichever contrasts more; Ink is then ignored. Nil: it does not.
	OnPressure *float64
}

// Carrier is the moving part that a shape belongs to. Such shapes are given as
// the part lies at rest (shut), and the scene says how far each has moved, so
// that a painter may keep them.
type Carrier int

const (
	Still Carrier = iota
	WithDisc
	WithPlunger
	WithGate
	WithDiscB // of the second run of a pair, as are the next two
	WithPlungerB
	WithGateB
	carriers
)

// Shape is one thing to paint: an area, a line, a text. Exactly one of Fill,
// Stroke and Text is set.
type Shape struct {
	Part   string // what it shows, in the words of the twin: "disc", "chamber"
	Moves  Carrier
	Path   Path
	Fill   *Paint
	Stroke *Pen
	Text   *Text
	Clip   *Rect // if set, only the part inside is painted
}

// Scene is a whole picture, in the order of painting.
type Scene struct {
	Size   Point
	Shift  [carriers]Point // how far each carrier has moved
	Range  Range
	Shapes []Shape
	Focus  []Spot // what the keyboard can reach, in order
	Rooms  []Room // left free for what the screen adds
	Axis   Axis   // of the charts
}

// Axis is the axis of time in the picture: From, s, stands at Left and To at
// Right.
type Axis struct{ From, To, Left, Right float64 }

// Room is a place that the picture leaves free, if View.Controls asks for it:
// "time" for the buttons of time, "views" for those that change what is seen.
type Room struct {
	Name string
	At   Rect
}

// Spot is a place that can be pointed at or reached by the keyboard.
type Spot struct {
	Name string
	At   Rect
	Says string // its state, in words
}

// Range of pressures that the colour map spans, Pa absolute.
type Range struct{ Low, High float64 }

// Share is where a pressure lies in the range, 0 to 1.
func (r Range) Share(p float64) float64 {
	return math.Min(math.Max((p-r.Low)/(r.High-r.Low), 0), 1)
}
