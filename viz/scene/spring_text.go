package scene

import (
	"math"

	"underdisc/model/plant"
)

// numbersAt writes the numbers at their places: first what must be there, then what may be.
func (d *springDrawing) numbersAt() {
	st, u := d.st, d.v.Units
	g, m := &d.g, d.g.u
	d.keepOff()
	// Vessel, inlet, outlet.
	mid := d.p(0, (vesselLow+vesselWall)/2*m)
	d.region("vessel", mid, 2*g.bowl*d.k, (vesselWall-vesselLow-3)*m*d.k, st.Vessel, d.v.vesselName())
	if d.spec.Inlet != nil || !d.brief {
		d.region("inlet", d.p(0, -34*m), (2*g.bore-4*m)*d.k, 30*m*d.k, st.Inlet, "Inlet")
	}
	left, right := g.bowl+(wall+4)*m, d.right-8*m
	d.region("outlet", d.p((left+right)/2, (outLow+outTop)/2*m), (right-left)*d.k, (outTop-outLow-14)*m*d.k, st.Outlet, "Outlet")
	if st.OutletFluid.Volume > 0 { // a pipe; of the surroundings the model knows the pressure alone
		d.fluidText("outlet", Point{d.p((left+right)/2, 0).X, d.p(0, outLow*m+5*m).Y}, (right-left)*d.k, d.p(0, outLow*m+1*m).Y, st.Outlet, &st.OutletFluid)
	}
	d.liftText()
	d.nearText()
	d.facesText()
	d.springText()
	d.handText()
	d.flowText(u)
	if !d.brief {
		d.sizes()
	}
}

// keepOff keeps texts off what they would cover.
func (d *springDrawing) keepOff() {
	g, u := &d.g, d.g.u
	if d.spec.Lever != nil {
		x, z := d.leverTo()
		a, b := d.p(x-3*u, math.Max(z, g.capTop()+3*u)+3*u), d.p(leverArm*u, math.Min(z, g.capTop())-3*u)
		d.taken = append(d.taken, Rect{a.X, a.Y, b.X, b.Y})
		if d.st.Hand > 0 {
			e := d.p(x, z)
			d.taken = append(d.taken, Rect{e.X - 9*d.pl.scale, e.Y, e.X + 9*d.pl.scale, e.Y + 34*d.pl.scale})
		}
	}
	for _, r := range []Rect{d.inset, d.glass} {
		if r.Width() > 0 {
			d.taken = append(d.taken, Rect{r.Left - 3, r.Top - 3, r.Right + 3, r.Bottom + 3})
		}
	}
}

// named writes a name and a value below it, from a place on the left or up to one on
// the right, with the number of a link.
func (d *springDrawing) named(part string, at Point, from Anchor, link int, width float64, names []string, values ...string) {
	r := d.badgeRadius()
	w := words{part: part, size: d.label(), ink: Dark}
	x, s := at.X, 1.0
	if from == FromRight {
		s = -1
	}
	if link > 0 {
		d.badge(part, Still, Point{x + s*1.25*r, at.Y - 0.15*d.label()}, link)
		x += s * 2.9 * r
		width -= 2.9 * r
	}
	d.write(w, Point{x, at.Y - 0.28*d.label()}, from, width, names...)
	at.Y += d.label()
	w.bold = true
	for _, v := range values {
		if d.write(w, Point{x, at.Y}, from, width, v) {
			return
		}
	}
	if n := len(values); n > 0 && link > 0 { // below the badge
		d.write(w, Point{at.X, at.Y + 0.75*d.label()}, from, width+2.9*r, values[n-1])
	}
}

// liftText says left of the body how far the disc has come, with an arrow on the
// disc while it moves.
func (d *springDrawing) liftText() {
	g, u, st := &d.g, d.g.u, d.st
	right := d.p(-g.bowl-(wall+3)*u, 0).X
	left := d.at.Left + 10*d.pl.scale
	lift, full := Lift(math.Max(0, st.Lift)), d.mm(d.spec.Disc.Travel)
	how := d.say(lift, " of ", full)
	switch {
	case st.Pop == plant.Tight:
		lift, how = "on its seat", "on its seat"
	case st.Hold == plant.HeldOpen:
		how = d.say(lift, ", at its stop")
	}
	y := d.p(0, 4*u).Y
	d.named("disc lift", Point{left, y}, FromLeft, linkLift, right-left, []string{"Lift"}, how, lift)
	d.stroke("disc lift", Still, Pen{Ink: Soft, Width: d.px(1.2)}, d.open(Point{d.p(-g.bowl-wall*u, 0).X, y}, d.p(-g.upper+3*u, g.lift+6*u)))
	if st.Hold == plant.Moving && math.Abs(st.Speed) > 1e-3 && st.Pop == plant.Lifted {
		d.moving("disc", Still, d.p(0, g.lift+flange*u/2+1*u), st.Speed)
	}
	if d.spec.Lever == nil || d.brief { // what it is pressed with
		return
	}
	y += 2.6 * d.label()
	w := words{part: "seat force", size: d.small(), ink: Dark}
	if st.Pop == plant.Tight && st.Faces > 0 {
		d.write(w, Point{left, y}, FromLeft, right-left, d.say("pressed with ", d.force(st.Faces)), d.force(st.Faces))
	}
}

