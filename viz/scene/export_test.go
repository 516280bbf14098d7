package scene

import "underdisc/model/plant"

// Panels are where the parts of a picture of a view stand.
func Panels(v *View) map[string]Rect {
	p := planOf(v)
	return map[string]Rect{"header": p.header, "chain": p.chain, "boiler": p.boiler, "cutaway": p.cutaway, "margin": p.margin,
		"forces": p.forces, "charts": p.charts, "ribbon": p.ribbon, "foot": p.foot}
}

// PairPanels are where the parts of a picture of two views stand.
func PairPanels(v *View) map[string]Rect {
	p := planOf(v)
	a, b := p.columns()
	return map[string]Rect{"header": p.header, "A": a, "B": b, "charts": p.charts, "ribbon": p.ribbon, "foot": p.foot}
}

// ForceBar is one of the forces drawn.
type ForceBar struct {
	Name  string
	Force float64
	Up    bool
}

// Bars are the forces drawn for a valve.
func Bars(st *plant.ValveState) (out []ForceBar) {
	for _, b := range forceBars(st) {
		out = append(out, ForceBar{b.name, b.force, b.up})
	}
	return out
}

// BoundsOf is the room that the shapes of a part take.
func BoundsOf(shapes []Shape, part string) (Rect, bool) { return boundsOf(shapes, part) }

// SpringBars are the forces drawn for the spring-loaded valve of a view.
func SpringBars(v *View) (out []ForceBar) {
	s := &sheet{stock: new(stock), v: v, sp: v.SpringState()}
	for _, b := range s.springBars() {
		out = append(out, ForceBar{b.name, b.force, b.up})
	}
	return out
}
