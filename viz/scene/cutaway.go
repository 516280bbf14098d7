package scene

import "underdisc/model/plant"

// Cutaway draws the valve cut open through its axis, in a place of the picture:
// metal, fluids by their pressure, moving parts, what flows, and the numbers
// that belong there. Every number comes from the snapshot or the facts.
//
// The order is that of painting: fixed metal, fluids, moving parts, marks of
// flow, texts. Texts are placed before the marks, which keep clear of them; a
// secondary text that finds no free room is left out.
func Cutaway(v *View, at Rect) []Shape {
	d := &drawing{v: v, st: &v.Snapshot.Valves[v.Valve], spec: v.Model.Valves[v.Valve].Spec,
		g: sectionOf(v, at), pl: planOf(v.Size, v.Projector)}
	d.metal()
	d.fluids()
	d.parts()
	d.bleed()
	flow := d.flowMarks // they keep clear of texts, which come last
	body := d.out
	d.out = nil
	d.texts()
	words := d.out
	d.out = body
	flow()
	return append(d.out, words...)
}

// drawing is a cutaway in the making.
type drawing struct {
	v     *View
	st    *plant.ValveState
	spec  *plant.PilotedValve
	g     *section
	pl    *plan
	out   []Shape
	taken []Rect // by texts and their badges, as they stand in the picture
}

// px is a width of line that is x at the reference size.
func (d *drawing) px(x float64) float64 { return max(x*d.pl.scale, 0.6*x) }

func (d *drawing) fill(part string, moves Carrier, paint Paint, path Path) {
	d.out = append(d.out, Shape{Part: part, Moves: moves, Path: path, Fill: &paint})
}

func (d *drawing) stroke(part string, moves Carrier, pen Pen, path Path) {
	d.out = append(d.out, Shape{Part: part, Moves: moves, Path: path, Stroke: &pen})
}

// outlined draws paths of one part that touch or overlap as one area: the lines
// first, so that none is left where two of them meet.
func (d *drawing) outlined(part string, moves Carrier, paint Paint, width float64, paths ...Path) {
	for _, p := range paths {
		d.stroke(part, moves, Pen{Ink: Dark, Width: 2 * width}, p)
	}
	for _, p := range paths {
		d.fill(part, moves, paint, p)
	}
}

// white draws a moving part.
func (d *drawing) white(part string, moves Carrier, path Path) {
	d.fill(part, moves, Paint{Ink: White}, path)
	d.stroke(part, moves, Pen{Ink: Dark, Width: d.px(3.5)}, path)
}
