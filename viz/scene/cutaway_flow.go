package scene

import (
	"math"

	"underdisc/model/plant"
)

// Drift is how far the marks on each flow have gone, in distances between
// marks. Whoever shows a run carries it on from picture to picture; a view
// without one shows the marks at their start.
type Drift struct{ Line, Seat, Bleed, Guide, Pilot float64 }

// After is the drift a time dt of the picture later, s, with the flows of a
// state.
func (d Drift) After(dt float64, st *plant.ValveState) Drift {
	main, small := func(w float64) float64 { return dt * pace(w, mainFlow) }, func(w float64) float64 { return dt * pace(w, smallFlow) }
	return Drift{
		Line: wrap(d.Line + main(st.Line)), Seat: wrap(d.Seat + main(st.Seat)),
		Bleed: wrap(d.Bleed + small(st.Bleed)), Guide: wrap(d.Guide + small(st.Guide)), Pilot: wrap(d.Pilot + small(st.PilotFlow)),
	}
}

// pace is the speed of marks, distances between marks in a second: it grows
// with the square root of the flow, and stays below what thirty pictures in a
// second can show without the marks seeming to run backwards.
func pace(w, ref float64) float64 {
	const usual, most = 1.6, 8.0
	return math.Copysign(math.Min(usual*math.Sqrt(math.Abs(w)/ref), most), w)
}

// Flows, kg/s, at which marks go at their usual pace: in the pipes, and into
// and out of the chamber.
const (
	mainFlow  = 1.0
	smallFlow = 5e-3
)

// thinFlow is the flow, kg/s, up to which one line of marks stands for it, and not
// two.
const thinFlow = 0.1

// dart is the size of the marks on a flow in the pipes, kg/s, over that at the
// usual flow: less by 0.28 for each tenth of it, since a leak passes a thousandth
// of what a lift does.
func dart(w float64) float64 {
	return math.Max(0.5, math.Min(1+0.28*math.Log10(math.Abs(w)/mainFlow), 1.12))
}

// stillFlow is a flow too small to be written, kg/s.
const stillFlow = 5e-6

func wrap(x float64) float64 { return x - math.Floor(x) }

// stillFlux, kg/(s m2): below it a flow has no marks. A hundredth of what air
// at 12 bar does through a choked opening, it keeps the marks off what merely
// follows a slow rise of the pressure.
const stillFlux = 28.0

// flows tells whether a flow through an effective area, m2, is worth marks.
func flows(w, area float64) bool {
	return math.Abs(w) > stillFlow && math.Abs(w) > stillFlux*area
}

// course is a line that marks follow.
type course struct {
	part       string
	pts        []Point
	gap        float64 // between marks
	size       float64 // length of a mark
	phase, way float64 // way: 1 along the line, -1 against it
}

// flowMarks draws the darts.
func (d *drawing) flowMarks() {
	for _, c := range d.courses() {
		d.darts(c)
	}
}

