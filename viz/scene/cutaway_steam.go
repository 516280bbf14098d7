package scene

import (
	"strings"

	"underdisc/model/plant"
	wording "underdisc/viz/words"
)

// puddle is the least water, m3, that lies: less is a mist, or a film on the walls.
const puddle = 2e-6

// Lies tells whether so much water is in a volume that it lies there.
func Lies(c *plant.Contents) bool { return c.Water >= puddle }

// contents names what a volume holds: steam, wet steam, water. With a puddle, that
// is said beside it, and the rest is steam.
func contents(c *plant.Contents) string {
	says := wording.Mixture(c)
	names := says[len(says)-1]
	switch {
	case len(says) == 1 || names == "steam" || names == "water":
		return names
	case c.Air > 0 && strings.HasPrefix(names, "air"):
		return names
	case c.Water >= puddle:
		return "steam"
	}
	return "wet steam"
}

// holds are the wordings of what a volume holds, with its temperature where that
// says something, longest first. Water that lies is told by its volume: its share
// of the mass means little to the eye.
func (d *canvas) holds(c *plant.Contents) []string {
	name := contents(c)
	if dry, ok := strings.CutSuffix(name, "water"); ok && dry != "" && c.Water >= wording.Drop*c.Volume {
		name = d.say(dry, wording.Water(c.Water), " water")
	}
	if !wording.Warm(c) { // with air in it, one temperature says little
		return []string{name, contents(c)}
	}
	t := d.temperature(d.v.Units, c.Temperature)
	if c.Water < puddle || name == "water" {
		return []string{d.say(name, " ", t), name}
	}
	lies := d.say(wording.Water(c.Water), " water")
	if !strings.HasSuffix(name, lies) {
		name = d.say(name, ", ", lies)
	}
	return []string{d.say(name, ", ", t), name, lies}
}

// fluidText writes what a volume of a steam plant holds, the base of its letters
// at a place, if it stays above low.
func (d *canvas) fluidText(part string, at Point, width, low, p float64, c *plant.Contents) {
	if !d.v.wet() {
		return
	}
	w := words{part: part, size: d.small(), ink: Dark, on: &p}
	if at.Y+dropShare*w.size > low {
		return
	}
	d.write(w, at, Centred, width, d.holds(c)...)
}

// chamberFluid writes below the chamber's number what it holds, then its
// temperature and how much water lies in it.
func (d *drawing) chamberFluid(at Point, width float64) {
	if d.steamLines() == 0 {
		return
	}
	c, p := &d.st.BelowFluid, d.st.Below
	w := words{part: "chamber", size: d.small(), on: &p}
	pitch := 1.3 * w.size
	d.write(w, at, Centred, width, contents(c))
	at.Y += pitch
	t := d.temperature(d.v.Units, c.Temperature)
	if c.Water < puddle {
		d.write(w, at, Centred, width, t)
		return
	}
	d.write(w, at, Centred, width, d.say(t, ", ", wording.Water(c.Water), " water"), d.say(wording.Water(c.Water), " water"), t)
}

// steamLines is how many lines chamberFluid takes.
func (d *drawing) steamLines() float64 {
	if d.v.wet() && !d.brief {
		return 2
	}
	return 0
}