// springText says left of the bonnet what the spring gives.
func (d *springDrawing) springText() {
	u := d.g.u
	right := d.p(-(bonnetReach+7)*u, 0).X
	left := d.at.Left + 10*d.pl.scale
	y := d.p(0, d.g.bonnet+(wall+18)*u).Y
	if d.glass.Width() > 0 {
		y = math.Max(y, d.glass.Bottom+1.6*d.label())
	}
	if y+d.label() > d.p(0, d.g.bonnet+(wall+2)*u).Y {
		right = d.p(-d.g.bowl-(wall+6)*u, 0).X
	}
	if d.brief {
		left = right - 0.2*d.at.Width()
		y = d.p(0, d.g.springTop()-8*u).Y
	}
	d.named("spring", Point{left, y}, FromLeft, linkInlet, right-left, []string{"Spring"}, d.force(d.st.Spring))
}

// handText says beside the lever's end what the hand pulls with, and what it would
// take; and that a gag is on.
func (d *springDrawing) handText() {
	st, g, u := d.st, &d.g, d.g.u
	if st.Gagged {
		w := words{part: "gag", size: d.label(), bold: true, ink: Dark}
		right := d.p(-17*u, 0).X
		d.write(w, Point{right, d.p(0, g.top()-5*u).Y}, FromRight, right-d.at.Left-8*d.pl.scale, "Gag on: it cannot lift", "Gag on")
	}
	if d.spec.Lever == nil {
		return
	}
	x, z := d.leverTo()
	end := d.p(x, z)
	left := math.Max(d.at.Left+14*d.pl.scale, end.X-30*d.pl.scale)
	width := d.p(-12*u, 0).X - left
	w := words{part: "lever", size: d.small(), ink: Dark}
	y := end.Y - 1.4*d.small()
	if st.Hand > 0 {
		d.write(w, Point{left, y}, FromLeft, width, d.say("to lift it now ", d.force(st.HandToLift)), d.say("needs ", d.force(st.HandToLift)))
		w.size, w.bold = d.label(), true
		d.write(w, Point{left, y - 1.4*d.label()}, FromLeft, width, d.say("Hand pulls ", d.force(st.Hand)), d.force(st.Hand))
		return
	}
	if st.Pop != plant.Tight {
		return
	}
	d.write(w, Point{left, y}, FromLeft, width, d.say("to lift by hand now ", d.force(st.HandToLift)), d.say("by hand ", d.force(st.HandToLift)), d.force(st.HandToLift))
}

// flowText says below the outlet what passes.
func (d *springDrawing) flowText(u Units) {
	g, m, st := &d.g, d.g.u, d.st
	x := d.p(g.bowl+(wall+6)*m, 0).X
	y := d.p(0, (outLow-wall)*m).Y + 1.5*d.label()
	width := d.at.Right - x - 8*d.pl.scale
	how := u.Flow(st.W)
	if st.W == 0 {
		how = "none"
	}
	long := how
	if st.W != 0 && st.Choked {
		long = d.say(how, ", choked")
	}
	d.named("flow", Point{x, y}, FromLeft, 0, width, []string{"Flow"}, long, how)
	if d.brief {
		return
	}
	y += 2.7 * d.label()
	w := words{part: "wear", size: d.small(), ink: Dark}
	d.write(w, Point{x, y}, FromLeft, width, d.say("Seat wear so far ", d.number(st.Wear, 2), " (a relative index)"), d.say("wear ", d.number(st.Wear, 2), " (relative)"))
	y += 1.4 * d.small()
	if _, least := d.poolHigh(); least {
		d.write(w, Point{x, y}, FromLeft, width, "water drawn larger than it is")
		y += 1.4 * d.small()
	}
	if b := d.f.Back; math.Abs(b.BuiltUp) > 0.02e5 {
		d.write(w, Point{x, y}, FromLeft, width, d.say("back pressure built up ", d.difference(u, b.BuiltUp), " ", u.DifferenceName()))
		y += 1.4 * d.small()
	}
	if st.OutletWall.Fitted {
		d.write(w, Point{x, y}, FromLeft, width, d.say("discharge pipe's wall ", d.temperature(u, st.OutletWall.T)), d.temperature(u, st.OutletWall.T))
	}
}