// courses are the lines with flow on them now.
func (d *drawing) courses() []course {
	g, u, st := d.g, d.g.u, d.st
	dr := d.v.Drift
	out := make([]course, 0, 8)
	line := func(part string, size, gap, w, phase float64, xz ...float64) {
		c := course{part: part, gap: gap, size: size, phase: phase, way: math.Copysign(1, w)}
		from := len(d.knots.all)
		for i := 0; i+1 < len(xz); i += 2 {
			d.knots.put(g.p(xz[i]*u, xz[i+1]*u))
		}
		c.pts = d.knots.since(from)
		out = append(out, c)
	}
	big := func(w float64) float64 { return 8.2 * u * g.k * dart(w) }
	small := 5.6 * u * g.k
	seat, mouth := g.seat/u, -math.Max(g.lift/u/2, 1)
	if flows(st.Line, st.LineArea) {
		gl := g.left / u
		line("flow in", big(st.Line), 24*u*g.k, st.Line, dr.Line, gl+4, 4, -58, 4, -44, 0)
		if math.Abs(st.Line) > thinFlow {
			line("flow in", big(st.Line), 24*u*g.k, st.Line, dr.Line, gl+4, -23, -62, -23, -50, -20)
		}
	}
	if flows(st.Seat, st.SeatArea) {
		end := g.right/u - 4
		x := seat * 0.52
		line("flow out", big(st.Seat), 24*u*g.k, st.Seat, dr.Seat, -44, mouth, -seat-1, mouth, -x-3, mouth+4, -x, 12, -x, 30, -x+6, 47, x, 58, end, 58)
		if math.Abs(st.Seat) > thinFlow {
			line("flow out", big(st.Seat), 24*u*g.k, st.Seat, dr.Seat, 47, -24, 47, mouth-5, 41, mouth, seat+1, mouth, x+3, mouth+4, x, 12, x+1, 20, x+12, 30, end, 30)
		}
	}
	if flows(st.PilotFlow, st.PilotArea) {
		ro := g.pilotAt / u
		line("flow out of the chamber", small, 15*u*g.k, st.PilotFlow, dr.Pilot,
			g.low/u+1, (laneTop+laneLow)/2, (laneIn+laneOut)/2, (laneTop+laneLow)/2, (laneIn+laneOut)/2, -51.5, ro+12, -51.5, ro+9, -59)
		line("flow out of the pilot", small, 15*u*g.k, st.PilotFlow, dr.Pilot,
			ro, g.pilotSeat/u, ro, -69.5, (riserIn+riserOut)/2, -69.5, (riserIn+riserOut)/2, tailLow+3)
	}
	if flows(st.Cover, st.CoverArea) {
		z := g.floor/u + coverAt
		line("flow past the cover", small, 11*u*g.k, st.Cover, dr.Pilot, -g.low/u+6, z, -g.low/u-wall-coverReach, z)
	}
	if d.drainOpen() && math.Abs(st.Drain) > stillFlow {
		line("flow out of the drain", small, 9*u*g.k, st.Drain, dr.Line, drainX, pipeLow+8, drainX, pipeLow-wall-drainReach)
	}
	gl := d.glass()
	inGlass := func(part string, ch Rect, w, phase float64) {
		if ch.Width() <= 0 {
			return
		}
		x := (ch.Left + ch.Right) / 2
		h := math.Sqrt(math.Max(0, gl.r*gl.r-(x-gl.at.X)*(x-gl.at.X))) - 2
		s := math.Min(small, 1.5*ch.Width())
		out = append(out, course{part: part, pts: d.knots.list(Point{x, gl.at.Y - h}, Point{x, gl.at.Y + h}), gap: 2.2 * s, size: s, phase: phase, way: math.Copysign(1, w)})
	}
	if flows(st.Bleed, st.BleedArea) {
		inGlass("flow into the chamber", gl.bore, st.Bleed, dr.Bleed)
	}
	if d.spec.Guide != nil && math.Abs(st.Guide) > math.Max(stillFlow, stillFlux*1e-6) {
		inGlass("flow through the guide", gl.gap, st.Guide, dr.Guide)
	}
	return out
}

// darts draws the marks on one course, those that would stand on a text left
// out.
func (d *canvas) darts(c course) {
	total := 0.0
	for i := 1; i < len(c.pts); i++ {
		total += math.Hypot(c.pts[i].X-c.pts[i-1].X, c.pts[i].Y-c.pts[i-1].Y)
	}
	for s := c.gap * (wrap(c.phase) + 0.25); s < total; s += c.gap {
		if s < c.size/2 || s > total-c.size/2 {
			continue
		}
		at, dir := along(c.pts, s, c.size/2)
		r := 0.55 * c.size
		box := Rect{at.X - r, at.Y - r, at.X + r, at.Y + r}
		hidden := false
		for _, t := range d.taken {
			hidden = hidden || box.Meets(t)
		}
		if hidden {
			continue
		}
		x, y := dir.X*c.way, dir.Y*c.way
		pt := func(a, b float64) Point { return Point{at.X + c.size*(a*x-b*y), at.Y + c.size*(a*y+b*x)} }
		path := d.polygon(pt(0.5, 0), pt(-0.5, 0.25), pt(-0.32, 0), pt(-0.5, -0.25))
		d.stroke(c.part, Still, Pen{Ink: Dark, Width: d.px(2.6)}, path)
		d.fill(c.part, Still, Paint{Ink: White}, path)
	}
}

// along is the place at a length along a line and its direction there, smoothed
// over half a mark to each side.
func along(pts []Point, s, reach float64) (at, dir Point) {
	at = walk(pts, s)
	a, b := walk(pts, s-reach), walk(pts, s+reach)
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return at, Point{1, 0}
	}
	return at, Point{(b.X - a.X) / l, (b.Y - a.Y) / l}
}

func walk(pts []Point, s float64) Point {
	s = math.Max(s, 0)
	for i := 1; i < len(pts); i++ {
		l := math.Hypot(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y)
		if s <= l && l > 0 {
			f := s / l
			return Point{pts[i-1].X + f*(pts[i].X-pts[i-1].X), pts[i-1].Y + f*(pts[i].Y-pts[i-1].Y)}
		}
		s -= l
	}
	return pts[len(pts)-1]
}
