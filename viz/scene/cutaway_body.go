package scene

import "math"

// metal draws the fixed metal, as one area.
func (d *drawing) metal() {
	g, u := d.g, d.g.u
	w := wall * u
	low := g.low + w
	pieces := []Path{
		// Inlet, body, tailpipe.
		g.box(g.left, -pocketOut*u, pipeLow*u-w, pipeTop*u+w),
		g.box(-pocketOut*u-w, pocketOut*u+w, pocketLow*u-w, tailLow*u),
		d.elbow(w),
		// Guide and chamber.
		g.box(-g.guide-w, g.guide+w, math.Min(g.ledge-5*u, pocketLow*u), pocketLow*u),
		g.box(-low, low, g.floor-w, pocketLow*u),
		// The casting with the drilled bore.
		g.box(-pocketOut*u-w, 0, d.bleedLow()-7*u, pocketLow*u),
		// The pilot's block, with the passages to and from it.
		g.box(0, (laneOut+6)*u, laneLow*u-5*u, laneTop*u+5*u),
		g.box((riserIn-4)*u, (laneOut+6)*u, laneTop*u, (pilotTop+5)*u),
		g.box((riserIn-4)*u, (riserOut+4)*u, -70*u, tailLow*u),
		// The sleeve that the plunger slides in, and the core that stops it.
		g.box((pilotX-10.5)*u, (pilotX+10.5)*u, pilotTop*u, d.coreTop()),
	}
	if g.hasGate {
		x := gateX * u
		pieces = append(pieces, g.box(x-(gateHalf+1)*u-4*u, x+(gateHalf+1)*u+4*u, pipeTop*u, d.bonnetTop()+4*u))
	}
	d.outlined("body", Still, Paint{Kind: Hatched, Ink: Metal}, d.px(2), pieces...)
	if g.hasDump { // a pipe of its own: a joint at each end
		for _, z := range []float64{-52, 8} {
			d.outlined("dump line", Still, Paint{Kind: Hatched, Ink: Metal}, d.px(2),
				g.box((riserIn-6)*u, (riserOut+6)*u, (z-2.5)*u, (z+2.5)*u))
		}
	}
}

// coreTop is the upper end of the sleeve.
func (d *drawing) coreTop() float64 { return (coilTop + 4) * d.g.u }

// plungerTop is the z of the plunger's upper end as it lies shut, and coreLow
// that of the core that it meets at full stroke.
func (d *drawing) plungerTop() float64 { return d.coreLow() - d.g.stroke }
func (d *drawing) coreLow() float64    { return (coilTop - 10) * d.g.u }

func (d *drawing) bonnetTop() float64 { return pipeTop*d.g.u + (pipeTop-pipeLow+6)*d.g.u }

// bleedLow is the z at which the drilled bore enters the chamber, below the
// ledge.
func (d *drawing) bleedLow() float64 { return d.g.ledge - 9*d.g.u }

// elbow is the outline of throat and tailpipe, with walls of the given
// thickness round them; without walls, of the fluid in them.
func (d *drawing) elbow(w float64) Path {
	g, u := d.g, d.g.u
	r, out := g.seat, 24*u // outer bend; the inner one is small
	in := 7 * u
	left, right, end := -r-w, r+w, g.right
	top, low := tailTop*u+w, tailLow*u-w
	if w > 0 {
		in = 3 * u
	}
	big := out + w
	const q = 1 - kappa
	c := func(a, b, e Point) Seg { return Seg{Op: CurveTo, P: [3]Point{a, b, e}} }
	l := func(p Point) Seg { return Seg{Op: LineTo, P: [3]Point{p}} }
	path := Path{{Op: MoveTo, P: [3]Point{g.p(left, 0)}},
		l(g.p(left, top-big)),
		c(g.p(left, top-big*q), g.p(left+big*q, top), g.p(left+big, top)),
		l(g.p(end, top)), l(g.p(end, low))}
	if low > in {
		path = append(path, l(g.p(right+in, low)), c(g.p(right+in*q, low), g.p(right, low-in*q), g.p(right, low-in)))
	}
	return append(path, l(g.p(right, 0)), Seg{Op: Close})
}

// flat is the paint of a fluid at rest.
func flat(p float64) Paint { return Paint{Kind: Pressure, A: p} }

// face is the mean pressure on the disc inside the seat, Pa absolute.
func (d *drawing) face() float64 {
	return d.st.Disc.Phi*d.st.Above + (1-d.st.Disc.Phi)*d.st.Outlet
}

