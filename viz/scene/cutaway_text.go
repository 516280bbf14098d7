package scene

import (
	"math"
	"strconv"

	"underdisc/model/plant"
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

func (d *drawing) value() float64 { return d.pl.text(24) }
func (d *drawing) label() float64 { return d.pl.text(sizeLabel) }
func (d *drawing) small() float64 { return d.pl.text(sizeSmall) }

// moved is a box as it stands once its carrier has moved.
func (d *drawing) moved(r Rect, c Carrier) Rect {
	s := d.g.shift(c)
	return Rect{r.Left + s.X, r.Top + s.Y, r.Right + s.X, r.Bottom + s.Y}
}

// free tells whether a box lies in the cutaway and meets no text.
func (d *drawing) free(r Rect) bool {
	const edge = 2
	if r.Left < d.g.at.Left+edge || r.Right > d.g.at.Right-edge || r.Top < d.g.at.Top+edge || r.Bottom > d.g.at.Bottom-edge {
		return false
	}
	for _, t := range d.taken {
		if r.Meets(t) {
			return false
		}
	}
	return true
}

// say writes the first of the wordings that is no wider than the width and
// finds its room free; it tells whether one was. With a width of zero any does.
func (d *drawing) say(w words, at Point, from Anchor, width float64, wordings ...string) bool {
	for _, s := range wordings {
		t := &Text{At: at, Anchor: from, Size: w.size, Bold: w.bold, Ink: w.ink, Words: s, OnPressure: w.on}
		box := d.moved(d.v.TextBox(t), w.moves)
		if width > 0 && box.Width() > width || !d.free(box) {
			continue
		}
		d.taken = append(d.taken, box)
		d.out = append(d.out, Shape{Part: w.part, Moves: w.moves, Text: t})
		return true
	}
	return false
}

// badge draws a link's number and keeps its room.
func (d *drawing) badge(part string, moves Carrier, at Point, link int) {
	r := d.badgeRadius()
	box := d.moved(Rect{at.X - 1.3*r, at.Y - 1.3*r, at.X + 1.3*r, at.Y + 1.3*r}, moves)
	d.taken = append(d.taken, box)
	for _, s := range Badge(part, at, r, link, d.v.LinkStanding(link), d.label()) {
		s.Moves = moves
		d.out = append(d.out, s)
	}
}

func (d *drawing) badgeRadius() float64 { return math.Max(13*d.pl.scale, 0.78*d.label()) }

// region writes a region's pressure, centred, and above it its name, where
// there is room for it.
func (d *drawing) region(part string, at Point, width, height, p float64, names ...string) {
	u := d.v.Units
	number, unit := u.PressureOf(p), u.PressureName()
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
	if all <= width {
		d.say(w, Point{at.X - all/2, base}, FromLeft, 0, number)
		w.size, w.bold = d.small(), false
		d.say(w, Point{at.X + all/2, base}, FromRight, 0, unit)
	} else {
		d.say(w, Point{at.X, base}, Centred, 0, number)
	}
	if two <= height {
		w.size, w.bold = d.label(), false
		d.say(w, Point{at.X, base - capShare*size - 0.42*size}, Centred, width, names...)
	}
}

// chamberAt is the place of the chamber's number, and chamberWords the room
// that its texts take.
func (d *drawing) chamberAt() Point { return d.g.p(0, (d.g.ledge+d.g.floor)/2) }
func (d *drawing) chamberWords() Rect {
	at, h := d.chamberAt(), capShare*(d.label()+d.value())+0.42*d.value()+6
	w := (math.Min(d.g.bore, d.g.low)-3.5*d.g.u)*d.g.k - wireOf*d.g.u*d.g.k
	return Rect{at.X - w, at.Y - h/2 - 0.4*d.label(), at.X + w, at.Y + h/2 + 4}
}

// texts writes what must be there first, then what may be.
func (d *drawing) texts() {
	g, u, st := d.g, d.g.u, d.st
	k := g.k
	d.discWords()
	d.chamberText()
	d.region("tailpipe", g.p((g.seat+8*u+g.right-6*u)/2+2*u, (tailLow+tailTop)/2*u), (g.right-g.seat-20*u)*k, (tailTop-tailLow-4)*u*k, st.Outlet, "Tailpipe")
	from := g.left + 5*u
	if g.hasGate {
		x := (gateX - gateHalf) * u
		d.region("from vessel", g.p((from+x)/2+1*u, -9*u), (x-from-2*u)*k, (pipeTop-pipeLow-14)*u*k, st.Vessel, "From vessel", "Vessel")
		from = (gateX + gateHalf) * u
	}
	d.region("inlet and body", g.p((from-g.guide-2*u)/2, -9*u), (-g.guide-from-8*u)*k, (pipeTop-pipeLow-14)*u*k, st.Above, "Inlet")
	d.faceText()
	d.pilotText()
	d.coilText()
	d.bleedText()
	if g.hasDump {
		d.dumpText()
	}
	d.seatFlow()
	if g.hasGate {
		d.gateText()
	}
	d.scaleBar()
	if !d.v.Projector {
		d.say(words{part: "seat", size: d.small(), ink: Dark, on: &st.Above}, g.p(g.seat+seatRing*u+2*u, 6*u), FromLeft, 20*u*k, "seat")
	}
}

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
	lift := Millimetres(st.Disc.Lift)
	w := words{part: "disc", moves: WithDisc, size: d.label(), bold: true, ink: Dark}
	switch {
	case st.Disc.Hold == plant.HeldShut:
		d.say(w, base, FromLeft, width, "on its seat", "shut", lift)
	case st.Disc.Hold == plant.HeldOpen:
		d.say(w, base, FromLeft, width, lift+", at its stop", lift+", stop", lift)
	case st.Disc.Hold == plant.Sticking:
		d.say(w, base, FromLeft, width, lift+", sticks", lift)
	default:
		d.say(w, base, FromLeft, width-14*d.pl.scale, lift+" down", lift)
		d.moving("disc", WithDisc, Point{g.p(g.guide-5.5*g.u, 0).X, g.p(0, mid).Y}, -st.Disc.Speed)
	}
}

