package scene

import (
	"math"
)

// section is the valve cut open, in millimetres: x to the right of the disc's
// axis, z up from the seat plane, each part as it lies shut. Seat, guide, lift,
// pilot seat, stroke and bleed bore have their own sizes and the chamber is as
// deep as its volume asks for; what the description does not say (walls, pipes,
// coil) is drawn in proportion to the guide.
type section struct {
	*stock // nil: nothing is drawn with it
	at     Rect
	k      float64 // picture units per millimetre
	x, y   float64 // the axis, and the seat plane, in the picture
	u      float64 // guide radius over 35 mm; what has no size of its own grows with it

	left, right, top float64 // ends of the pipes, and the top of the tailpipe's wall

	seat, guide, bore      float64 // radii: of the seat, of the guide, inside the skirt
	crown, skirt           float64 // below the disc's top: underside of the crown, end of the skirt
	guideTop, ledge, floor float64 // z, all negative
	low                    float64 // radius of the chamber below the ledge
	trueChamber            bool    // the chamber has the volume that it says

	travel, lift   float64 // as drawn
	liftTimes      float64 // by how much lift is drawn larger than the rest
	stroke, raised float64 // of the plunger, as drawn
	strokeTimes    float64
	orifice        float64 // radius of the pilot seat
	bleedWidth     float64 // of the drilled bore
	gateRise       float64 // of the block valve's gate, now
	pilotAt        float64 // x of the plunger's axis
	pilotSeat      float64 // z of the pilot seat
	hasGate        bool
	hasDump        bool
}

// Sizes of what has none of its own, in millimetres on a guide of 35 mm radius.
const (
	wall      = 6.0   // of the body
	pipeTop   = 12.0  // of the inlet's bore
	pipeLow   = -30.0 //
	bodyTop   = 16.0  // of the body's cavity
	pocketLow = -34.0 // its floor beside the guide
	pocketOut = 53.0  // its radius
	guideOut  = 41.0  // outside of the guide
	tailLow   = 22.0  // of the tailpipe's bore
	tailTop   = 66.0
	seatRing  = 4.0   // width of the seat's ring
	bleedX    = -47.0 // axis of the drilled bore
	laneTop   = -79.0 // passage from chamber to pilot
	laneLow   = -86.0
	laneIn    = 124.0 // where it rises
	laneOut   = 131.0
	riserIn   = 70.0 // passage from pilot to outlet
	riserOut  = 78.0
	pilotX    = 108.0
	pilotTop  = -44.0 // of the space round the plunger
	coilTop   = -3.0
	coilLow   = -38.0
	coilReach = 25.0 // half its width
	rightEnd  = 139.0
	gateX     = -93.0
	gateHalf  = 4.0
	leastLeft = 122.0
)

// Least sizes in the picture, at the reference size, below which a movement is
// drawn larger than the rest.
const (
	leastTravel = 24.0
	leastStroke = 6.0
)

