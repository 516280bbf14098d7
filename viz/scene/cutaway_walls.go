package scene

import (
	"math"

	"underdisc/model/plant"
)

// metals are the walls of a steam plant with a temperature of their own: those
// first whose warmth a mechanic goes by.
func (d *drawing) metals() []metal {
	if !d.v.wet() {
		return nil
	}
	g, u, st := d.g, d.g.u, d.st
	w := wall * u / 2
	all := [...]metal{
		{"Tailpipe wall", "Tail wall", &st.OutletWall, g.p(108*u, tailLow*u-w), true, true},
		{"Tailpipe lowest point", "Low point", &st.LowPoint, g.p(127*u, tailLow*u-w), true, true},
		{"Dump line wall", "Dump wall", &st.DumpWall, g.p((riserOut+2)*u, -22*u), false, true},
		{"Body wall", "Body wall", &st.BodyWall, g.p(g.left+13*u, pipeLow*u-w), true, false},
		{"Chamber wall", "Chamber wall", &st.ChamberWall, g.p(-g.low-w, g.floor+15*u), false, false},
	}
	out := make([]metal, 0, len(all))
	for _, m := range all {
		if m.wall.Fitted {
			out = append(out, m)
		}
	}
	return out
}

type metal struct {
	name  string
	brief string
	wall  *plant.WallState
	at    Point // the middle of its thermometer in the metal
	level bool  // it lies
	felt  bool  // a mechanic goes by it
}

// hottest is the upper end of the thermometers, K: a round temperature above
// everything in the valve.
func (d *drawing) hottest() float64 {
	t := 373.15
	for _, c := range []*plant.Contents{&d.st.AboveFluid, &d.st.BelowFluid} {
		t = math.Max(t, c.Temperature)
	}
	return 273.15 + 100*math.Ceil((t-273.15)/100)
}

// thermometers draws one in each wall.
func (d *drawing) thermometers() {
	for _, m := range d.metals() {
		long, thick := 15*d.g.u*d.g.k, 8*d.pl.scale
		r := Rect{m.at.X - thick/2, m.at.Y - long/2, m.at.X + thick/2, m.at.Y + long/2}
		if m.level {
			r = Rect{m.at.X - long/2, m.at.Y - thick/2, m.at.X + long/2, m.at.Y + thick/2}
		}
		d.thermometer(r, m.wall.T, m.level)
	}
}

// thermometer draws a tube with a bulb at its low end, filled from freezing up
// to a temperature, K.
func (d *drawing) thermometer(r Rect, t float64, level bool) {
	const part = "thermometer"
	share := math.Max(0, math.Min((t-273.15)/(d.hottest()-273.15), 1))
	thick := math.Min(r.Width(), r.Height())
	fill, bulb := r, Point{(r.Left + r.Right) / 2, r.Bottom}
	if level {
		bulb = Point{r.Left, (r.Top + r.Bottom) / 2}
		fill.Right = r.Left + share*r.Width()
		fill.Top, fill.Bottom = r.Top+0.22*thick, r.Bottom-0.22*thick
	} else {
		fill.Top = r.Bottom - share*r.Height()
		fill.Left, fill.Right = r.Left+0.22*thick, r.Right-0.22*thick
	}
	tube := d.box(r, thick/2)
	d.stroke(part, Still, Pen{Ink: Dark, Width: d.px(2.4)}, tube)
	d.fill(part, Still, Paint{Ink: White}, tube)
	d.fill(part, Still, Paint{Ink: Dark}, d.box(fill, 0))
	d.fill(part, Still, Paint{Ink: Dark}, d.circle(bulb, 0.85*thick))
}

// wallText lists the temperatures of the metal above the inlet, as many as have
// room, in the longest of their wordings that has.
func (d *drawing) wallText() {
	g, u := d.g, d.g.u
	left, y := g.at.Left+12*d.pl.scale, g.at.Top+12*d.pl.scale
	if g.hasGate {
		at := g.p((gateX+gateHalf+8)*u, 48*u) // below what is said of the gate
		left, y = at.X, at.Y+1.7*d.label()
	}
	for _, m := range d.metals() {
		w := words{part: "walls", size: d.label(), bold: m.felt, ink: Dark}
		if !w.bold {
			w.size = d.small()
		}
		next, ok := d.wallRow(w, m, left, y)
		if !ok && w.bold { // the others tell less
			return
		}
		y = next
	}
}

// wallRow writes one row of the list from y on, and returns where the next one
// begins; not ok if there is no room.
func (d *drawing) wallRow(w words, m metal, left, y float64) (next float64, ok bool) {
	g, u := d.g, d.g.u
	t := d.temperature(d.v.Units, m.wall.T)
	low := g.p(0, (pipeTop+wall)*u).Y - 4*d.pl.scale
	tube := 46*d.pl.scale + 0.6*w.size
	for _, v := range [...]struct {
		tube float64
		size float64
		bold bool
		says string
	}{
		{tube, w.size, w.bold, d.say(m.name, " ", t)}, {tube, w.size, w.bold, d.say(m.brief, " ", t)},
		{tube, d.small(), w.bold, d.say(m.brief, " ", t)}, {0, d.small(), w.bold, d.say(m.brief, " ", t)},
		{0, d.small(), false, d.say(m.brief, " ", t)},
	} {
		if d.brief && v.tube > 0 {
			continue
		}
		row := Rect{left, y, left + v.tube + d.v.Measure(v.size, v.bold, v.says), y + 1.27*v.size}
		for !d.free(row) && row.Bottom <= low {
			row.Top, row.Bottom = row.Top+2, row.Bottom+2
		}
		raised := row.Right > g.p(-(pocketOut+wall)*u, 0).X-3 // over the body's own top
		if row.Bottom > low || d.bend(row) || raised && row.Bottom > g.p(0, (bodyTop+wall)*u).Y-4*d.pl.scale {
			continue
		}
		mid := (row.Top + row.Bottom) / 2
		if v.tube > 0 {
			d.thermometer(Rect{left + 5*d.pl.scale, mid - 4*d.pl.scale, left + 46*d.pl.scale, mid + 4*d.pl.scale}, m.wall.T, true)
		}
		w.size, w.bold = v.size, v.bold
		d.write(w, Point{left + v.tube, mid + capShare*w.size/2}, FromLeft, 0, v.says)
		return row.Bottom, true
	}
	return y, false
}

// bend tells whether a box meets the tailpipe's outer bend.
func (d *drawing) bend(r Rect) bool {
	g, u := d.g, d.g.u
	big := (24 + wall) * u
	centre := g.p(-g.seat-wall*u+big, (tailTop+wall)*u-big)
	if r.Bottom > centre.Y || r.Right > centre.X {
		return r.Right > g.p(-g.seat-wall*u, 0).X-4*d.pl.scale
	}
	return math.Hypot(r.Right-centre.X, r.Bottom-centre.Y) < big*g.k+5*d.pl.scale
}
