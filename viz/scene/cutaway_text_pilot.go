package scene

import (
	"math"
	"strconv"

	"underdisc/model/plant"
)

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
	lift := d.mm(st.Pilot.Lift)
	w := words{part: "pilot", size: d.label(), bold: true, ink: Dark}
	of := d.say(d.number(1e3*st.Pilot.Lift, 1), " of ", d.mm(st.Pilot.Stroke))
	state := []string{d.say("Pilot open, ", of), d.say("Pilot open, ", lift), d.say("open ", lift)}
	switch st.Pilot.Hold {
	case plant.HeldShut:
		state = []string{"Pilot shut", "shut"}
	case plant.Moving:
		state = []string{d.say("Pilot lifted ", of), d.say("Pilot lifted ", lift), lift}
		d.moving("plunger", WithPlunger, g.p(g.pilotAt, g.pilotSeat+20*u), st.Pilot.Speed)
	}
	d.write(w, base, FromLeft, end-base.X, state...)
	if flows(st.PilotFlow, st.PilotArea) || st.Pilot.Hold != plant.HeldShut {
		n := d.rate(st.PilotFlow)
		w.size, w.bold, w.ink = d.small(), false, Dark
		second := Point{base.X, base.Y + 1.35*d.label()}
		round := d.roundRate(st.PilotFlow, 2)
		says := []string{d.say(n, " out of the chamber"), d.say(n, " out"), d.say(round, " out")}
		if st.Pilot.Hold == plant.HeldShut {
			says = []string{d.say(n, " leaks through"), d.say(n, " leak"), d.say(round, " leak")}
		}
		if g.strokeTimes > 1 && !d.brief {
			says = append([]string{d.say(says[0], ", stroke drawn ×", short(g.strokeTimes))}, says...)
		}
		d.write(w, second, FromLeft, end-second.X, says...)
	} else if g.strokeTimes > 1 && !d.brief {
		d.write(words{part: "pilot", size: d.small(), ink: Soft}, Point{base.X, base.Y + 1.35*d.label()}, FromLeft, end-base.X, "stroke drawn ×"+short(g.strokeTimes))
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
	now := d.say(d.current(d.st.Coil.Current), " A")
	d.write(w, base, FromLeft, g.p(g.right, 0).X-base.X, d.say("Coil ", now), now)
}

// dumpText stands beside the dump line, since the line is narrow.
func (d *drawing) dumpText() {
	g, u := d.g, d.g.u
	left, right := g.p(max(g.low, g.guide)+wall*u, 0).X+3, g.p((riserIn-6)*u, 0).X-3
	top, low := g.p(0, min(g.ledge-5*u, -54.5*u)).Y, g.p(0, (laneTop+5)*u).Y
	mid := (left + right) / 2
	gap := 0.4 * d.label()
	high := capShare*(d.label()+d.small()) + gap
	base := (top+low)/2 + high/2
	number := d.pressure(d.v.Units, d.st.Dump)
	w := words{part: "dump line", size: d.label(), bold: true, ink: Dark}
	if high > low-top-4 {
		base = (top+low)/2 + capShare*d.label()/2
	}
	if !d.write(w, Point{mid, base}, Centred, right-left, number) {
		return
	}
	half := d.v.Measure(d.label(), true, number) / 2
	y, from, end := base-capShare*d.label()/2, mid+half+3, g.p(riserIn*u+2*u, 0).X
	d.stroke("leader", Still, Pen{Ink: Dark, Width: d.px(1.5)}, d.open(Point{from, y}, Point{end, y}))
	if high <= low-top-4 {
		w.size, w.bold = d.small(), false
		d.write(w, Point{mid, base - capShare*d.label() - gap}, Centred, right-left, "Dump line", "Dump")
	}
}

// seatFlow says in the tailpipe how much passes the seat.
func (d *drawing) seatFlow() {
	g, u, st := d.g, d.g.u, d.st
	if !flows(st.Seat, st.SeatArea) {
		return
	}
	p := st.Outlet
	w := words{part: "tailpipe", size: d.label(), bold: true, on: &p}
	n := d.rate(st.Seat)
	round := d.roundRate(st.Seat, 2)
	says := []string{d.say(n, " past the seat"), d.say(round, " past the seat"), d.say("seat ", round)}
	if st.Disc.Hold == plant.HeldShut {
		says = []string{d.say(n, " leaks past the seat"), d.say(n, " leak"), d.say(round, " leak")}
	}
	at := g.p((g.seat+8*u+g.right-6*u)/2+2*u, d.flowLine())
	d.write(w, at, Centred, (g.right-g.seat-16*u)*g.k, says...)
}

// flowLine is the z of the base of the tailpipe's flow: above the water, where
// there may be some.
func (d *drawing) flowLine() float64 {
	if d.v.wet() {
		return (tailLow + 5.5) * d.g.u
	}
	return (tailLow + 4) * d.g.u
}

func (d *drawing) gateText() {
	g, u := d.g, d.g.u
	b := &d.st.Block
	open := openWord(b.Opening)
	at := g.p((gateX+gateHalf+8)*u, 48*u)
	end := g.p(-g.seat-wall*u-2*u, 0).X
	w := words{part: "block valve", size: d.label(), bold: true, ink: Dark}
	says := []string{open}
	if b.Opening != b.Asked {
		way := map[bool]string{true: "opening", false: "shutting"}[b.Asked > b.Opening]
		says = []string{d.say(way, ", ", open), d.say(way, ", ", d.percent(b.Opening)), open}
	}
	d.write(w, Point{at.X, at.Y + 1.3*d.label()}, FromLeft, end-at.X, says...)
	w.bold = false
	d.write(w, at, FromLeft, end-at.X, "Block valve")
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
	if at.X+bar > end || !d.write(w, at, FromLeft, end-at.X, short(length)+" mm, pipes not to scale", short(length)+" mm") {
		d.poolNote(w, at, 0)
		return
	}
	y, t := at.Y+0.55*d.small(), 4*d.pl.scale
	pen := Pen{Ink: Soft, Width: d.px(2)}
	d.stroke("scale", Still, pen, d.open(Point{at.X, y}, Point{at.X + bar, y}))
	d.stroke("scale", Still, pen, d.open(Point{at.X, y - t}, Point{at.X, y + t}))
	d.stroke("scale", Still, pen, d.open(Point{at.X + bar, y - t}, Point{at.X + bar, y + t}))
	d.taken = append(d.taken, Rect{at.X - 2, y - t - 1, at.X + bar + 2, y + t + 1})
	next := y + 0.6*d.small() + capShare*d.small()
	if g.liftTimes > 1 {
		d.write(w, Point{at.X, next}, FromLeft, end-at.X, "lift drawn ×"+short(g.liftTimes), "lift ×"+short(g.liftTimes))
		next += 1.3 * d.small()
	}
	if !g.trueChamber {
		d.write(w, Point{at.X, next}, FromLeft, end-at.X, "chamber not to scale")
		next += 1.3 * d.small()
	}
	d.poolNote(w, Point{at.X, next}, end-at.X)
}

// flow writes a mass flow, kg/s, without a sign. A small one in a large unit is
// told in grams: bleeds and leaks have three figures, too.
func (d *drawing) rate(w float64) string { return d.flow(d.v.Units, math.Abs(w)) }

// roundRate is rate to fewer figures.
func (d *drawing) roundRate(w float64, n int) string {
	x, _, unit := d.v.Units.flowIn(math.Abs(w))
	x, places := figures(x, n)
	return d.say(d.number(x, places), unit)
}

// short writes a round number.
func short(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
