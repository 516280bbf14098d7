package scene

import "math"

// springs draws the spring between the washer on the spindle and the adjusting
// screw, as much compressed as it is, and the spindle through it.
func (d *springDrawing) springs() {
	g, u := &d.g, d.g.u
	low, high := g.springLow()+4*u+g.lift, g.springTop()-5*u
	rod := d.cut(-spindle*u, spindle*u, g.lift+g.guideLow+12*u, g.lift+g.spindleTop())
	d.area("spindle", Paint{Ink: White}, rod)
	d.edge("spindle", 3, rod)
	screw := d.cut(-8*u, 8*u, g.springTop()-5*u, g.springTop()+5*u)
	d.solid("adjusting screw", Paint{Ink: Hatch}, 1.6, screw)
	washer := d.cut(-(springReach+2)*u, (springReach+2)*u, low-3*u, low)
	d.area("spring", Paint{Ink: White}, washer)
	d.edge("spring", 2.4, washer)
	d.solid("adjusting screw", Paint{Ink: Hatch}, 1.6, d.cut(-(springReach+2)*u, (springReach+2)*u, high, high+3*u))
	const turns = 6
	wire := 4.2 * u
	pitch := (high - low - wire) / turns
	for i := range turns { // behind the spindle, then before it
		a, b := d.p(-springReach*u, low+wire/2+float64(i)*pitch), d.p(springReach*u, low+wire/2+(float64(i)+0.5)*pitch)
		d.stroke("spring", Still, Pen{Ink: Dark, Width: wire*d.k + d.px(2)}, d.open(a, b))
		d.stroke("spring", Still, Pen{Ink: White, Width: wire*d.k - d.px(2)}, d.open(a, b))
	}
	for i := range turns + 1 {
		z := low + wire/2 + float64(i)*pitch
		for j, c := range [...]Point{d.p(-springReach*u, z), d.p(springReach*u, z+pitch/2)} {
			if i == turns && j == 1 {
				break
			}
			d.fill("spring", Still, Paint{Ink: White}, d.circle(c, wire/2*d.k))
			d.stroke("spring", Still, Pen{Ink: Dark, Width: d.px(2)}, d.circle(c, wire/2*d.k))
		}
	}
}

// leverTo is the free end of the lever: its length by its ratio, as far as there is
// room, and raised by the lift that it makes. That is drawn smaller than it is.
func (d *springDrawing) leverTo() (x, z float64) {
	g, u := &d.g, d.g.u
	x = -math.Min(leverArm*(d.spec.Lever.Ratio-1), leverMost) * u
	z = g.capTop() - 1*u
	if d.st.Hand > 0 {
		z += 3*u + 7*u*math.Min(1, g.lift/g.travel)
	}
	return x, z
}

// lever draws the lifting lever, its pivot on the bonnet and the nut that it lifts,
// and an arrow where a hand pulls.
func (d *springDrawing) lever() {
	if d.spec.Lever == nil {
		return
	}
	g, u := &d.g, d.g.u
	nut := g.lift + g.capTop() + 5*u
	d.solid("nut", Paint{Ink: White}, 1.6, d.cut(-6.5*u, 6.5*u, nut, nut+3.5*u))
	x, z := d.leverTo()
	from := d.p(leverArm*u, g.capTop()+2.5*u)
	at := d.p(0, g.capTop()+3*u)
	end := d.p(x, z)
	if d.st.Hand > 0 {
		at = d.p(0, math.Min(nut-1*u, g.capTop()+3*u+8*u))
	}
	arm := d.open(from, at, end)
	d.stroke("lever", Still, Pen{Ink: Dark, Width: 3.4*u*d.k + d.px(4)}, arm)
	d.stroke("lever", Still, Pen{Ink: White, Width: 3.4 * u * d.k}, arm)
	d.fill("lever", Still, Paint{Ink: Dark}, d.circle(from, 1.6*u*d.k))
	if d.st.Hand > 0 {
		low := Point{end.X, end.Y + 30*d.pl.scale}
		d.stroke("hand", Still, Pen{Ink: Now, Width: d.px(4)}, d.arrow(low, Point{end.X, end.Y + 5*d.pl.scale}, 12*d.pl.scale))
	}
}

// gag draws the screw over the spindle, and what holds it, while it is on.
func (d *springDrawing) gag() {
	if !d.st.Gagged {
		return
	}
	g, u := &d.g, d.g.u
	tip := g.spindleTop() + 1e3*d.st.Travel
	top := g.top() - 1.5*u
	legs := []Path{d.cut(-14*u, 14*u, top-5*u, top)}
	for _, s := range []float64{-1, 1} {
		legs = append(legs, d.sided(s, 10*u, 14*u, g.capTop()-2*u, top))
	}
	legs = append(legs, d.cut(-2.6*u, 2.6*u, math.Min(tip, top), top))
	d.solid("gag", Paint{Ink: Dark}, 1, legs...)
}
