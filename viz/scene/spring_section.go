package scene

import (
	"math"

	"underdisc/model/plant"
)

// springSection is a spring-loaded valve cut open, in millimetres: x to the right of
// the axis, z up from the seat. Bore, seat, rings, gaps and lift have their own
// sizes; what the description does not say (body, guide, bonnet, spring) is drawn in
// proportion to the seat.
type springSection struct {
	u            float64 // seat radius over 23.75 mm; what has no size of its own grows with it
	bore, seat   float64 // radii
	tip          float64 // outside of the seat's ring
	lip          float64 // z of the holder's lip above the lower ring, shut
	lower, upper float64 // radii of lower ring; of upper ring or hood; as far as the disc reaches without
	ringTop      float64 // z of the lower ring's edge
	ledge, edge  float64 // z: of the ledge below the upper ring, and of its lower edge
	travel, lift float64
	rings, over  bool // there is a lower ring; an upper one
	hood         bool
	bowl         float64 // radius inside the body
	stem         float64 // radius of the holder where it slides
	guideLow     float64
	bonnet       float64 // z of its floor
	trueUpper    bool    // the upper ring stands at its own height
}

// Sizes of what has none of its own, in millimetres on a seat of 23.75 mm radius.
const (
	vesselLow   = -92.0
	vesselWall  = -68.0 // its inside; the wall is wall thick
	bowlLow     = -34.0
	outLow      = -22.0 // of the outlet's bore
	outTop      = 20.0
	flange      = 10.0 // thickness of the holder
	springHigh  = 52.0 // room of the spring
	springReach = 17.0 // radius of its windings
	bonnetReach = 25.0
	capHigh     = 6.0
	spindle     = 4.0  // radius
	leverArm    = 9.0  // from its pivot to the spindle
	leverMost   = 82.0 // drawn length at most
)

// springSectionOf takes the sizes from the description.
func springSectionOf(spec *plant.SpringValve, st *plant.SpringState) springSection {
	const mm = 1e3
	g := springSection{bore: mm * spec.Nozzle.Bore / 2, seat: mm * spec.Seat.Diameter / 2, travel: mm * spec.Disc.Travel, lift: mm * math.Max(0, st.Lift)}
	g.u = g.seat / 23.75
	u := g.u
	g.tip = g.seat + math.Min(math.Max(g.seat-g.bore, 0.4*u), 4*u)
	g.lip = 1 * u
	g.lower, g.upper = g.tip+1*u, g.tip+5*u
	g.ringTop, g.ledge = -3*u, -23*u
	g.trueUpper = true
	if r := spec.LowerRing; r != nil {
		g.rings, g.lower = true, mm*r.Diameter/2
		g.ringTop = g.lip - mm*r.Gap
		g.upper = g.lower + 3*u
	}
	switch {
	case spec.UpperRing != nil:
		g.over, g.upper = true, math.Max(mm*spec.UpperRing.Diameter/2, g.lower+0.5*u)
	case spec.Hood != nil:
		g.hood, g.upper = true, math.Max(mm*spec.Hood.Diameter/2, g.lower+0.5*u)
	}
	g.bowl = g.upper + 24*u
	g.stem = 0.62 * g.upper
	g.guideLow = flange*u + g.travel + 3*u
	g.bonnet = g.guideLow + 16*u
	if g.over {
		g.edge = g.ledge + mm*spec.UpperRing.Height
		if most := g.guideLow + 2*u; g.edge > most {
			g.edge, g.trueUpper = most, false
		}
	}
	return g
}

// heights of the bonnet's inside, of its top and of all.
func (g *springSection) springLow() float64  { return g.bonnet + (wall+2)*g.u }
func (g *springSection) springTop() float64  { return g.springLow() + springHigh*g.u }
func (g *springSection) capTop() float64     { return g.springTop() + capHigh*g.u }
func (g *springSection) spindleTop() float64 { return g.capTop() + 9*g.u }
func (g *springSection) top() float64        { return g.spindleTop() + g.travel + 9*g.u }

// frame puts the section into the picture: once in whole, once a part of it larger.
type frame struct {
	k, x, y float64 // picture units per millimetre; the axis, and the seat, in the picture
	clip    *Rect   // nil: all is seen
}

func (f *frame) p(x, z float64) Point { return Point{f.x + x*f.k, f.y - z*f.k} }
