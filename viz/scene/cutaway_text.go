package scene

import (
	"math"
)

// words are one text of the cutaway.
type words struct {
	part  string
	moves Carrier
	size  float64
	bold  bool
	ink   Ink
	on    *float64 // the pressure of the fluid that it stands on
}

func (d *canvas) value() float64 { return d.pl.text(24) }
func (d *canvas) label() float64 { return d.pl.text(sizeLabel) }
func (d *canvas) small() float64 { return d.pl.text(sizeSmall) }

// moved is a box as it stands once its carrier has moved.
func (d *canvas) moved(r Rect, c Carrier) Rect {
	s := d.shifts[c]
	return Rect{r.Left + s.X, r.Top + s.Y, r.Right + s.X, r.Bottom + s.Y}
}

// free tells whether a box lies in the cutaway and meets no text.
func (d *canvas) free(r Rect) bool {
	const edge = 2
	if r.Left < d.at.Left+edge || r.Right > d.at.Right-edge || r.Top < d.at.Top+edge || r.Bottom > d.at.Bottom-edge {
		return false
	}
	for _, t := range d.taken {
		if r.Meets(t) {
			return false
		}
	}
	return true
}

// write writes the first of the wordings that is no wider than the width and
// finds its room free; it tells whether one was. With a width of zero any does.
func (d *canvas) write(w words, at Point, from Anchor, width float64, wordings ...string) bool {
	for _, s := range wordings {
		t := Text{At: at, Anchor: from, Size: w.size, Bold: w.bold, Ink: w.ink, Words: s}
		box := d.moved(d.v.TextBox(&t), w.moves)
		if width > 0 && box.Width() > width || !d.free(box) {
			continue
		}
		d.taken = append(d.taken, box)
		if w.on != nil {
			t.OnPressure = d.numbers.put(*w.on)
		}
		d.out = append(d.out, Shape{Part: w.part, Moves: d.as(w.moves), Text: d.stock.texts.put(t)})
		return true
	}
	return false
}

// badge draws a link's number and keeps its room.
func (d *canvas) badge(part string, moves Carrier, at Point, link int) {
	r := d.badgeRadius()
	box := d.moved(Rect{at.X - 1.3*r, at.Y - 1.3*r, at.X + 1.3*r, at.Y + 1.3*r}, moves)
	d.taken = append(d.taken, box)
	d.out = d.stock.badge(d.out, Shape{Part: part, Moves: d.as(moves)}, at, r, link, d.v.LinkStanding(link), d.label())
}

func (d *canvas) badgeRadius() float64 { return math.Max(13*d.pl.scale, 0.78*d.label()) }

// region writes a region's pressure, centred, and above it its name, where
// there is room for it. It returns the base line of the number.
func (d *canvas) region(part string, at Point, width, height, p float64, names ...string) float64 {
	u := d.v.Units
	number, unit := d.pressure(u, p), u.PressureName()
	size := d.value()
	for size > d.small() && d.v.Measure(size, true, number) > width {
		size = math.Max(size-1, d.small())
	}
	wide := d.v.Measure(size, true, number)
	gap := 0.25 * size
	all := wide + gap + d.v.Measure(d.small(), false, unit)
	two := capShare*(d.label()+size) + 0.42*size
	base := at.Y + capShare*size/2
	if len(names) > 0 && two <= height {
		base = at.Y + two/2
	}
	w := words{part: part, size: size, bold: true, on: &p}
	if all <= width && d.write(w, Point{at.X - all/2, base}, FromLeft, 0, number) {
		w.size, w.bold = d.small(), false
		d.write(w, Point{at.X + all/2, base}, FromRight, 0, unit)
	} else if !d.write(w, Point{at.X, base}, Centred, 0, number) {
		return base // no name without a number
	}
	if two <= height {
		w.size, w.bold = d.label(), false
		d.write(w, Point{at.X, base - capShare*size - 0.42*size}, Centred, width, names...)
	}
	return base
}