// moving draws an arrow in the ink of now, up for a positive speed.
func (d *drawing) moving(part string, moves Carrier, at Point, speed float64) {
	h := 11 * math.Max(d.pl.scale, 0.75)
	s := 1.0
	if speed < 0 {
		s = -1
	}
	d.fill(part, moves, Paint{Ink: Now}, Polygon(Point{at.X, at.Y - s*h}, Point{at.X + 0.75*h, at.Y}, Point{at.X + 0.28*h, at.Y},
		Point{at.X + 0.28*h, at.Y + s*h}, Point{at.X - 0.28*h, at.Y + s*h}, Point{at.X - 0.28*h, at.Y}, Point{at.X - 0.75*h, at.Y}))
}

func (d *drawing) chamberText() {
	at, r := d.chamberAt(), d.badgeRadius()
	box := d.chamberWords()
	p := d.st.Below
	high := capShare*(d.label()+d.value()) + 0.42*d.value() + 1
	name := d.v.Measure(d.label(), false, "Chamber")
	if name+3.2*r < box.Width() {
		// The name stands beside its badge, so the pair is centred.
		base := at.Y + high/2 - capShare*d.value() - 0.42*d.value()
		left := at.X - (name+2.6*r)/2
		d.badge("chamber", Still, Point{left + 1.2*r, base - capShare*d.label()/2}, 5)
		d.say(words{part: "chamber", size: d.label(), on: &p}, Point{left + 2.9*r, base}, FromLeft, 0, "Chamber")
		number := Point{at.X, at.Y + high/2 - capShare*d.value()/2 + 2}
		d.region("chamber", number, box.Width(), 0, p)
		return
	}
	d.badge("chamber", Still, Point{at.X, at.Y - 1.4*r}, 5)
	d.region("chamber", Point{at.X, at.Y + 0.8*d.value()}, box.Width(), 0, p)
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
	if !d.say(w, at, Centred, width, d.v.Units.PressureOf(p)) {
		d.out = d.out[:plate]
		return
	}
	w.bold, w.size = false, d.small()
	d.say(w, Point{at.X, at.Y - 1.2*d.label()}, Centred, width, "on the face", "face")
	box := Rect{at.X, at.Y, at.X, at.Y}
	for _, s := range d.out[plate+1:] {
		b := d.v.TextBox(s.Text)
		box = Rect{min(box.Left, b.Left-4), min(box.Top, b.Top-2), max(box.Right, b.Right+4), max(box.Bottom, b.Bottom+2)}
	}
	d.out[plate] = Shape{Part: "face", Path: Box(box, 3), Fill: &Paint{Kind: Pressure, A: p}}
}

