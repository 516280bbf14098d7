package scene

import "underdisc/model/plant"

// Cutaway draws the valve cut open through its axis, in a place of the picture:
// metal, fluids by their pressure, moving parts, what flows, and the numbers
// that belong there. Every number comes from the snapshot or the facts.
//
// The order is that of painting: fixed metal, fluids, moving parts, marks of
// flow, texts. Texts are placed before the marks, which keep clear of them; a
// secondary text that finds no free room is left out.
func Cutaway(v *View, at Rect) []Shape { return newDrawing(new(stock), v, at).draw() }

// canvas is what every cutaway is drawn on.
type canvas struct {
	*stock
	v      *View
	pl     *plan
	at     Rect // its place in the picture
	out    []Shape
	taken  []Rect // by texts and their badges, as they stand in the picture
	shifts [carriers]Point

	second bool // it is that of the second run of a pair
	brief  bool // only what must be said
}

// drawing is a cutaway of a piloted valve in the making.
type drawing struct {
	canvas
	st   *plant.ValveState
	spec *plant.PilotedValve
	g    *section

	morePool bool // some water is drawn larger than it is
}

// as is a carrier, told apart from that of the other run of a pair.
func (d *canvas) as(c Carrier) Carrier {
	if d.second && c != Still {
		return c + WithDiscB - WithDisc
	}
	return c
}

func newDrawing(k *stock, v *View, at Rect) *drawing {
	d := &drawing{canvas: canvas{stock: k, v: v, pl: planOf(v), at: at, out: k.body[:0], taken: k.taken[:0]},
		st: &v.Snapshot.Valves[v.Valve], spec: v.Model.Valves[v.Valve].Spec, g: sectionOf(k, v, at)}
	for c := range carriers {
		d.shifts[c] = d.g.shift(c)
	}
	return d
}

// draw returns the shapes; they hold until the next cutaway is drawn.
func (d *drawing) draw() []Shape {
	d.metal()
	d.fluids()
	under := len(d.out)
	d.pools() // for what there is; where, when it is known where texts stand
	d.out = d.out[:under]
	d.parts()
	d.thermometers()
	d.bleed()
	d.openings()
	body := d.out
	d.out = d.words[:0]
	d.texts()
	words := d.out
	d.out = body
	d.poolsUnder(under)
	d.flowMarks()
	d.out = append(d.out, words...)
	d.stock.body, d.stock.words, d.stock.taken = d.out, words, d.taken
	return d.out
}

// px is a width of line that is x at the reference size.
func (d *canvas) px(x float64) float64 { return max(x*d.pl.scale, 0.6*x) }

func (d *canvas) fill(part string, moves Carrier, paint Paint, path Path) {
	d.out = append(d.out, Shape{Part: part, Moves: d.as(moves), Path: path, Fill: d.paints.put(paint)})
}

func (d *canvas) stroke(part string, moves Carrier, pen Pen, path Path) {
	d.out = append(d.out, Shape{Part: part, Moves: d.as(moves), Path: path, Stroke: d.pens.put(pen)})
}

// outlined draws paths of one part that touch or overlap as one area: the lines
// first, so that none is left where two of them meet.
func (d *canvas) outlined(part string, moves Carrier, paint Paint, width float64, paths ...Path) {
	for _, p := range paths {
		d.stroke(part, moves, Pen{Ink: Dark, Width: 2 * width}, p)
	}
	for _, p := range paths {
		d.fill(part, moves, paint, p)
	}
}

// white draws a moving part.
func (d *canvas) white(part string, moves Carrier, path Path) {
	d.fill(part, moves, Paint{Ink: White}, path)
	d.stroke(part, moves, Pen{Ink: Dark, Width: d.px(3.5)}, path)
}