// sectionOf fits the valve into a place of the picture.
func sectionOf(stock *stock, v *View, at Rect) *section {
	st, spec := &v.Snapshot.Valves[v.Valve], v.Model.Valves[v.Valve].Spec
	const mm = 1e3
	g := &section{stock: stock, at: at, seat: mm * spec.Seat.Diameter / 2, guide: mm * spec.Disc.GuideDiameter / 2, hasDump: spec.Dump != nil}
	g.u = g.guide / 35
	u := g.u
	g.travel, g.lift = mm*spec.Disc.Travel, mm*st.Disc.Lift
	g.stroke, g.raised = mm*st.Pilot.Stroke, mm*st.Pilot.Lift
	g.orifice = math.Min(math.Max(mm*math.Sqrt(spec.Pilot.Area/math.Pi), 2.5*u), 7*u)
	g.bleedWidth = mm * 2 * math.Sqrt(spec.Bleed.Area/math.Pi)
	g.pilotAt, g.pilotSeat = pilotX*u, -62*u
	g.bore = g.guide - 5.5*u
	g.crown = 10 * u

	// The scale depends on the depth, which depends on the drawn travel, which
	// depends on the scale: twice round is enough.
	g.liftTimes, g.strokeTimes = 1, 1
	size := math.Min(v.Size.X/1600, v.Size.Y/900)
	for range 3 {
		g.skirt = g.travel*g.liftTimes + 20*u
		g.guideTop = -(g.travel*g.liftTimes + 3*u)
		g.ledge = -(g.skirt + g.travel*g.liftTimes)
		g.chamber(mm * mm * mm * spec.Chamber.Volume)
		g.top = (tailTop + wall) * u
		margin := 10 * size
		high := g.top - g.floor + (wall+1)*u
		wide := (rightEnd + leastLeft) * u
		lane := 0.018*at.Width() + 10*size // the wire's
		g.k = math.Min((at.Height()-2*margin)/high, (at.Width()-margin-lane)/wide)
		g.x = at.Right - lane - rightEnd*u*g.k
		g.y = at.Top + margin + g.top*g.k + math.Max(0, at.Height()-2*margin-high*g.k)/2
		g.left = (at.Left + margin - g.x) / g.k
		g.right = rightEnd * u
		g.liftTimes = larger(leastTravel*size, g.travel*g.k)
		g.strokeTimes = larger(leastStroke*size, g.stroke*g.k)
	}
	g.travel, g.lift = g.travel*g.liftTimes, g.lift*g.liftTimes
	g.stroke, g.raised = g.stroke*g.strokeTimes, g.raised*g.strokeTimes
	if st.Block.Fitted {
		g.hasGate = true
		g.gateRise = st.Block.Opening * (pipeTop - pipeLow + 2) * u
	}
	return g
}

// larger is the round factor that makes a length at least as long as asked.
func larger(asked, length float64) float64 {
	if length >= asked || length <= 0 {
		return 1
	}
	for _, f := range []float64{1.5, 2, 3, 4, 5, 8, 10, 15, 20, 30, 50} {
		if f*length >= asked {
			return f
		}
	}
	return 100
}

// chamber finds how deep the chamber is: the inside of the disc's cup, the
// stroke of the skirt down to its ledge, and what lies below hold the volume,
// mm3,
//
//	V = pi bore^2 (skirt - crown) + pi guide^2 travel + pi low^2 (ledge - floor)
//
// with the disc shut. The part below has the ledge's radius unless it would be
// out of proportion; then it is wider or narrower.
func (g *section) chamber(volume float64) {
	const shallow, deep = 40.0, 62.0 // below the ledge, on a guide of 35 mm
	u := g.u
	rest := volume - math.Pi*(g.bore*g.bore*(g.skirt-g.crown)+g.guide*g.guide*(-g.ledge-g.skirt))
	g.low, g.trueChamber = g.guide-4*u, true
	depth := rest / (math.Pi * g.low * g.low)
	if depth > deep*u {
		depth = deep * u
		g.low = math.Sqrt(rest / (math.Pi * depth))
		if g.low > 44*u {
			g.low, g.trueChamber = 44*u, false
		}
	}
	if depth < shallow*u {
		depth, g.trueChamber = shallow*u, false
	}
	g.floor = g.ledge - depth
	if lane := (laneLow - 6) * u; g.floor > lane {
		g.floor = lane
		g.trueChamber = false
	}
}

// p is a place of the section in the picture.
func (g *section) p(x, z float64) Point { return Point{g.x + x*g.k, g.y - z*g.k} }

// box is an upright rectangle of the section in the picture.
func (g *section) box(left, right, low, high float64) Path {
	return g.polygon(g.p(left, high), g.p(right, high), g.p(right, low), g.p(left, low))
}

// poly is a closed outline from pairs of x and z.
func (g *section) poly(xz ...float64) Path {
	pts := g.points[:0]
	for i := 0; i+1 < len(xz); i += 2 {
		pts = append(pts, g.p(xz[i], xz[i+1]))
	}
	g.points = pts
	return g.polygon(pts...)
}

func (g *section) shift(c Carrier) Point {
	switch c {
	case WithDisc:
		return Point{0, g.lift * g.k}
	case WithPlunger:
		return Point{0, -g.raised * g.k}
	case WithGate:
		return Point{0, -g.gateRise * g.k}
	}
	return Point{}
}

// ShiftsIn are the ways that the carriers have moved in a cutaway drawn at a
// place.
func ShiftsIn(v *View, at Rect) (out [carriers]Point) {
	g := sectionOf(nil, v, at)
	for c := range carriers {
		out[c] = g.shift(c)
	}
	return out
}