// sizes are the scale, and the main sizes.
func (d *springDrawing) sizes() {
	length := 100.0
	for _, l := range []float64{50, 20, 10, 5} {
		if length*d.k > 75*d.pl.scale {
			length = l
		}
	}
	x := d.at.Left + 14*d.pl.scale
	y := d.at.Bottom - 16*d.pl.scale
	bar := length * d.k
	if x+bar > d.p(-d.g.bowl-(wall+2)*d.g.u, 0).X {
		return
	}
	w := words{part: "scale", size: d.small(), ink: Soft}
	t := 4 * d.pl.scale
	if !d.write(w, Point{x, y - 0.7*d.small()}, FromLeft, d.p(-d.g.bowl-(wall+2)*d.g.u, 0).X-x, d.say(short(length), " mm"), "") {
		return
	}
	pen := Pen{Ink: Soft, Width: d.px(2)}
	d.stroke("scale", Still, pen, d.open(Point{x, y}, Point{x + bar, y}))
	d.stroke("scale", Still, pen, d.open(Point{x, y - t}, Point{x, y + t}))
	d.stroke("scale", Still, pen, d.open(Point{x + bar, y - t}, Point{x + bar, y + t}))
	d.taken = append(d.taken, Rect{x - 2, y - t - 1, x + bar + 2, y + t + 1})
	if in := d.spec.Inlet; in != nil {
		d.write(w, Point{x, y - 2.2*d.small()}, FromLeft, d.p(-d.g.bore-(wall+6)*d.g.u, 0).X-x, "inlet pipe not to scale")
	}
}

// poolHigh is how high water stands in the outlet as drawn, mm, zero if none lies;
// least tells that this is more than it does.
func (d *springDrawing) poolHigh() (high float64, least bool) {
	c := &d.st.OutletFluid
	if !d.v.wet() || !(c.Water >= puddle) || !(c.Volume > 0) {
		return 0, false
	}
	high = math.Min(c.Water/c.Volume, 1) * (outTop - outLow) * d.g.u
	if low := leastPool * d.pl.scale / d.k; high < low {
		return low, true
	}
	return high, false
}

// pool draws the water that lies in the outlet.
func (d *springDrawing) pool() {
	g, u := &d.g, d.g.u
	z, least := d.poolHigh()
	if z <= 0 {
		return
	}
	a, b := d.p(g.bowl+wall*u, outLow*u+z), d.p(d.right-5*u, outLow*u)
	d.waterIn("water in the outlet", Rect{a.X, a.Y, b.X, b.Y}, least)
}

// marks draws the darts of what flows: up the nozzle, past the disc, under the rings
// and out.
func (d *springDrawing) marks() {
	g, u, st := &d.g, d.g.u, d.st
	if g.lift < 0.2*u || !flows(st.W, st.Curtain) {
		return
	}
	size, gap := 7.4*u*d.k*dart(st.W), 22*u*d.k
	under := g.lip + g.lift
	line := func(xz ...float64) {
		from := len(d.knots.all)
		for i := 0; i+1 < len(xz); i += 2 {
			d.knots.put(d.p(xz[i], xz[i+1]))
		}
		d.darts(course{part: "flow", gap: gap, size: size, phase: d.v.Drift.Seat, way: 1, pts: d.knots.since(from)})
	}
	out := g.upper + 8*u
	low := under - 3*u
	if g.over {
		low = math.Min((g.ledge+g.edge)/2, under-2*u)
	}
	if g.hood {
		low = under - 8*u
	}
	for _, s := range []float64{-1, 1} {
		far := []float64{s * 0.5 * g.bore, vesselLow*u + 12*u, s * 0.5 * g.bore, -9 * u, s * g.bore * 0.8, g.lift / 2, s * (g.tip + 0.5*u), g.lift / 2,
			s * (g.lower + 1*u), (g.ringTop + under) / 2, s * (g.upper - 1*u), (low + under) / 2, s * out, low}
		if s > 0 {
			far = append(far, g.bowl-5*u, (outLow+outTop)/2*u-4*u, g.bowl+10*u, outLow*u+8*u, d.right-6*u, outLow*u+8*u)
		} else {
			far = append(far, -g.bowl+7*u, low+4*u, -g.bowl+6*u, low+18*u)
		}
		line(far...)
	}
}
