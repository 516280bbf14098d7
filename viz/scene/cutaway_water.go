package scene

import (
	"math"

	"underdisc/model/plant"
)

// leastPool is the least height of a pool at the reference size.
const leastPool = 8.0

// pools draws the water that lies in body, chamber, dump line and tailpipe, on
// their floors, by its share of the volume; a little of it larger than it is. It
// has a level with waves, and dashes below it, so that no colour is needed to tell
// it; both keep clear of texts.
func (d *drawing) pools() {
	if !d.v.wet() {
		return
	}
	g, u, st := d.g, d.g.u, d.st
	d.bodyPool()
	depth := g.ledge - g.floor
	// The chamber's volume over the area of its floor; of one not to scale, the
	// depth as it is drawn.
	if full := 1e9 * d.spec.Chamber.Volume / (math.Pi * g.low * g.low); g.trueChamber {
		d.pool("chamber", &st.BelowFluid, full, depth, g.floor, -g.low, g.low)
	} else {
		d.pool("chamber", &st.BelowFluid, depth, depth, g.floor, -g.low, g.low)
	}
	if g.hasDump { // the riser stands on a short run, where the water is
		run := g.pilotAt + g.orifice - riserIn*u
		up := (riserOut - riserIn) * u * (tailLow + 66) * u
		d.pool("dump line", &st.DumpFluid, 7*u+up/run, 7*u, -73*u, riserIn*u, g.pilotAt+g.orifice)
	}
	high := (tailTop - tailLow) * u
	d.pool("tailpipe", &st.OutletFluid, high, high, tailLow*u, g.seat+7*u, riserIn*u-1*u)
	d.pool("tailpipe", &st.OutletFluid, high, high, tailLow*u, riserOut*u+1*u, g.right)
}

// poolsUnder draws the pools below what has been drawn since a number of shapes.
func (d *drawing) poolsUnder(n int) {
	from := len(d.out)
	d.pools()
	if made := len(d.out) - from; made > 0 && from > n {
		pools := append([]Shape(nil), d.out[from:]...)
		copy(d.out[n+made:], d.out[n:from])
		copy(d.out[n:], pools)
	}
}

// bodyPool draws the water in the body: on the floor of the inlet, and in the
// pockets beside the guide, which lie a little lower.
func (d *drawing) bodyPool() {
	g, u := d.g, d.g.u
	bore := (pipeTop - pipeLow) * u
	high, least := d.poolHigh(&d.st.AboveFluid, bore, bore)
	if high <= 0 {
		return
	}
	left := g.left
	if g.hasGate {
		left = (gateX + gateHalf) * u
	}
	lower := (pipeLow - pocketLow) * u
	d.water("body", high, least, pipeLow*u, left, -pocketOut*u)
	d.water("body", high+lower, least, pocketLow*u, -pocketOut*u, -guideOut*u)
	d.water("body", high+lower, least, pocketLow*u, guideOut*u, pocketOut*u)
}

// pool draws water on a floor between two uprights. A full volume would stand
// full high, and is cut off at room; all in millimetres.
func (d *drawing) pool(part string, c *plant.Contents, full, room, floor, left, right float64) {
	if high, least := d.poolHigh(c, full, room); high > 0 && right > left {
		d.water(part, high, least, floor, left, right)
	}
}

// poolHigh is how high water stands as drawn, mm, zero if none lies; least tells
// that this is more than it does.
func (d *drawing) poolHigh(c *plant.Contents, full, room float64) (high float64, least bool) {
	if !(c.Water >= puddle) {
		return 0, false
	}
	high = math.Min(c.Water/c.Volume*full, room)
	if low := leastPool * d.pl.scale / d.g.k; high < low {
		if d.brief { // there is no place to say so
			return 0, false
		}
		high, least, d.morePool = low, true, true
	}
	return high, least
}

// water draws a pool of a height on a floor, mm.
func (d *drawing) water(part string, high float64, least bool, floor, left, right float64) {
	a, b := d.g.p(left, floor+high), d.g.p(right, floor)
	d.waterIn("water in the "+part, Rect{a.X, a.Y, b.X, b.Y}, least)
}

// waterIn draws a pool in a box of the picture, on white where it is drawn larger
// than it is.
func (d *canvas) waterIn(name string, r Rect, least bool) {
	k := d.pl.scale
	a, b := Point{r.Left, r.Top}, Point{r.Right, r.Bottom}
	if least && !d.written(r) {
		d.fill(name, Still, Paint{Ink: White}, d.stock.box(r, 0))
	}
	wave, step := 1.7*k, 6*k
	level := d.points[:0]
	flush := func() {
		if len(level) > 1 {
			d.twice(name, d.open(level...))
		}
		level = level[:0]
	}
	for i, x := 0, a.X; ; i, x = i+1, x+step {
		x = math.Min(x, b.X)
		if d.written(Rect{x - step, a.Y - 2*wave, x + step, a.Y + 2*wave}) {
			flush()
		} else {
			level = append(level, Point{x, a.Y + wave*float64(1-2*(i&1))})
		}
		if x >= b.X {
			break
		}
	}
	flush()
	d.points = level
	for j, y := 0, a.Y+0.62*leastPool*k; y < b.Y-1; j, y = j+1, y+9*k {
		for x := a.X + (3+float64(j&1)*9)*k; x+8*k < b.X; x += 18 * k {
			if d.written(Rect{x - 2, y - 3, x + 8*k + 2, y + 3}) {
				continue
			}
			d.twice(name, d.open(Point{x, y}, Point{x + 8*k, y}))
		}
	}
}

// written tells whether something is written in a box.
func (d *canvas) written(r Rect) bool {
	for _, t := range d.taken {
		if r.Meets(t) {
			return true
		}
	}
	return false
}

// poolNote says that water is drawn larger than it is: in the list of what is not
// to scale, or below the pilot.
func (d *drawing) poolNote(w words, at Point, width float64) {
	if !d.morePool || width > 0 && d.write(w, at, FromLeft, width, "water drawn larger") {
		return
	}
	g, u := d.g, d.g.u
	left, top := g.p(g.low+wall*u+4*u, 0).X, g.p(0, laneLow*u-5*u).Y
	for _, y := range [...]float64{1.4*d.badgeRadius() + 3.1*d.label(), 1.4*d.badgeRadius() + 1.7*d.label()} {
		if d.write(w, Point{left + 3*d.badgeRadius(), top + y}, FromLeft, g.at.Right-left, "water drawn larger") {
			return
		}
	}
}

// twice draws a line that shows on any colour: dark, with a light core.
func (d *canvas) twice(part string, path Path) {
	d.stroke(part, Still, Pen{Ink: Dark, Width: d.px(3.4)}, path)
	d.stroke(part, Still, Pen{Ink: White, Width: d.px(1.2)}, path)
}
