package scene

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// springDrawing is the cutaway of a spring-loaded valve in the making: metal, fluids
// by their pressure, what moves, the rings and the faces once more and larger, what
// flows, and the numbers. All shapes lie where they are now.
type springDrawing struct {
	canvas
	frame
	st    *plant.SpringState
	spec  *plant.SpringValve
	f     *explain.SpringFacts
	g     springSection
	right float64 // end of the outlet, mm
	whole frame
	near  float64 // by how much the rings are drawn larger
	inset Rect    // where; empty if they are not
	glass Rect    // where the faces are; empty if they are not
}

func newSpringDrawing(k *stock, v *View, at Rect, brief bool) *springDrawing {
	st := v.SpringState()
	d := &springDrawing{canvas: canvas{stock: k, v: v, pl: planOf(v), at: at, out: k.body[:0], taken: k.taken[:0], brief: brief},
		st: st, spec: st.Spec, f: v.Spring, g: springSectionOf(st.Spec, st)}
	g, u := &d.g, d.g.u
	margin := 10 * math.Min(v.Size.X/1600, v.Size.Y/900)
	high := g.top() - vesselLow*u
	d.k = (at.Height() - 2*margin) / high
	share := 0.385
	if brief {
		share = 0.40
	}
	if most := (share*at.Width() - margin) / (g.bowl + (wall+2)*u); d.k > most {
		d.k = most
	}
	d.x = at.Left + share*at.Width()
	d.y = at.Top + margin + g.top()*d.k + math.Max(0, at.Height()-2*margin-high*d.k)/2
	d.right = (at.Right - margin - d.x) / d.k
	d.whole = d.frame
	return d
}

// draw returns the shapes; they hold until the next cutaway is drawn.
func (d *springDrawing) draw() []Shape {
	d.body()
	d.valve()
	d.springs()
	d.lever()
	d.gag()
	d.closeUp()
	d.faces()
	body := d.out
	d.out = d.words[:0]
	d.numbersAt()
	words := d.out
	d.out = body
	d.pool()
	d.marks()
	d.out = append(d.out, words...)
	d.stock.body, d.stock.words, d.stock.taken = d.out, words, d.taken
	return d.out
}

// area, edge and solid draw in the frame that is on.
func (d *springDrawing) area(part string, paint Paint, path Path) {
	d.out = append(d.out, Shape{Part: part, Path: path, Fill: d.paints.put(paint), Clip: d.clip})
}

func (d *springDrawing) edge(part string, width float64, path Path) {
	d.out = append(d.out, Shape{Part: part, Path: path, Stroke: d.pens.put(Pen{Ink: Dark, Width: d.px(width)}), Clip: d.clip})
}

// solid draws paths that touch or overlap as one area.
func (d *springDrawing) solid(part string, paint Paint, width float64, paths ...Path) {
	for _, p := range paths {
		d.edge(part, 2*width, p)
	}
	for _, p := range paths {
		d.area(part, paint, p)
	}
}

func (d *springDrawing) cut(left, right, low, high float64) Path {
	return d.polygon(d.p(left, high), d.p(right, high), d.p(right, low), d.p(left, low))
}

// poly is a closed outline from pairs of x and z.
func (d *springDrawing) poly(xz ...float64) Path {
	pts := d.points[:0]
	for i := 0; i+1 < len(xz); i += 2 {
		pts = append(pts, d.p(xz[i], xz[i+1]))
	}
	d.points = pts
	return d.polygon(pts...)
}

// sided is a box on one side of the axis, between two radii.
func (d *springDrawing) sided(s, in, out, low, high float64) Path {
	return d.cut(math.Min(s*in, s*out), math.Max(s*in, s*out), low, high)
}

var fixedMetal = Paint{Kind: Hatched, Ink: Metal}