// held says in the throat how hard the seat is pressed on.
func (d *drawing) held() {
	g, u, p := d.g, d.g.u, d.st.Outlet
	at := g.p(0, 5*u)
	w := words{part: "seat force", size: d.label(), bold: true, on: &p}
	width := 1.9 * g.seat * g.k
	if d.say(w, at, Centred, width, Force(math.Abs(d.st.Disc.Contact))) {
		w.bold, w.size = false, d.small()
		d.say(w, Point{at.X, at.Y - 1.2*d.label()}, Centred, width, "pressed up with", "pressed up")
	}
}

// pilotText says below the pilot how it stands and what it passes.
func (d *drawing) pilotText() {
	g, u, st := d.g, d.g.u, d.st
	r := d.badgeRadius()
	top := g.p(0, laneLow*u-5*u).Y + 3*d.pl.scale
	left := g.p(g.low+wall*u+4*u, 0).X
	end := g.at.Right - 6*d.pl.scale
	at := Point{left + 1.3*r, top + 1.4*r}
	d.badge("plunger", Still, at, 4)
	base := Point{at.X + 1.7*r, at.Y + capShare*d.label()/2}
	lift := Millimetres(st.Pilot.Lift)
	w := words{part: "pilot", size: d.label(), bold: true, ink: Dark}
	of := places(1e3*st.Pilot.Lift, 1) + " of " + Millimetres(st.Pilot.Stroke)
	state := []string{"Pilot open, " + of, "Pilot open, " + lift, "open " + lift}
	switch st.Pilot.Hold {
	case plant.HeldShut:
		state = []string{"Pilot shut", "shut"}
	case plant.Moving:
		state = []string{"Pilot lifted " + of, "Pilot lifted " + lift, lift}
		d.moving("plunger", WithPlunger, g.p(g.pilotAt, g.pilotSeat+20*u), st.Pilot.Speed)
	}
	d.say(w, base, FromLeft, end-base.X, state...)
	if flows(st.PilotFlow, st.PilotArea) || st.Pilot.Hold != plant.HeldShut {
		n := d.flow(st.PilotFlow)
		w.size, w.bold, w.ink = d.small(), false, Dark
		second := Point{base.X, base.Y + 1.35*d.label()}
		says := []string{n + " out of the chamber", n + " out"}
		if st.Pilot.Hold == plant.HeldShut {
			says = []string{n + " leaks through", n + " leak"}
		}
		if g.strokeTimes > 1 {
			says = append([]string{says[0] + ", stroke drawn ×" + short(g.strokeTimes)}, says...)
		}
		d.say(w, second, FromLeft, end-second.X, says...)
	} else if g.strokeTimes > 1 {
		d.say(words{part: "pilot", size: d.small(), ink: Soft}, Point{base.X, base.Y + 1.35*d.label()}, FromLeft, end-base.X, "stroke drawn ×"+short(g.strokeTimes))
	}
}

func (d *drawing) coilText() {
	g, u := d.g, d.g.u
	r := d.badgeRadius()
	z := (coilTop + 4 + bodyTop) / 2 * u
	at := g.p((pilotX-coilReach+2)*u, z)
	at.X += r
	d.badge("coil winding", Still, at, 3)
	w := words{part: "coil winding", size: d.label(), bold: true, ink: Dark}
	base := Point{at.X + 1.7*r, at.Y + capShare*d.label()/2}
	now := Current(d.st.Coil.Current) + " A"
	d.say(w, base, FromLeft, g.p(g.right, 0).X-base.X, "Coil "+now, now)
}

// dumpText stands beside the dump line, since the line is narrow.
func (d *drawing) dumpText() {
	g, u := d.g, d.g.u
	left, right := g.p(g.low+wall*u, 0).X, g.p((riserIn-4)*u, 0).X
	mid := (left + right) / 2
	at := g.p(0, -61*u)
	at.X = mid
	w := words{part: "dump line", size: d.label(), bold: true, ink: Dark}
	d.say(w, at, Centred, right-left-4, d.v.Units.PressureOf(d.st.Dump))
	end := g.p(riserIn*u+2*u, 0).X
	y := at.Y - capShare*d.label()/2
	half := d.v.Measure(d.label(), true, d.v.Units.PressureOf(d.st.Dump)) / 2
	if from := mid + half + 4; from < end {
		d.stroke("leader", Still, Pen{Ink: Dark, Width: d.px(1.5)}, Line(Point{from, y}, Point{end, y}))
	}
	w.size, w.bold = d.small(), false
	d.say(w, Point{mid, at.Y - 1.2*d.label()}, Centred, right-left-4, "Dump line", "Dump")
}

