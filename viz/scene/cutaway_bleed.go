package scene

import "math"

// glass is the magnifier on the way from body to chamber: where it stands, and
// what it shows of the drilled bore and of the guide's clearance.
type glass struct {
	at   Point
	r    float64
	bore Rect // the drilled bore's channel; no width where it is shut
	gap  Rect // the guide's clearance; no width where there is none
}

func (d *drawing) glass() glass {
	g, u := d.g, d.g.u
	top := g.p(0, pocketLow*u-wall*u).Y + 8*d.pl.scale + 1.3*d.small()*float64(len(d.captions()))
	bottom := g.at.Bottom - 8*d.pl.scale
	left := g.at.Left + 10*d.pl.scale
	right := g.p(-pocketOut*u-wall*u, 0).X - 6*d.pl.scale
	r := math.Min((bottom-top)/2, 0.3*(right-left))
	gl := glass{at: Point{left + r, math.Min((top+bottom)/2, top+1.3*r)}, r: r}
	channel := func(x, size, by float64) Rect {
		w := math.Max(0, size*by*g.k)
		return Rect{x - w/2, gl.at.Y - r, x + w/2, gl.at.Y + r}
	}
	bore, gap := d.magnified()
	if d.spec.Guide == nil {
		gl.bore = channel(gl.at.X, g.bleedWidth, bore)
		return gl
	}
	gl.bore = channel(gl.at.X-0.45*r, g.bleedWidth, bore)
	gl.gap = channel(gl.at.X+0.35*r, 1e3*d.spec.Guide.Clearance, gap)
	return gl
}

// magnified are the factors at which the bore and the guide's clearance are
// shown, on top of the scale of the rest.
func (d *drawing) magnified() (bore, gap float64) {
	wide, narrow := 8.5*d.g.u, 4.5*d.g.u
	if d.spec.Guide == nil {
		wide = 11 * d.g.u
	}
	bore, gap = 1, 1
	if d.g.bleedWidth > 0 {
		bore = round2(wide / d.g.bleedWidth)
	}
	if d.spec.Guide != nil && d.spec.Guide.Clearance > 0 {
		gap = round2(narrow / (1e3 * d.spec.Guide.Clearance))
	}
	return bore, gap
}

// round2 is a number to one figure, or two from 1 to 2 of its power of ten.
func round2(x float64) float64 {
	if x <= 0 {
		return 1
	}
	n := math.Pow(10, math.Floor(math.Log10(x)))
	step := n
	if x < 3*n {
		step = n / 2
	}
	return math.Max(1, math.Round(x/step)*step)
}

// bleed draws the magnifier.
func (d *drawing) bleed() {
	g, u, st := d.g, d.g.u, d.st
	gl := d.glass()
	// Where it looks, and a line from there.
	spot := g.p(bleedX*u, pocketLow*u-5*u)
	ring := 6.5 * u * g.k
	if d.spec.Guide != nil {
		spot, ring = g.p((bleedX-g.guide/u)/2*u, pocketLow*u-2*u), 10*u*g.k
	}
	dx, dy := gl.at.X-spot.X, gl.at.Y-spot.Y
	l := math.Hypot(dx, dy)
	for f := ring; f < l-gl.r; f += 4 { // no text on the line
		x, y := spot.X+dx/l*f, spot.Y+dy/l*f
		d.taken = append(d.taken, Rect{x - 4, y - 4, x + 4, y + 4})
	}
	d.stroke("magnifier", Still, Pen{Ink: Dark, Width: d.px(2)}, d.circle(spot, ring))
	d.stroke("magnifier", Still, Pen{Ink: Dark, Width: d.px(2)}, d.open(
		Point{spot.X + dx/l*ring, spot.Y + dy/l*ring}, Point{gl.at.X - dx/l*gl.r, gl.at.Y - dy/l*gl.r}))

	round := d.circle(gl.at, gl.r)
	d.fill("magnifier", Still, Paint{Kind: Hatched, Ink: Metal}, round)
	fall := Paint{Kind: Blend, A: st.Above, B: st.Below, From: Point{gl.at.X, gl.at.Y - 0.6*gl.r}, To: Point{gl.at.X, gl.at.Y + 0.6*gl.r}}
	for _, c := range []Rect{gl.bore, gl.gap} {
		if c.Width() > 0 {
			d.fill("bleed", Still, fall, d.chord(gl, c.Left, c.Right))
		}
	}
	if gl.gap.Width() > 0 { // right of the clearance is the disc
		d.fill("disc's skirt", Still, Paint{Ink: White}, d.chord(gl, gl.gap.Right, gl.at.X+gl.r))
	}
	for _, c := range []Rect{gl.bore, gl.gap} {
		if c.Width() > 0 {
			for i, x := range []float64{c.Left, c.Right} {
				h := math.Sqrt(math.Max(0, gl.r*gl.r-(x-gl.at.X)*(x-gl.at.X)))
				w := 2.0
				if c == gl.gap && i == 1 {
					w = 3.5
				}
				d.stroke("bleed", Still, Pen{Ink: Dark, Width: d.px(w)}, d.open(Point{x, gl.at.Y - h}, Point{x, gl.at.Y + h}))
			}
		}
	}
	d.stroke("magnifier", Still, Pen{Ink: Dark, Width: d.px(3)}, round)
}

