package scene

import (
	"math"

	"underdisc/model/plant"
)

// nearText names beside the close-up what it shows.
func (d *springDrawing) nearText() {
	if d.inset.Width() <= 0 {
		return
	}
	st, u, g, m := d.st, d.v.Units, &d.g, d.g.u
	left := d.inset.Right + 16*d.pl.scale
	width := d.at.Right - left - 6*d.pl.scale
	pitch := d.inset.Height() / 3.2
	y := d.inset.Top + 0.25*pitch
	lead := func(y float64, to Point) {
		to.X = math.Min(math.Max(to.X, d.inset.Left+4), d.inset.Right-4)
		to.Y = math.Min(math.Max(to.Y, d.inset.Top+4), d.inset.Bottom-4)
		d.out = append(d.out, Shape{Part: "close-up", Path: d.open(Point{left - 4*d.pl.scale, y}, to), Stroke: d.pens.put(Pen{Ink: Dark, Width: d.px(1.4)})})
		d.out = append(d.out, Shape{Part: "close-up", Path: d.circle(to, 2.6*d.pl.scale), Fill: d.paints.put(Paint{Ink: Dark})})
	}
	if g.rings {
		d.named("huddling chamber", Point{left, y}, FromLeft, linkHuddle, width, []string{"Huddling chamber", "Huddling"}, d.pressureUnit(u, st.Huddle), d.pressure(u, st.Huddle))
		lead(y, d.inNear((g.tip+g.lower)/2, g.lip/2+g.lift/2))
		y += pitch
	}
	switch {
	case g.over:
		d.named("below the upper ring", Point{left, y}, FromLeft, linkFlow, width, []string{"Below upper ring", "Upper ring"}, d.pressureUnit(u, st.Under), d.pressure(u, st.Under))
		lead(y, d.inNear((g.lower+g.upper)/2+1*m, math.Min(g.lip+g.lift-2*m, g.edge)))
	case g.hood:
		d.named("hood", Point{left, y}, FromLeft, linkFlow, width, []string{"Hood turns it down", "Hood"}, d.force(st.Jet))
		lead(y, d.inNear(g.upper-1.5*m, g.lip+g.lift-1*m))
	default:
		d.named("plug", Point{left, y}, FromLeft, linkHuddle, width, []string{"Stream turned", "Stream"}, d.force(st.Momentum+st.Jet))
		lead(y, d.inNear(g.upper-2*m, g.lip+g.lift+1*m))
	}
	y += pitch
	if g.rings {
		gap := 1e3*d.spec.LowerRing.Gap + g.lift
		w := words{part: "lower ring", size: d.small(), ink: Dark}
		d.write(w, Point{left, y + 0.35*d.small()}, FromLeft, width, d.say("lower ring: gap ", d.number(gap, 1), " mm"), d.say("lower ring ", d.number(gap, 1), " mm"), d.say(d.number(gap, 1), " mm"))
		lead(y, d.inNear(g.lower+0.7*m, g.ringTop-0.3*m))
		if g.over {
			w.part = "upper ring"
			exit := d.say(d.number(1e3*d.spec.UpperRing.Height, 1), " mm")
			d.write(w, Point{left, y + 1.7*d.small()}, FromLeft, width, d.say("upper ring: exit ", exit), d.say("upper ring ", exit))
		}
	}
	w := words{part: "close-up", size: d.small(), ink: Soft}
	d.write(w, Point{left, d.inset.Bottom - 0.1*d.small()}, FromLeft, width, d.say("drawn ", short(d.near), " times as large"), d.say("x ", short(d.near)))
}

// facesText names the glass on the faces.
func (d *springDrawing) facesText() {
	if d.glass.Width() <= 0 {
		return
	}
	x := d.glass.Right + 8*d.pl.scale
	width := d.p(-(bonnetReach+6)*d.g.u, 0).X - x
	how := "touch"
	if d.st.Pop != plant.Tight {
		how = d.say(Lift(d.st.Lift), " apart")
	}
	y := d.glass.Top + 1.2*d.label()
	d.named("faces", Point{x, y}, FromLeft, linkFaces, width, []string{"Faces"}, how, Lift(d.st.Lift))
	w := words{part: "faces", size: d.small(), ink: Soft}
	d.write(w, Point{x, y + 2.5*d.label()}, FromLeft, width, d.say("drawn x ", short(d.facesTimes())), d.say("x ", short(d.facesTimes())))
	w.ink = Dark
	if d.st.W != 0 && y+4.1*d.label() < d.p(0, d.g.bonnet+wall*d.g.u).Y {
		d.write(w, Point{x, y + 3.8*d.label()}, FromLeft, width, d.say(d.v.Units.Flow(d.st.W), " pass"), d.v.Units.Flow(d.st.W))
	}
}