// body draws what stands still around: vessel, body, outlet, bonnet, and the fluid
// in them.
func (d *springDrawing) body() {
	g, u, st := &d.g, d.g.u, d.st
	w := wall * u
	d.solid("body", fixedMetal, 2,
		d.cut(-g.bowl-w, g.bowl+w, bowlLow*u-w, g.bonnet),
		d.cut(0, d.right, outLow*u-w, outTop*u+w),
		d.cut(-g.bowl-w-4*u, g.bowl+w+4*u, g.bonnet, g.bonnet+w),
		d.cut(-(bonnetReach+4)*u, (bonnetReach+4)*u, g.bonnet, g.springTop()+4*u),
		d.cut(-17*u, 17*u, g.springTop(), g.capTop()),
		d.cut(-g.bowl-w, g.bowl+w, vesselWall*u, vesselWall*u+w),
		d.cut(-g.bore-9*u, g.bore+9*u, vesselWall*u, bowlLow*u))
	// The vessel, which goes on.
	vessel := flat(st.Vessel)
	d.edge("vessel", 4, d.cut(-g.bowl-w, g.bowl+w, vesselLow*u, vesselWall*u))
	d.area("vessel", vessel, d.cut(-g.bowl-w, g.bowl+w, vesselLow*u, vesselWall*u))
	d.area("bonnet", Paint{Ink: Panel}, d.cut(-bonnetReach*u, bonnetReach*u, g.springLow()-2*u, g.springTop()))
	d.edge("bonnet", 2, d.cut(-bonnetReach*u, bonnetReach*u, g.springLow()-2*u, g.springTop()))
	outlet := flat(st.Outlet)
	d.solid("outlet", outlet, 2, d.cut(-g.bowl, g.bowl, bowlLow*u, g.bonnet), d.cut(0, d.right, outLow*u, outTop*u))
	d.breakAt(d.right-2*u, outLow*u-w, outTop*u+w)
}

// breakAt shows that the pipe goes on.
func (d *springDrawing) breakAt(x, low, high float64) {
	over, amp, mid := 3*d.pl.scale/d.k, 2.2*d.g.u, (low+high)/2
	q := (high - low) / 4
	wave := Path{{Op: MoveTo, P: [3]Point{d.p(x, high+over)}},
		{Op: CurveTo, P: [3]Point{d.p(x+2*amp, high-q), d.p(x-2*amp, mid+q/2), d.p(x, mid)}},
		{Op: CurveTo, P: [3]Point{d.p(x+2*amp, mid-q/2), d.p(x-2*amp, low+q), d.p(x, low-over)}}}
	d.area("break", Paint{Ink: Panel}, append(append(Path{}, wave...),
		Seg{Op: LineTo, P: [3]Point{d.p(d.right+3/d.k, low-over)}}, Seg{Op: LineTo, P: [3]Point{d.p(d.right+3/d.k, high+over)}}, Seg{Op: Close}))
	d.edge("break", 2, wave)
}

// valve draws nozzle, rings, fluids between them, and disc: what both frames show.
func (d *springDrawing) valve() {
	g, u, st := &d.g, d.g.u, d.st
	under := g.lip + g.lift // of the holder's lip, now
	// Below the upper ring, out to the body.
	if g.over {
		for _, s := range []float64{-1, 1} {
			d.area("below the upper ring", flat(st.Under), d.sided(s, g.tip, g.upper, g.ledge, math.Max(under+1*u, g.edge)))
			d.area("below the upper ring", Paint{Kind: Blend, A: st.Under, B: st.Outlet, From: d.p(s*g.upper, 0), To: d.p(s*(g.upper+5*u), 0)},
				d.sided(s, g.upper, g.upper+5*u, g.ledge, g.edge))
		}
	} else if g.lift > 0 {
		for _, s := range []float64{-1, 1} {
			d.area("outlet", Paint{Kind: Blend, A: d.behindCurtain(), B: st.Outlet, From: d.p(s*g.lower, 0), To: d.p(s*(g.upper+6*u), 0)},
				d.sided(s, g.lower, g.upper+6*u, g.ringTop, under))
		}
	}
	// Nozzle and ledge.
	pieces := []Path{d.cut(-g.bore-9*u, g.bore+9*u, vesselWall*u, bowlLow*u+2*u), d.cut(-g.tip, g.tip, vesselWall*u, 0)}
	if g.over || g.rings {
		pieces = append(pieces, d.cut(-g.upper-1*u, g.upper+1*u, bowlLow*u, g.ledge))
	} else {
		pieces = append(pieces, d.cut(-g.bore-9*u, g.bore+9*u, bowlLow*u, -14*u))
	}
	d.solid("nozzle", fixedMetal, 2, pieces...)
	// Guide, and the upper ring on it.
	d.solid("guide", fixedMetal, 2, d.cut(-g.stem-5*u, g.stem+5*u, g.guideLow, g.bonnet+1*u))
	if g.over {
		ring := make([]Path, 0, 4)
		for _, s := range []float64{-1, 1} {
			ring = append(ring, d.sided(s, g.upper, g.upper+3.5*u, g.edge, g.guideLow+8*u),
				d.sided(s, g.stem+5*u, g.upper+3.5*u, g.guideLow+3*u, g.guideLow+8*u))
		}
		d.solid("upper ring", Paint{Ink: Hatch}, 2, ring...)
	}
	d.bellows()
	// The bore, and what is under the disc.
	d.edge("inlet", 4, d.cut(-g.bore, g.bore, vesselWall*u, 0))
	d.area("inlet", flat(st.Inlet), d.cut(-g.bore, g.bore, vesselWall*u-1*u, 0.2*u))
	if st.Vessel != st.Inlet { // along the inlet pipe
		d.area("inlet", Paint{Kind: Blend, A: st.Vessel, B: st.Inlet, From: d.p(0, vesselWall*u), To: d.p(0, (vesselWall+14)*u)},
			d.cut(-g.bore, g.bore, vesselWall*u-1*u, (vesselWall+14)*u))
	}
	if g.rings {
		for _, s := range []float64{-1, 1} { // a little under the lip, so that no line shows
			d.area("huddling chamber", flat(st.Huddle), d.sided(s, g.tip, g.lower, math.Min(g.ringTop, 0)-2.4*u, under+1.6*u))
			d.area("huddling chamber", Paint{Kind: Blend, A: st.Huddle, B: d.afterRing(), From: d.p(s*(g.lower-0.5*u), 0), To: d.p(s*(g.lower+1.5*u), 0)},
				d.sided(s, g.lower-0.5*u, g.lower+1.5*u, g.ringTop, under))
		}
	}
	if g.lift > 0 {
		d.area("curtain", flat(st.Inlet), d.cut(-g.bore, g.bore, -0.2*u, g.lift))
		for _, s := range []float64{-1, 1} {
			d.area("curtain", Paint{Kind: Blend, A: st.Inlet, B: d.behindCurtain(), From: d.p(s*(g.bore-1*u), 0), To: d.p(s*g.tip, 0)},
				d.sided(s, g.bore-1*u, g.tip, 0, g.lift))
		}
	}
	// The lower ring.
	if g.rings {
		ring := make([]Path, 0, 2)
		for _, s := range []float64{-1, 1} {
			low := math.Min(g.ringTop, 0) - 2.4*u
			ring = append(ring, d.poly(s*g.tip, low, s*(g.lower-0.9*u), low, s*(g.lower-0.5*u), g.ringTop, s*(g.lower+1.8*u), g.ringTop,
				s*(g.lower+1.8*u), low-9*u, s*g.tip, low-9*u))
		}
		d.solid("lower ring", Paint{Ink: Hatch}, 2, ring...)
	}
	d.disc()
}