// chord is the part of the magnifier between two uprights.
func (d *drawing) chord(gl glass, left, right float64) Path {
	const n = 16
	left, right = math.Max(left, gl.at.X-gl.r), math.Min(right, gl.at.X+gl.r)
	var rim [2 * (n + 1)]Point
	for i := range n + 1 {
		x := left + (right-left)*float64(i)/n
		h := math.Sqrt(math.Max(0, gl.r*gl.r-(x-gl.at.X)*(x-gl.at.X)))
		rim[i], rim[2*n+1-i] = Point{x, gl.at.Y - h}, Point{x, gl.at.Y + h}
	}
	return d.polygon(rim[:]...)
}

// captions say what the magnifier shows and by how much it magnifies, each in
// several wordings.
func (d *drawing) captions() [][]string {
	g := d.g
	join := d.say
	caption := func(name, short string, width float64, by float64) []string {
		if width <= 0 {
			return []string{join(name, " shut"), join(short, " shut")}
		}
		times := join("×", d.number(by, 0))
		s := d.size(width)
		return []string{join(name, " ", s, ", drawn ", times), join(name, " ", s, " ", times), join(short, " ", s, " ", times), join(short, " ", s), join(short, " ", times), short}
	}
	if d.brief {
		return [][]string{{"Bleed"}}
	}
	bore, gap := d.magnified()
	out := append(d.drainWords(), caption("Bleed", "Bleed", g.bleedWidth, bore))
	if d.spec.Guide != nil {
		out = append(out, caption("Guide gap", "Gap", 1e3*d.spec.Guide.Clearance, gap))
	}
	return out
}

// bleedText says above the magnifier what it shows, and beside it what passes.
func (d *drawing) bleedText() {
	g, u, st := d.g, d.g.u, d.st
	gl := d.glass()
	wallAt := g.p(-pocketOut*u-wall*u, 0).X - 5*d.pl.scale
	y := g.p(0, pocketLow*u-wall*u).Y + 8*d.pl.scale + capShare*d.small()
	left := g.at.Left + 10*d.pl.scale
	for _, c := range d.captions() {
		d.write(words{part: "bleed", size: d.small(), ink: Dark}, Point{left, y}, FromLeft, wallAt-left, c...)
		y += 1.3 * d.small()
	}
	says := [][]string{d.passes("bleed", st.Bleed)}
	if d.spec.Guide != nil {
		says = append(says, d.passes("gap", st.Guide))
	}
	if d.brief {
		says = [][]string{d.passes("bleed", st.Bleed+st.Guide)}
	}
	// Below the casting there is more room.
	casting := g.p(0, d.bleedLow()-7*u).Y + 8*d.pl.scale
	pitch := 1.36 * d.label()
	left = gl.at.X + gl.r + 8*d.pl.scale
	y = math.Min(math.Max(casting, gl.at.Y), g.at.Bottom-4-float64(len(says))*pitch) + capShare*d.label()
	for _, s := range says {
		end := wallAt
		if y-capShare*d.label() > casting-2 {
			end = g.p(-g.low-wall*u, 0).X - 5*d.pl.scale
		}
		w := words{part: "bleed", size: d.label(), bold: true, ink: Dark}
		if !d.write(w, Point{left, y}, FromLeft, end-left, s...) { // smaller, with what it is of
			w.size, w.bold = d.small(), false
			d.write(w, Point{left, y}, FromLeft, end-left, s...)
		}
		y += pitch
	}
}

// passes are the wordings of what passes a way into the chamber, kg/s: it gets
// fewer figures before its name is left out.
func (d *drawing) passes(name string, w float64) []string {
	n, round, rough := d.rate(w), d.roundRate(w, 2), d.roundRate(w, 1)
	switch {
	case math.Abs(w) < stillFlow:
		return []string{d.say(name, " no flow"), d.say(name, " none")}
	case w < 0:
		return []string{d.say(name, " ", n, " out"), d.say(name, " ", round, " out"), d.say(name, " ", rough, " out")}
	}
	return []string{d.say(name, " ", n), d.say(name, " ", round), d.say(name, " ", rough)}
}

// size writes a width in mm: small ones to the micrometre.
func (d *drawing) size(mm float64) string {
	n := 2
	if mm < 0.1 {
		n = 3
	}
	return d.say(d.number(mm, n), " mm")
}
