package scene

import "math"

// parts draws what moves, with the springs and the coil.
func (d *drawing) parts() {
	d.gate()
	d.disc()
	d.plunger()
	d.coil()
	d.breaks()
}

// disc draws the disc: a cup, its top against the seat, its skirt in the guide.
func (d *drawing) disc() {
	g, u := d.g, d.g.u
	// The chamber reaches into the cup.
	d.fill("chamber", WithDisc, flat(d.st.Below), g.box(-g.bore, g.bore, -g.skirt-0.5*u, -g.crown))
	d.cupSpring()
	d.white("disc", WithDisc, g.poly(
		-g.guide, -g.skirt, -g.guide, -4*u, -g.guide+4*u, 0, g.guide-4*u, 0, g.guide, -4*u, g.guide, -g.skirt,
		g.bore, -g.skirt, g.bore, -g.crown, -g.bore, -g.crown, -g.bore, -g.skirt))
}

// coil windings of the main spring, and how thick its wire is.
const (
	windings = 6
	wireOf   = 3.0
)

// springAt are the ends of the main spring: the crown's underside as it stands
// now, and the chamber's floor.
func (d *drawing) springAt() (top, low float64) { return -d.g.crown - d.g.lift, d.g.floor }

// sides, and the turns behind between them, but for those behind the chamber's
// number.
func (d *drawing) cupSpring() {
	g, u := d.g, d.g.u
	top, low := d.springAt()
	r := math.Min(g.bore, g.low) - 3.5*u
	wire := wireOf * u
	pitch := (top - low - wire) / windings
	clear := d.chamberWords()
	for i := 0; i <= windings; i++ {
		z := top - wire/2 - float64(i)*pitch
		next := z - pitch/2
		a, b := g.p(-r, z), g.p(r, next)
		if i < windings {
			if box := (Rect{a.X, a.Y, b.X, b.Y}); !box.Meets(clear) {
				d.stroke("spring", Still, Pen{Ink: Dark, Width: wire*g.k + d.px(2)}, d.open(a, b))
				d.stroke("spring", Still, Pen{Ink: White, Width: wire*g.k - d.px(2)}, d.open(a, b))
			}
		}
	}
	for i := 0; i <= windings; i++ {
		z := top - wire/2 - float64(i)*pitch
		for _, c := range []Point{g.p(-r, z), g.p(r, z-pitch/2)} {
			if c.Y > g.p(0, low).Y {
				continue
			}
			d.fill("spring", Still, Paint{Ink: White}, d.circle(c, wire/2*g.k))
			d.stroke("spring", Still, Pen{Ink: Dark, Width: d.px(2)}, d.circle(c, wire/2*g.k))
		}
	}
}

// plungerHalf is half the plunger's width where it slides.
func (d *drawing) plungerHalf() float64 { return 7 * d.g.u }

// plunger draws the plunger, which rests on the pilot's seat, and the spring
// that pushes it there.
func (d *drawing) plunger() {
	g, u := d.g, d.g.u
	x, h, z := g.pilotAt, d.plungerHalf(), g.pilotSeat
	top := d.plungerTop()
	collar := 10.5 * u
	tip := math.Min(g.orifice+1.6*u, 9.5*u)
	// The spring bears on the space's ceiling and on the collar.
	low := z + 8.5*u + g.raised
	high := pilotTop*u - 0.5*u
	wire := math.Min(1.8*u, (high-low)/4)
	for i := range 3 {
		zi := high - wire/2 - (high-low-wire)*float64(i)/2
		for _, s := range []float64{-1, 1} {
			c := g.p(x+s*(h+2*u), zi)
			d.fill("pilot spring", Still, Paint{Ink: White}, d.circle(c, wire/2*g.k))
			d.stroke("pilot spring", Still, Pen{Ink: Dark, Width: d.px(1.6)}, d.circle(c, wire/2*g.k))
		}
	}
	d.white("plunger", WithPlunger, g.poly(
		x-tip, z, x-tip, z+3*u, x-collar, z+5*u, x-collar, z+8*u, x-h, z+8*u, x-h, top,
		x+h, top, x+h, z+8*u, x+collar, z+8*u, x+collar, z+5*u, x+tip, z+3*u, x+tip, z))
}