// chamberAt is the place of the chamber's number, and chamberWords the room
// that its texts take.
func (d *drawing) chamberAt() Point {
	at := d.g.p(0, (d.g.ledge+d.g.floor)/2)
	at.Y -= 0.5 * d.steamLines() * 1.3 * d.small()
	return at
}
func (d *drawing) chamberWords() Rect {
	at, r, half := d.chamberAt(), d.badgeRadius(), d.chamberHalf()
	more := 1.3 * d.steamLines() * d.small()
	if !d.chamberNamed() { // the badge above, the number below
		return Rect{at.X - half, at.Y - 2.7*r, at.X + half, at.Y + 0.8*d.value() + (capShare/2+dropShare)*d.value() + 4 + more}
	}
	h := capShare*(d.label()+d.value()) + 0.42*d.value() + 6
	top := math.Min(at.Y-h/2-0.4*d.label(), at.Y+h/2-capShare*d.value()-2.6*r-3)
	return Rect{at.X - half, top, at.X + half, at.Y + h/2 + dropShare*d.value() + more}
}

// chamberHalf is half the width between the spring's sides.
func (d *drawing) chamberHalf() float64 {
	return (math.Min(d.g.bore, d.g.low) - (3.5+wireOf)*d.g.u) * d.g.k
}

// chamberNamed tells whether there is room for the chamber's name.
func (d *drawing) chamberNamed() bool {
	return d.v.Measure(d.label(), false, "Chamber")+3.2*d.badgeRadius() < 2*d.chamberHalf()
}

// texts writes what must be there first, then what may be.
func (d *drawing) texts() {
	g, u, st := d.g, d.g.u, d.st
	k := g.k
	drain := len(d.taken)
	d.taken = append(d.taken, d.drainRoom())
	defer func() { d.taken[drain] = Rect{} }() // its marks stand there
	d.discWords()
	d.chamberText()
	lift := 0.0 // of names and numbers, for a line below them
	if d.v.wet() && !d.brief {
		lift = 0.65 * d.small()
	}
	mid, width := g.p((g.seat+8*u+g.right-6*u)/2+2*u, (tailLow+tailTop)/2*u), (g.right-g.seat-20*u)*k
	if lift > 0 { // up to the pipe's top, for there is a line of flow as well
		mid.Y = g.p(0, (tailTop-4)*u).Y + (capShare*(d.label()+d.value())+0.42*d.value())/2
	}
	below := d.region("tailpipe", mid, width, (tailTop-tailLow-4)*u*k, st.Outlet, d.tailNames()...) + 1.4*d.small()
	flow := g.p(0, d.flowLine()).Y - (capShare+0.2)*d.label()
	d.fluidText("tailpipe", Point{mid.X, below}, width, flow, st.Outlet, &st.OutletFluid)
	from := g.left + 5*u
	if g.hasGate {
		x := (gateX - gateHalf) * u
		// The vessel's own pressure stands in the chain: here only where the name
		// has room, too.
		width := (x - from - 4*u) * k
		if !d.brief && d.v.Measure(d.label(), false, "Upstream") <= width {
			d.region("from vessel", g.p((from+x)/2+1*u, -9*u), width, (pipeTop-pipeLow-14)*u*k, st.Vessel, "Before block valve", "Upstream")
		}
		from = (gateX + gateHalf) * u
	}
	mid, width = g.p((from-g.guide-2*u)/2, -9*u), (-g.guide-from-8*u)*k
	mid.Y -= lift
	pool, _ := d.poolHigh(&st.AboveFluid, (pipeTop-pipeLow)*u, (pipeTop-pipeLow)*u)
	below = d.region("inlet and body", mid, width, (pipeTop-pipeLow-14)*u*k, st.Above, "Body") + 1.4*d.small()
	mid, width = g.p((from-guideOut*u)/2, 0), (-guideOut*u-from-4*u)*k // beside the guide
	d.fluidText("inlet and body", Point{mid.X, below}, width, g.p(0, pipeLow*u+math.Max(pool+1*u, 2*u)).Y, st.Above, &st.AboveFluid)
	d.faceText()
	d.pilotText()
	d.coilText()
	d.bleedText()
	d.coverText()
	if g.hasDump {
		d.dumpText()
	}
	d.seatFlow()
	if g.hasGate {
		d.gateText()
	}
	if !d.brief {
		d.scaleBar()
	}
	d.wallText()
	if !d.v.Projector && !d.brief {
		d.write(words{part: "seat", size: d.small(), ink: Dark, on: &st.Above}, g.p(g.seat+seatRing*u+2*u, 6*u), FromLeft, 20*u*k, "seat")
	}
}