// fluids draws the regions, each in the colour of its pressure. Their lines
// come first: where two regions open into each other there is none.
func (d *drawing) fluids() {
	g, u, st := d.g, d.g.u, d.st
	type region struct {
		part  string
		paint Paint
		paths []Path
	}
	body := region{"inlet and body", flat(st.Above), []Path{
		g.box(g.left, -pocketOut*u+1*u, pipeLow*u, pipeTop*u),
		g.poly(-pocketOut*u, bodyTop*u, -g.seat-seatRing*u, bodyTop*u, -g.seat-seatRing*u, 0, g.seat+seatRing*u, 0,
			g.seat+seatRing*u, bodyTop*u, pocketOut*u, bodyTop*u, pocketOut*u, pocketLow*u, guideOut*u, pocketLow*u,
			guideOut*u, g.guideTop, -guideOut*u, g.guideTop, -guideOut*u, pocketLow*u, -pocketOut*u, pocketLow*u),
		g.box(-g.guide, g.guide, g.ledge, g.guideTop+1*u), // behind the disc
	}}
	tail := region{"tailpipe", flat(st.Outlet), []Path{d.elbow(0)}}
	if st.Disc.Lift > 0 { // it falls on from the face to the outlet
		tail.paint = Paint{Kind: Blend, A: d.face(), B: st.Outlet, From: g.p(-0.2*g.seat, 15*u), To: g.p(0.6*g.seat, 52*u)}
	}
	dump := region{"pilot outlet", flat(st.Dump), []Path{
		g.box(g.pilotAt-g.orifice, g.pilotAt+g.orifice, -73*u, g.pilotSeat),
		g.box(riserIn*u, g.pilotAt, -73*u, -66*u),
		g.box(riserIn*u, riserOut*u, -73*u, (tailLow+0.5)*u),
	}}
	if g.hasDump {
		dump.part = "dump line"
	}
	chamber := region{"chamber", flat(st.Below), []Path{
		g.box(-g.guide, g.guide, g.ledge, -g.skirt),
		g.box(-g.low, g.low, g.floor, g.ledge+1*u),
		g.box(0, laneOut*u, laneLow*u, laneTop*u),
		g.box(laneIn*u, laneOut*u, laneLow*u, -48*u),
		g.box((pilotX+11)*u, laneOut*u, -55*u, -48*u),
		g.box((pilotX-12)*u, (pilotX+12)*u, g.pilotSeat, pilotTop*u),
		g.box(g.pilotAt-d.plungerHalf()-1*u, g.pilotAt+d.plungerHalf()+1*u, pilotTop*u-1*u, d.coreLow()),
	}}
	bleed := region{"bleed", Paint{}, nil}
	if w := d.bleedDrawn(); w > 0 {
		x, z := bleedX*u, d.bleedLow()
		mean := (st.Above + st.Below) / 2
		up := Paint{Kind: Blend, A: st.Above, B: mean, From: g.p(x, pocketLow*u), To: g.p(x, z)}
		across := Paint{Kind: Blend, A: mean, B: st.Below, From: g.p(x, z), To: g.p(-g.low, z)}
		bleed.paths = []Path{g.box(x-w/2, x+w/2, z-w/2, pocketLow*u+0.5*u), g.box(x-w/2, -g.low+0.5*u, z-w/2, z+w/2)}
		for _, p := range bleed.paths {
			d.stroke("bleed", Still, Pen{Ink: Dark, Width: d.px(3)}, p)
		}
		d.fill("bleed", Still, across, bleed.paths[1])
		d.fill("bleed", Still, up, bleed.paths[0])
	}
	regions := []region{body, tail, dump, chamber}
	for _, r := range regions {
		for _, p := range r.paths {
			d.stroke(r.part, Still, Pen{Ink: Dark, Width: d.px(4)}, p)
		}
	}
	for _, r := range regions {
		for _, p := range r.paths {
			d.fill(r.part, Still, r.paint, p)
		}
	}
	if w := d.bleedDrawn(); w > 0 { // where the bore opens at either end
		x, z := bleedX*u, d.bleedLow()
		d.fill("bleed", Still, flat(st.Above), g.box(x-w/2, x+w/2, pocketLow*u-1.2*u, pocketLow*u+1*u))
		d.fill("bleed", Still, flat(st.Below), g.box(-g.low-1.2*u, -g.low+1*u, z-w/2, z+w/2))
	}
	if g.hasGate { // upstream of the gate, and in its bonnet
		x := gateX * u
		d.stroke("block valve", Still, Pen{Ink: Dark, Width: d.px(4)}, g.box(x-(gateHalf+1)*u, x+(gateHalf+1)*u, pipeTop*u, d.bonnetTop()))
		d.fill("from vessel", Still, flat(st.Vessel), g.box(g.left, x, pipeLow*u, pipeTop*u))
		d.fill("block valve", Still, flat(st.Vessel), g.box(x-(gateHalf+1)*u, x+(gateHalf+1)*u, pipeTop*u-1.5*u, d.bonnetTop()))
	}
	d.gradients()
	for _, s := range []float64{-1, 1} { // the seat's ring
		a, b := s*g.seat, s*(g.seat+seatRing*u)
		path := g.box(math.Min(a, b), math.Max(a, b), 0, 4*u)
		d.fill("seat", Still, Paint{Ink: Hatch}, path)
		d.stroke("seat", Still, Pen{Ink: Dark, Width: d.px(2)}, path)
	}
}

// bleedDrawn is the width of the drilled bore as drawn: its own, but never too
// thin to be seen; none where there is no bore.
func (d *drawing) bleedDrawn() float64 {
	if d.g.bleedWidth <= 0 {
		return 0
	}
	return math.Min(math.Max(d.g.bleedWidth, 3*d.pl.scale/d.g.k), 7*d.g.u)
}

// gradients are where the pressure falls on a short way: through the curtain
// from body to face, up the throat from face to outlet, and through the pilot's
// seat. Shut, there are none.
func (d *drawing) gradients() {
	g, u, st := d.g, d.g.u, d.st
	if st.Disc.Lift > 0 {
		f := d.face()
		in, out := g.seat-4*u, g.seat+(seatRing+2)*u
		for _, s := range []float64{-1, 1} {
			d.fill("curtain", Still, Paint{Kind: Blend, A: st.Above, B: f, From: g.p(s*out, 0), To: g.p(s*in, 0)},
				g.box(math.Min(s*in, s*out), math.Max(s*in, s*out), -g.lift-1.2*u, 0))
		}
		d.fill("curtain", Still, flat(f), g.box(-in-0.3*u, in+0.3*u, -g.lift-1.2*u, 0.3*u))
	}
	if st.Pilot.Lift > 0 {
		x, z := g.pilotAt, g.pilotSeat
		d.fill("pilot seat", Still, Paint{Kind: Blend, A: st.Below, B: st.Dump, From: g.p(x, z), To: g.p(x, z-5*u)},
			g.box(x-g.orifice, x+g.orifice, z-5*u, z+0.2*u))
	}
}
