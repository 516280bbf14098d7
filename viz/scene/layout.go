package scene

import (
	"math"
	"strings"
)

// plan is where everything stands in a picture of one size.
type plan struct {
	size  Point
	scale float64 // of the reference size, 1600 x 900
	floor float64 // smallest text
	wide  bool    // projector: fewer and larger things

	header, chain, cutaway, margin, forces, charts, ribbon Rect // an empty one is left out
}

// Sizes of text at the reference size.
const (
	sizeMargin   = 50.0
	sizeState    = 30.0
	sizeSentence = 26.0
	sizeHeading  = 20.0
	sizeLabel    = 17.5
	sizeSmall    = 15.6
)

const (
	leastText      = 12.0     // px, in any window
	projectorShare = 1.0 / 40 // of the height, in projector mode
)

// planOf lays a picture out.
//
// The projector's picture leaves out the force bars, two of the charts and the
// time ribbon, and what is left takes their room.
func planOf(size Point, projector bool) *plan {
	p := &plan{size: size, scale: math.Min(size.X/1600, size.Y/900), wide: projector}
	p.floor = math.Max(leastText, sizeSmall*p.scale)
	in := func(left, right, top, bottom float64) Rect {
		return Rect{left * size.X, top * size.Y, right * size.X, bottom * size.Y}
	}
	if projector {
		p.floor = math.Max(leastText, projectorShare*size.Y)
		p.header = in(0, 1, 0, 0.120)
		p.chain = in(0.010, 0.610, 0.130, 0.312)
		p.cutaway = in(0.010, 0.610, 0.322, 0.985)
		p.margin = in(0.615, 0.990, 0.130, 0.312)
		p.charts = in(0.615, 0.990, 0.322, 0.985)
		return p
	}
	p.header = in(0, 1, 0, 0.084)
	p.chain = in(0.010, 0.533, 0.093, 0.211)
	p.cutaway = in(0.010, 0.533, 0.220, 0.849)
	p.forces = in(0.5375, 0.6875, 0.093, 0.849)
	p.margin = p.forces
	p.margin.Bottom = p.forces.Top + 0.185*size.Y
	p.charts = in(0.6925, 0.990, 0.093, 0.849)
	p.ribbon = in(0.010, 0.990, 0.858, 0.987)
	return p
}

// text is the size of a text that is base at the reference size.
func (p *plan) text(base float64) float64 {
	k := p.scale
	if p.wide {
		k *= 1.2
	}
	return math.Max(base*k, p.floor)
}

// px is a length that is x at the reference size. What holds text grows with
// the smallest text.
func (p *plan) px(x float64) float64 { return x * math.Max(p.scale, p.floor/sizeSmall) }

// capShare is the height of a capital or a figure, and dropShare the depth of a
// letter below the line, over the size of a text.
const (
	capShare  = 0.72
	dropShare = 0.21
)

// TextBox is the room that a text takes.
func (v *View) TextBox(t *Text) Rect {
	w := v.Measure(t.Size, t.Bold, t.Words)
	x := t.At.X
	switch t.Anchor {
	case Centred:
		x -= w / 2
	case FromRight:
		x -= w
	}
	return Rect{x, t.At.Y - capShare*t.Size, x + w, t.At.Y + dropShare*t.Size}
}

// balance breaks a text into at most so many lines of about one length, none
// wider than the width; nil if it does not fit.
func (v *View) balance(text string, size float64, bold bool, width float64, lines int) []string {
	wrap := func(most float64) []string {
		var out []string
		line := ""
		for _, w := range strings.Fields(text) {
			next := strings.TrimSpace(line + " " + w)
			if line != "" && v.Measure(size, bold, next) > most {
				out = append(out, line)
				next = w
			}
			line = next
		}
		return append(out, line)
	}
	fits := func(got []string) bool {
		for _, l := range got {
			if v.Measure(size, bold, l) > width {
				return false
			}
		}
		return len(got) <= lines
	}
	best := wrap(width)
	if !fits(best) {
		return nil
	}
	for w := width - size; w > width/3; w -= size {
		next := wrap(w)
		if len(next) > len(best) || !fits(next) {
			break
		}
		best = next
	}
	return best
}

// spread moves places apart so that neighbours are at least gap from each other
// and all lie in low..high, as near as can be to where they are wanted. wanted
// must not fall. Where there is no room they share what there is.
func spread(wanted []float64, gap, low, high float64) []float64 {
	n := len(wanted)
	if n == 0 {
		return nil
	}
	if n > 1 {
		gap = math.Min(gap, (high-low)/float64(n-1))
	}
	type group struct {
		sum   float64
		count int
	}
	start := func(g group) float64 {
		at := g.sum / float64(g.count)
		return math.Max(low, math.Min(at, high-gap*float64(g.count-1)))
	}
	var groups []group
	for _, w := range wanted {
		g := group{w, 1}
		for len(groups) > 0 {
			p := groups[len(groups)-1]
			if start(p)+gap*float64(p.count) <= start(g) {
				break
			}
			g = group{p.sum + g.sum - gap*float64(p.count*g.count), p.count + g.count}
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	out := make([]float64, 0, n)
	for _, g := range groups {
		for k := range g.count {
			out = append(out, start(g)+gap*float64(k))
		}
	}
	return out
}

// ticks are round values in from..to, about n of them, and the places that they
// are written with.
func ticks(from, to float64, n int) (at []float64, decimals int) {
	if !(to > from) {
		return nil, 0
	}
	width := (to - from) / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(width)))
	step := 10 * power
	for _, m := range []float64{1, 2, 5} {
		if m*power >= 0.99*width {
			step = m * power
			break
		}
	}
	for k := math.Ceil(from/step - 1e-9); k*step <= to+1e-9*step; k++ {
		at = append(at, k*step)
	}
	return at, max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}
