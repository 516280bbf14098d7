package scene

import "underdisc/model/plant"

// Where the cover's gasket leaks and where the body's drain is, in millimetres on
// a guide of 35 mm radius: the height of the leak above the chamber's floor and
// how far its marks reach, the drain's axis, its length and half its bore.
const (
	coverAt    = 3.0
	coverReach = 14.0
	drainX     = -65.0
	drainReach = 7.0
	drainHalf  = 2.6
)

// drain is the body's drain; nil without one.
func (d *drawing) drain() *plant.BodyDrain { return d.spec.Drain }

func (d *drawing) drainOpen() bool { return d.drain() != nil && d.drain().Opening > 0 }

// openings draws what leads from the valve to the surroundings beside its seat:
// a leak past the cover's gasket, and the body's drain, shut or open.
func (d *drawing) openings() {
	g, u, st := d.g, d.g.u, d.st
	if st.CoverArea > 0 {
		z := g.floor + coverAt*u
		gap := g.box(-g.low-wall*u-0.5*u, -g.low+0.5*u, z-1.1*u, z+1.1*u)
		d.stroke("cover", Still, Pen{Ink: Dark, Width: d.px(2.4)}, gap)
		d.fill("cover", Still, Paint{Kind: Blend, A: st.Below, B: d.v.Units.Ambient, From: g.p(-g.low, z), To: g.p(-g.low-wall*u, z)}, gap)
	}
	if d.drain() == nil {
		return
	}
	x, h := drainX*u, drainHalf*u
	low := (pipeLow - wall) * u
	stub := g.box(x-h, x+h, low-drainReach*u, low)
	d.outlined("drain", Still, Paint{Kind: Hatched, Ink: Metal}, d.px(2), g.box(x-h-1.6*u, x+h+1.6*u, low-drainReach*u, low))
	if d.drainOpen() {
		way := g.box(x-h, x+h, low-drainReach*u, pipeLow*u+0.5*u)
		d.stroke("drain", Still, Pen{Ink: Dark, Width: d.px(2)}, way)
		d.fill("drain", Still, flat(st.Above), way)
		return
	}
	d.fill("drain", Still, Paint{Ink: White}, stub)
	d.stroke("drain", Still, Pen{Ink: Dark, Width: d.px(2)}, stub)
	d.fill("drain", Still, Paint{Ink: Dark}, g.box(x-h, x+h, low-drainReach*u, low-(drainReach-2.5)*u))
}

// drainRoom is where the drain is, which no text may cross; empty without one.
func (d *drawing) drainRoom() Rect {
	if d.drain() == nil {
		return Rect{}
	}
	u, h := d.g.u, (drainHalf+1.6)*d.g.u
	a, b := d.g.p(drainX*u-h, (pipeLow-wall)*u), d.g.p(drainX*u+h, (pipeLow-wall-drainReach-1)*u)
	return Rect{a.X, a.Y, b.X, b.Y}
}

// drainWords say how the drain stands when it is open.
func (d *drawing) drainWords() [][]string {
	if !d.drainOpen() {
		return nil
	}
	n := d.rate(d.st.Drain)
	return [][]string{{d.say("Body drain open, ", n), d.say("Drain open, ", n), d.say("Drain ", n), "Drain open", "Drain"}}
}

// coverText says beside the chamber's foot what leaves past the cover.
func (d *drawing) coverText() {
	if d.st.CoverArea <= 0 {
		return
	}
	g, u := d.g, d.g.u
	gl := d.glass()
	n := d.rate(d.st.Cover)
	w := words{part: "cover", size: d.label(), bold: true, ink: Dark}
	x := g.p(-g.low-(wall+coverReach+1)*u, 0).X
	below := Point{g.p(g.low+wall*u+4*u, 0).X + 3*d.badgeRadius(), g.p(0, laneLow*u-5*u).Y + 1.4*d.badgeRadius()}
	for _, says := range [...]string{d.say("cover leaks ", n), d.say("cover ", n), "cover leaks"} {
		for y := g.p(0, g.floor+coverAt*u).Y + capShare*w.size/2; y < g.at.Bottom-3-dropShare*w.size; y += 0.2 * w.size {
			left := g.at.Left + 6
			if y-capShare*w.size < gl.at.Y+gl.r {
				left = gl.at.X + gl.r + 4
			}
			if d.write(w, Point{x, y}, FromRight, x-left, says) {
				return
			}
		}
		for _, y := range [...]float64{1.7, 3.1} { // or below the pilot
			if d.write(w, Point{below.X, below.Y + y*d.label()}, FromLeft, g.at.Right-below.X-4, says) {
				return
			}
		}
	}
}

// tailNames name the tailpipe, with what stands in its way where it ends: the
// pressure of a header, and a neighbour that blows into it.
func (d *drawing) tailNames() []string {
	const name = "Tailpipe"
	pipe, ok := plant.Spec[plant.Tailpipe](d.v.Model.Plant, d.spec.Outlet)
	if !ok || d.brief {
		return []string{name}
	}
	if _, ok := plant.Spec[plant.Tailpipe](d.v.Model.Plant, pipe.To); !ok {
		return []string{name}
	}
	p := d.pressure(d.v.Units, d.st.Behind)
	says := []string{d.say(name, " into header at ", p), d.say(name, " into ", p), name}
	if d.v.neighbourBlows(pipe.To) {
		says = append([]string{d.say(name, " into header at ", p, ", neighbour blows"), d.say(name, " and neighbour into ", p)}, says...)
	}
	return says
}

// neighbourBlows tells whether a neighbour discharges into a pipe.
func (v *View) neighbourBlows(pipe string) bool {
	for i := range v.Model.Plant.Parts {
		if q, ok := v.Model.Plant.Parts[i].Spec.(*plant.Neighbour); ok && q.Into == pipe && q.Opening > 0 {
			return true
		}
	}
	return false
}
