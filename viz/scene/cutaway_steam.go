package scene

import (
	"strings"

	"underdisc/model/plant"
	wording "underdisc/viz/words"
)

// holds are the wordings of what a volume holds, with its temperature where that
// says something, longest first.
func (d *drawing) holds(c *plant.Contents) []string {
	says := wording.Mixture(c)
	if !wording.Warm(c) { // shares of the mass mean little to the eye where air is
		names := says[len(says)-1]
		if dry, ok := strings.CutSuffix(names, "water"); ok && c.Water >= wording.Drop*c.Volume {
			return []string{d.say(dry, wording.Water(c.Water), " water"), names}
		}
		return []string{names}
	}
	t := d.temperature(d.v.Units, c.Temperature)
	out := make([]string, 0, 2*len(says))
	for _, s := range says {
		out = append(out, d.say(s, ", ", t))
		if len(says) == 1 {
			out[0] = d.say(s, " ", t)
		}
	}
	return append(out, says...)
}

// fluidText writes what a volume of a steam plant holds, the base of its letters
// at a place, if it stays above low.
func (d *drawing) fluidText(part string, at Point, width, low, p float64, c *plant.Contents) {
	if !d.v.wet() {
		return
	}
	w := words{part: part, size: d.small(), ink: Dark, on: &p}
	if at.Y+dropShare*w.size > low {
		return
	}
	d.write(w, at, Centred, width, d.holds(c)...)
}

// chamberFluid writes below the chamber's number what it holds: share, then
// temperature and how much water.
func (d *drawing) chamberFluid(at Point, width float64) {
	if d.steamLines() == 0 {
		return
	}
	c, p := &d.st.BelowFluid, d.st.Below
	w := words{part: "chamber", size: d.small(), on: &p}
	pitch := 1.3 * w.size
	d.write(w, at, Centred, width, wording.Mixture(c)...)
	at.Y += pitch
	t := d.temperature(d.v.Units, c.Temperature)
	if c.Water/c.Volume < wording.Drop {
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
