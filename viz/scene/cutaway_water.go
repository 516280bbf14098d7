package scene

import (
	"math"

	"underdisc/model/plant"
	wording "underdisc/viz/words"
)

// leastPool is the least height of a pool at the reference size.
const leastPool = 8.0

// pools draws the water in chamber, dump line and tailpipe, on their floors, by
// its share of the volume; a little of it larger than it is. It has a level with
// waves, and dashes below it, so that no colour is needed to tell it.
func (d *drawing) pools() {
	if !d.v.wet() {
		return
	}
	g, u, st := d.g, d.g.u, d.st
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

// pool draws water on a floor between two uprights. A full volume would stand
// full high, and is cut off at room; all in millimetres.
func (d *drawing) pool(part string, c *plant.Contents, full, room, floor, left, right float64) {
	share := c.Water / c.Volume
	if !(share >= wording.Drop) || right <= left {
		return
	}
	g := d.g
	high, least := math.Min(share*full, room), leastPool*d.pl.scale/g.k
	if high < least {
		if d.brief { // there is no place to say so
			return
		}
		high, d.morePool = least, true
	}
	name := "water in the " + part
	if high == least {
		d.fill(name, Still, Paint{Ink: White}, g.box(left, right, floor, floor+high))
	}
	wave, step := 1.7*d.pl.scale, 6*d.pl.scale
	a, b := g.p(left, floor+high), g.p(right, floor)
	level := d.points[:0]
	for i, x := 0, a.X; ; i, x = i+1, x+step {
		x = math.Min(x, b.X)
		level = append(level, Point{x, a.Y + wave*float64(1-2*(i&1))})
		if x >= b.X {
			break
		}
	}
	d.points = level
	d.twice(name, d.open(level...))
	for j, y := 0, a.Y+0.62*leastPool*d.pl.scale; y < b.Y-1; j, y = j+1, y+9*d.pl.scale {
		for x := a.X + (3+float64(j&1)*9)*d.pl.scale; x+8*d.pl.scale < b.X; x += 18 * d.pl.scale {
			if part == "chamber" && (Rect{x, y - 3, x + 8*d.pl.scale, y + 3}).Meets(d.chamberWords()) {
				continue
			}
			d.twice(name, d.open(Point{x, y}, Point{x + 8*d.pl.scale, y}))
		}
	}
}

// poolNote says that water is drawn larger than it is: in the list of what is not
// to scale, or below the pilot.
func (d *drawing) poolNote(w words, at Point, width float64) {
	if !d.morePool || width > 0 && d.write(w, at, FromLeft, width, "water drawn larger; % by mass", "water drawn larger") {
		return
	}
	g, u := d.g, d.g.u
	left, top := g.p(g.low+wall*u+4*u, 0).X, g.p(0, laneLow*u-5*u).Y
	for _, y := range [...]float64{1.4*d.badgeRadius() + 3.1*d.label(), 1.4*d.badgeRadius() + 1.7*d.label()} {
		if d.write(w, Point{left + 3*d.badgeRadius(), top + y}, FromLeft, g.at.Right-left, "water drawn larger; % by mass", "water drawn larger") {
			return
		}
	}
}

// twice draws a line that shows on any colour: dark, with a light core.
func (d *drawing) twice(part string, path Path) {
	d.stroke(part, Still, Pen{Ink: Dark, Width: d.px(3.4)}, path)
	d.stroke(part, Still, Pen{Ink: White, Width: d.px(1.2)}, path)
}
