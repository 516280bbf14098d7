package scene

import (
	"math"

	"underdisc/model/plant"
)

// discWords say on the disc how far it has come.
func (d *drawing) discWords() {
	g, st := d.g, d.st
	r := d.badgeRadius()
	mid := -g.crown / 2
	x := -g.guide + 5*g.u + 1.25*r/g.k
	base := g.p(0, mid)
	d.badge("disc", WithDisc, g.p(x, mid), 6)
	base.X = g.p(x, 0).X + 1.6*r
	base.Y += capShare * d.label() / 2
	width := g.p(g.guide-2*g.u, 0).X - base.X
	if capShare*d.label()+d.px(3.5) > g.crown*g.k { // the crown is too thin for letters
		return
	}
	lift := d.mm(st.Disc.Lift)
	w := words{part: "disc", moves: WithDisc, size: d.label(), bold: true, ink: Dark}
	switch {
	case st.Disc.Hold == plant.HeldShut:
		d.write(w, base, FromLeft, width, "on its seat", "shut", lift)
	case st.Disc.Hold == plant.HeldOpen:
		d.write(w, base, FromLeft, width, d.say(lift, ", at its stop"), d.say(lift, ", stop"), lift)
	case st.Disc.Hold == plant.Sticking:
		d.write(w, base, FromLeft, width, d.say(lift, ", sticks"), lift)
	default:
		d.write(w, base, FromLeft, width-14*d.pl.scale, d.say(lift, " down"), lift)
		way := st.Disc.Speed
		if way == 0 { // it sets off
			way = st.Disc.Acceleration
		}
		d.moving("disc", WithDisc, Point{g.p(g.guide-5.5*g.u, 0).X, g.p(0, mid).Y}, -way)
	}
}

// moving draws an arrow in the ink of now, up for a positive speed.
func (d *canvas) moving(part string, moves Carrier, at Point, speed float64) {
	h := 11 * math.Max(d.pl.scale, 0.75)
	s := 1.0
	if speed < 0 {
		s = -1
	}
	d.fill(part, moves, Paint{Ink: Now}, d.polygon(Point{at.X, at.Y - s*h}, Point{at.X + 0.75*h, at.Y}, Point{at.X + 0.28*h, at.Y},
		Point{at.X + 0.28*h, at.Y + s*h}, Point{at.X - 0.28*h, at.Y + s*h}, Point{at.X - 0.28*h, at.Y}, Point{at.X - 0.75*h, at.Y}))
}

func (d *drawing) chamberText() {
	at, r := d.chamberAt(), d.badgeRadius()
	box := d.chamberWords()
	p := d.st.Below
	high := capShare*(d.label()+d.value()) + 0.42*d.value() + 1
	if d.chamberNamed() {
		// The name stands beside its badge, so the pair is centred.
		base := at.Y + high/2 - capShare*d.value() - 0.42*d.value()
		left := at.X - (d.v.Measure(d.label(), false, "Chamber")+2.6*r)/2
		base -= math.Max(0, base-capShare*d.label()/2+1.3*r+2-(at.Y+high/2-capShare*d.value()+2)) // the badge clear of the number
		d.badge("chamber", Still, Point{left + 1.2*r, base - capShare*d.label()/2}, 5)
		d.write(words{part: "chamber", size: d.label(), on: &p}, Point{left + 2.9*r, base}, FromLeft, 0, "Chamber")
		number := Point{at.X, at.Y + high/2 - capShare*d.value()/2 + 2}
		base = d.region("chamber", number, box.Width(), 0, p)
		d.chamberFluid(Point{at.X, base + 1.35*d.small()}, box.Width())
		return
	}
	d.badge("chamber", Still, Point{at.X, at.Y - 1.4*r}, 5)
	base := d.region("chamber", Point{at.X, at.Y + 0.8*d.value()}, box.Width(), 0, p)
	d.chamberFluid(Point{at.X, base + 1.35*d.small()}, box.Width())
}

// faceText says in the throat what presses on the disc inside the seat, once it
// differs from the outlet.
func (d *drawing) faceText() {
	g, u, st := d.g, d.g.u, d.st
	if st.Disc.Hold == plant.HeldShut {
		d.held()
		return
	}
	p := d.face()
	w := words{part: "face", size: d.label(), bold: true, on: &p}
	at := g.p(0, 4*u)
	width := 1.3 * g.seat * g.k
	// Behind the words the gradient stands still, so that they can be read.
	plate := len(d.out)
	d.out = append(d.out, Shape{})
	if !d.write(w, at, Centred, width, d.pressure(d.v.Units, p)) {
		d.out = d.out[:plate]
		return
	}
	w.bold, w.size = false, d.small()
	d.write(w, Point{at.X, at.Y - 1.2*d.label()}, Centred, width, "on the face", "face")
	box := Rect{at.X, at.Y, at.X, at.Y}
	for _, s := range d.out[plate+1:] {
		b := d.v.TextBox(s.Text)
		box = Rect{min(box.Left, b.Left-4), min(box.Top, b.Top-2), max(box.Right, b.Right+4), max(box.Bottom, b.Bottom+2)}
	}
	d.out[plate] = Shape{Part: "face", Path: d.box(box, 3), Fill: d.paints.put(flat(p))}
}

// held says in the throat how hard the seat is pressed on.
func (d *drawing) held() {
	g, u, p := d.g, d.g.u, d.st.Outlet
	at := g.p(0, 5*u)
	w := words{part: "seat force", size: d.label(), bold: true, on: &p}
	width := 1.9 * g.seat * g.k
	if d.write(w, at, Centred, width, d.force(math.Abs(d.st.Disc.Contact))) {
		w.bold, w.size = false, d.small()
		d.write(w, Point{at.X, at.Y - 1.2*d.label()}, Centred, width, "pressed up with", "pressed up")
	}
}