// seatFlow says in the tailpipe how much passes the seat.
func (d *drawing) seatFlow() {
	g, u, st := d.g, d.g.u, d.st
	if !flows(st.Seat, st.SeatArea) {
		return
	}
	p := st.Outlet
	w := words{part: "tailpipe", size: d.label(), bold: true, on: &p}
	n := d.flow(st.Seat)
	says := []string{n + " past the seat", n}
	if st.Disc.Hold == plant.HeldShut {
		says = []string{n + " leaks past the seat", n + " leak", n}
	}
	at := g.p((g.seat+8*u+g.right-6*u)/2+2*u, (tailLow+4)*u)
	d.say(w, at, Centred, (g.right-g.seat-16*u)*g.k, says...)
}

func (d *drawing) gateText() {
	g, u := d.g, d.g.u
	open := "shut"
	if o := lineOf(d.v).BlockValve.Opening; o >= 1 {
		open = "open"
	} else if o > 0 {
		open = strconv.FormatFloat(math.Max(1, math.Round(100*o)), 'f', 0, 64) + " % open"
	}
	at := g.p((gateX+gateHalf+8)*u, 48*u)
	end := g.p(-g.seat-wall*u-2*u, 0).X
	w := words{part: "block valve", size: d.label(), bold: true, ink: Dark}
	d.say(w, Point{at.X, at.Y + 1.3*d.label()}, FromLeft, end-at.X, open)
	w.bold = false
	d.say(w, at, FromLeft, end-at.X, "Block valve")
}

// scaleBar says how large it all is, and what is not to that scale.
func (d *drawing) scaleBar() {
	g := d.g
	length := 100.0
	for _, l := range []float64{50, 20, 10, 5, 2, 1} {
		if length*g.k > 75*d.pl.scale {
			length = l
		}
	}
	at := Point{g.at.Left + 12*d.pl.scale, g.at.Top + 14*d.pl.scale + capShare*d.small()}
	w := words{part: "scale", size: d.small(), ink: Soft}
	bar := length * g.k
	end := g.p(-g.seat-wall*g.u-22*g.u, 0).X
	if g.hasGate {
		end = g.p((gateX-gateHalf-16)*g.u, 0).X
	}
	if at.X+bar > end || !d.say(w, at, FromLeft, end-at.X, short(length)+" mm, pipes not to scale", short(length)+" mm") {
		return
	}
	y, t := at.Y+0.55*d.small(), 4*d.pl.scale
	pen := Pen{Ink: Soft, Width: d.px(2)}
	d.stroke("scale", Still, pen, Line(Point{at.X, y}, Point{at.X + bar, y}))
	d.stroke("scale", Still, pen, Line(Point{at.X, y - t}, Point{at.X, y + t}))
	d.stroke("scale", Still, pen, Line(Point{at.X + bar, y - t}, Point{at.X + bar, y + t}))
	next := y + 0.6*d.small() + capShare*d.small()
	if g.liftTimes > 1 {
		d.say(w, Point{at.X, next}, FromLeft, end-at.X, "lift drawn ×"+short(g.liftTimes), "lift ×"+short(g.liftTimes))
		next += 1.3 * d.small()
	}
	if !g.trueChamber {
		d.say(w, Point{at.X, next}, FromLeft, end-at.X, "chamber not to scale")
	}
}

// flow writes a mass flow, kg/s, in the unit that suits its size, without a
// sign.
func (d *drawing) flow(w float64) string {
	w = math.Abs(w)
	if d.v.Units.PoundsPerHour {
		w *= 3600 / 0.45359237
		if w < 99.95 {
			return places(w, 1) + " lb/h"
		}
		return places(w, 0) + " lb/h"
	}
	if w < 0.1 {
		return places(1e3*w, 2) + " g/s"
	}
	return places(w, 2) + " kg/s"
}

// short writes a round number.
func short(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
