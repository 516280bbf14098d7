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

	header, chain, boiler, cutaway, margin, forces, charts, ribbon Rect // an empty one is left out

	foot        Rect // the projector's strip of time, if there are controls
	time, views Rect // left free for buttons; empty without controls
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
// time ribbon, and what is left takes their room. Controls get the left end of
// the ribbon, or a strip at the foot of the projector's picture, and the right
// end of the header.
//
// A plant with a boiler has a strip for it: beside the chain, or above the
// projector's charts, which give way.
func planOf(v *View) *plan {
	size, projector, controls := v.Size, v.Projector, v.Controls
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
		if v.Boils() {
			p.boiler = in(0.615, 0.990, 0.322, 0.480)
			p.charts.Top = 0.490 * size.Y
		}
		if controls {
			p.foot = in(0.010, 0.990, 0.9245, 0.9940)
			p.cutaway.Bottom, p.charts.Bottom = 0.9165*size.Y, 0.9165*size.Y
			p.time = p.foot
			p.time.Right = 0.80 * size.X
			p.views = p.viewsRoom()
		}
		return p
	}
	p.header = in(0, 1, 0, 0.084)
	p.chain = in(0.010, 0.533, 0.093, 0.211)
	p.cutaway = in(0.010, 0.533, 0.220, 0.849)
	p.forces = in(0.5375, 0.6875, 0.093, 0.849)
	p.charts = in(0.6925, 0.990, 0.093, 0.849)
	if v.Boils() {
		p.boiler = in(0.5375, 0.990, 0.093, 0.211)
		p.forces.Top, p.charts.Top = p.cutaway.Top, p.cutaway.Top
	}
	p.margin = p.forces
	p.margin.Bottom = p.forces.Top + 0.185*size.Y
	p.ribbon = in(0.010, 0.990, 0.858, 0.987)
	if controls {
		p.time = p.ribbon
		p.time.Right = p.ribbon.Left + p.ribbon.Width()/4
		p.views = p.viewsRoom()
	}
	return p
}

// viewsRoom is the header's room for buttons.
func (p *plan) viewsRoom() Rect {
	right, mid := p.size.X-0.010*p.size.X, (p.header.Top+p.header.Bottom)/2
	w, h := 330*math.Max(p.scale, leastText/sizeSmall), math.Min(p.px(50), 0.86*p.header.Height())
	return Rect{right - w, mid - h/2, right, mid + h/2}
}

// text is the size of a text that is base at the reference size.
func (p *plan) text(base float64) float64 {
	k := p.scale
	if p.wide {
		k *= 1.2
	}
	return math.Max(base*k, p.floor)
}

// little tells that the picture is too small for everything.
func (p *plan) little() bool { return p.floor > 1.001*sizeSmall*p.scale }

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
// wider than the width; nil if it does not fit. Its words are measured once each,
// and stand one space apart.
func (v *View) balance(text string, size float64, bold bool, width float64, lines int) []string {
	var room [48]word
	words := room[:0]
	for from := 0; from < len(text); {
		to := len(text)
		if i := strings.IndexByte(text[from:], ' '); i >= 0 {
			to = from + i
		}
		if to > from {
			words = append(words, word{from, to, v.Measure(size, bold, text[from:to])})
		}
		from = to + 1
	}
	space := v.Measure(size, bold, "n n") - v.Measure(size, bold, "nn")
	best, n := fillLines(words, space, width)
	if n == 0 || n > lines {
		return nil
	}
	for w := width - size; w > width/3; w -= size {
		next, m := fillLines(words, space, w)
		if m == 0 || m > n {
			break
		}
		best, n = next, m
	}
	out := make([]string, n)
	for i := range out {
		first := 0
		if i > 0 {
			first = best[i-1]
		}
		out[i] = text[words[first].from:words[best[i]-1].to]
	}
	return out
}

// word is where a word of a text begins and ends, and its width.
type word struct {
	from, to int
	width    float64
}

// mostLines is how many lines fillLines makes.
const mostLines = 4

// fillLines puts words into as few lines of at most a width as go, and returns how
// many words there are up to the end of each, and the number of lines: 0 if a
// word is too wide or there are too many lines.
func fillLines(words []word, space, most float64) (ends [mostLines]int, n int) {
	line := 0.0
	for i, w := range words {
		switch {
		case w.width > most || n == mostLines:
			return ends, 0
		case i == 0:
			line = w.width
		case line+space+w.width > most:
			ends[n] = i
			n++
			line = w.width
		default:
			line += space + w.width
		}
	}
	if len(words) == 0 || n == mostLines {
		return ends, 0
	}
	ends[n] = len(words)
	return ends, n + 1
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
	var room [16]group
	groups := room[:0]
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