// behindCurtain is the pressure where the curtain ends.
func (d *springDrawing) behindCurtain() float64 {
	if d.g.rings {
		return d.st.Huddle
	}
	return d.st.Outlet
}

// afterRing is the pressure where the gap over the lower ring ends.
func (d *springDrawing) afterRing() float64 {
	if d.g.over {
		return d.st.Under
	}
	return d.st.Outlet
}

// disc draws disc, holder and spindle in one: they move together.
func (d *springDrawing) disc() {
	g, u, x := &d.g, d.g.u, d.g.lift
	face := 0.0
	out := g.upper - 0.5*u
	half := func(s float64) []float64 {
		pts := []float64{s * g.tip, x + face}
		if g.rings {
			pts = append(pts, s*g.tip, x+g.lip+1.6*u, s*(g.lower-0.5*u), x+g.lip+1.6*u, s*(g.lower-0.5*u), x+g.lip)
		}
		switch {
		case g.hood: // turned down at its rim
			pts = append(pts, s*(out-3*u), x+g.lip, s*(out-1*u), x+g.lip-4*u, s*out, x+g.lip-4*u)
		case !g.rings: // a plug's skirt
			pts = append(pts, s*(out-2*u), x+2*u, s*out, x+g.lip)
		default:
			pts = append(pts, s*out, x+g.lip)
		}
		return append(pts, s*out, x+flange*u, s*g.stem, x+flange*u, s*g.stem, x+g.guideLow+12*u, s*spindle*u, x+g.guideLow+12*u)
	}
	right, left := half(1), half(-1)
	xz := make([]float64, 0, len(right)+len(left))
	xz = append(xz, right...)
	for i := len(left) - 2; i >= 0; i -= 2 {
		xz = append(xz, left[i], left[i+1])
	}
	path := d.poly(xz...)
	d.area("disc", Paint{Ink: White}, path)
	d.edge("disc", 3.5, path)
}

// bellows between the holder and the guide.
func (d *springDrawing) bellows() {
	b := d.spec.Bellows
	if b == nil {
		return
	}
	g, u := &d.g, d.g.u
	r := math.Min(1e3*b.Diameter/2, g.upper-1*u)
	low, high := g.lift+flange*u, g.guideLow
	const n = 6
	for _, s := range []float64{-1, 1} {
		pts := d.points[:0]
		for i := range n + 1 {
			out := r - 1.2*u
			if i%2 == 1 {
				out = r + 1.2*u
			}
			pts = append(pts, d.p(s*out, low+(high-low)*float64(i)/n))
		}
		d.points = pts
		d.edge("bellows", 2, d.open(pts...))
	}
}