// coil draws the windings: with a voltage on, the current's direction in each
// wire.
func (d *drawing) coil() {
	g, u := d.g, d.g.u
	in, out := 11.0*u, coilReach*u
	live := d.st.Coil.Voltage != 0
	const rows, columns = 5, 2
	for _, s := range []float64{-1, 1} {
		a, b := g.pilotAt+s*in, g.pilotAt+s*out
		left, right := math.Min(a, b), math.Max(a, b)
		box := g.box(left, right, coilLow*u, coilTop*u)
		d.fill("coil", Still, Paint{Ink: White}, box)
		d.stroke("coil", Still, Pen{Ink: Dark, Width: d.px(2)}, box)
		dx, dz := (right-left)/columns, (coilTop-coilLow)*u/rows
		r := 0.4 * math.Min(dx, dz) * g.k
		for i := range columns {
			for j := range rows {
				c := g.p(left+(float64(i)+0.5)*dx, coilLow*u+(float64(j)+0.5)*dz)
				ring := d.circle(c, r)
				if !live {
					d.stroke("winding", Still, Pen{Ink: Dark, Width: d.px(1.5)}, ring)
					continue
				}
				d.fill("winding", Still, Paint{Ink: Dark}, ring)
				k := 0.5 * r
				if s > 0 {
					d.fill("winding", Still, Paint{Ink: White}, d.circle(c, 0.36*r))
				} else {
					pen := Pen{Ink: White, Width: d.px(1.6)}
					d.stroke("winding", Still, pen, d.open(Point{c.X - k, c.Y - k}, Point{c.X + k, c.Y + k}))
					d.stroke("winding", Still, pen, d.open(Point{c.X - k, c.Y + k}, Point{c.X + k, c.Y - k}))
				}
			}
		}
	}
}

// gate draws the block valve's gate, its stem and its wheel.
func (d *drawing) gate() {
	g, u := d.g, d.g.u
	if !g.hasGate {
		return
	}
	x, h := gateX*u, gateHalf*u
	wheel := d.bonnetTop() + 9*u
	d.stroke("block valve", Still, Pen{Ink: Dark, Width: d.px(3)}, d.open(g.p(x, d.bonnetTop()), g.p(x, wheel)))
	d.fill("block valve", Still, Paint{Ink: White}, g.box(x-13*u, x+13*u, wheel-1.5*u, wheel+1.5*u))
	d.stroke("block valve", Still, Pen{Ink: Dark, Width: d.px(2)}, g.box(x-13*u, x+13*u, wheel-1.5*u, wheel+1.5*u))
	d.white("gate", WithGate, g.box(x-h, x+h, pipeLow*u, pipeTop*u+2*u))
}

// breaks shows that the pipes go on: a wavy cut through their ends.
func (d *drawing) breaks() {
	g, u := d.g, d.g.u
	cut := func(x, low, high, out float64) {
		amp := 2.2 * u
		zm := (low + high) / 2
		wave := Path{{Op: MoveTo, P: [3]Point{g.p(x, high)}},
			{Op: CurveTo, P: [3]Point{g.p(x+amp*2, high-(high-low)/4), g.p(x-amp*2, zm+(high-low)/4-(high-low)/4), g.p(x, zm)}},
			{Op: CurveTo, P: [3]Point{g.p(x+amp*2, zm-(high-low)/8), g.p(x-amp*2, low+(high-low)/4), g.p(x, low)}}}
		area := append(append(Path{}, wave...), Seg{Op: LineTo, P: [3]Point{g.p(x+out, low)}}, Seg{Op: LineTo, P: [3]Point{g.p(x+out, high)}}, Seg{Op: Close})
		d.fill("break", Still, Paint{Ink: Panel}, area)
		d.stroke("break", Still, Pen{Ink: Dark, Width: d.px(2)}, wave)
	}
	over := wall*u + 3*d.pl.scale/g.k
	cut(g.left+3*u, pipeLow*u-over, pipeTop*u+over, -3*u-5/g.k)
	cut(g.right-3*u, tailLow*u-over, tailTop*u+over, 3*u+5/g.k)
}
