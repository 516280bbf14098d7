package paint

import (
	"math"

	"underdisc/viz/outline"
	"underdisc/viz/scene"
)

// tool makes shapes into triangles. It keeps what it needs from one to the next.
type tool struct {
	lines, clipped, dashes, fewer outline.Lines
	along, dash                   []float64
	clip                          scene.Rect
	hatches                       [][2]point
	crossings                     []outline.Crossing
	ring, inner, outer            []point
	left                          []uint32 // corners that no ear has been cut at
	spans                         spans
	stroke                        stroke
}

// areas paints areas by the nonzero rule, each edge smoothed. It tells whether
// the triangles may be moved by parts of a pixel and stay right.
func (t *tool) areas(m *mesh, l *outline.Lines) (moves bool) {
	moves = true
	ways := 0
	for i := range l.Len() {
		switch a := signedArea(l.At(i)); {
		case a > 0:
			ways |= 1
		case a < 0:
			ways |= 2
		}
	}
	if ways == 3 { // one may be a hole in another
		t.spans.paint(m, l, 0, l.Len())
		return false
	}
	for i := range l.Len() {
		if r, ok := uprightBox(l.At(i)); ok {
			m.upright(r)
			moves = false
			continue
		}
		if !t.ringed(m, l.At(i)) {
			t.spans.paint(m, l, i, i+1)
			moves = false
		}
	}
	return moves
}

func signedArea(l []point) (a float64) {
	for i, q := range l {
		p := l[(i+len(l)-1)%len(l)]
		a += p.X*q.Y - q.X*p.Y
	}
	return a / 2
}

// uprightBox tells whether an outline is an upright rectangle.
func uprightBox(l []point) (r scene.Rect, ok bool) {
	if len(l) == 5 && l[0] == l[4] {
		l = l[:4]
	}
	if len(l) != 4 {
		return r, false
	}
	const same = 1e-6
	near := func(a, b float64) bool { return math.Abs(a-b) < same }
	a, b, c, d := l[0], l[1], l[2], l[3]
	if !(near(a.Y, b.Y) && near(b.X, c.X) && near(c.Y, d.Y) && near(d.X, a.X)) && !(near(a.X, b.X) && near(b.Y, c.Y) && near(c.X, d.X) && near(d.Y, a.Y)) {
		return r, false
	}
	return scene.Rect{Left: min(a.X, c.X), Top: min(a.Y, c.Y), Right: max(a.X, c.X), Bottom: max(a.Y, c.Y)}, true
}

// ringed paints a simple outline as its inside, half a pixel in, and a ring one
// pixel wide in which it fades. It paints nothing and says so where the outline
// is too narrow for that, or meets itself.
func (t *tool) ringed(m *mesh, l []point) bool {
	t.ring = tidy(t.ring[:0], l)
	ring := t.ring
	n := len(ring)
	if n < 3 {
		return n == 0 || math.Abs(signedArea(l)) < 1e-6
	}
	if signedArea(ring) < 0 {
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	t.inner, t.outer = t.inner[:0], t.outer[:0]
	bend, turned := 0, 0.0
	for i, q := range ring {
		p, s := ring[(i+n-1)%n], ring[(i+1)%n]
		a, b := normal(p, q), normal(q, s)
		dot, turn := a.X*b.X+a.Y*b.Y, a.X*b.Y-a.Y*b.X
		if turn < 0 {
			bend++
		}
		turned += math.Atan2(turn, dot)
		m := pointed(a, b, dot)
		t.inner = append(t.inner, point{X: q.X - m.X, Y: q.Y - m.Y})
		t.outer = append(t.outer, point{X: q.X + m.X, Y: q.Y + m.Y})
	}
	if math.Abs(turned-2*math.Pi) > 0.1 { // it winds more than once
		return false
	}
	for i, p := range t.inner { // half a pixel in, no edge may have turned round
		q := t.inner[(i+1)%n]
		a, b := ring[i], ring[(i+1)%n]
		if (q.X-p.X)*(b.X-a.X)+(q.Y-p.Y)*(b.Y-a.Y) < 0 {
			return false
		}
	}
	if bend > 0 && meets(t.inner) {
		return false
	}
	cornersWere, orderWas := len(m.corners), len(m.order)
	first := uint32(cornersWere)
	for i := range n {
		m.add(t.inner[i].X, t.inner[i].Y, 1)
	}
	if bend == 0 {
		for i := 2; i < n; i++ {
			m.triangle(first, first+uint32(i-1), first+uint32(i))
		}
	} else if !t.ears(m, first) {
		m.corners, m.order = m.corners[:cornersWere], m.order[:orderWas]
		return false
	}
	for i := range n {
		m.add(t.outer[i].X, t.outer[i].Y, 0)
	}
	for i := range uint32(n) {
		j := (i + 1) % uint32(n)
		m.quad(first+i, first+j, first+uint32(n)+j, first+uint32(n)+i)
	}
	return true
}

// pointed is the way from a corner to where the edges meet that lie outside of
// its two by their softness. Sharp corners are cut short.
func pointed(a, b point, dot float64) point {
	f, g := softness(a), softness(b)
	if dot > 0.95 {
		k := (f + g) / 2 / (1 + dot)
		return point{X: k * (a.X + b.X), Y: k * (a.Y + b.Y)}
	}
	const least = 0.35 // longest is two pixels or so
	k := 1 / max(1-dot*dot, least*least)
	x, y := (f-g*dot)*k, (g-f*dot)*k
	return point{X: x*a.X + y*b.X, Y: x*a.Y + y*b.Y}
}

// tidy appends an outline without points that add nothing to it.
func tidy(to, l []point) []point {
	const same, flat = 1e-3, 1e-4 // px
	from := len(to)
	for _, p := range l {
		if n := len(to); n > from && math.Abs(to[n-1].X-p.X) < same && math.Abs(to[n-1].Y-p.Y) < same {
			continue
		}
		for n := len(to); n > from+1 && between(to[n-2], to[n-1], p, flat); n = len(to) {
			to = to[:n-1]
		}
		to = append(to, p)
	}
	for n := len(to); n > from+1 && math.Abs(to[n-1].X-to[from].X) < same && math.Abs(to[n-1].Y-to[from].Y) < same; n = len(to) {
		to = to[:n-1]
	}
	for n := len(to); n > from+2 && between(to[n-2], to[n-1], to[from], flat); n = len(to) {
		to = to[:n-1]
	}
	if n := len(to); n > from+2 && between(to[n-1], to[from], to[from+1], flat) {
		to = append(to[:from], to[from+1:]...)
	}
	return to
}

// between tells whether b lies on the way from a to c.
func between(a, b, c point, tolerance float64) bool {
	dx, dy := c.X-a.X, c.Y-a.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return false
	}
	along := (b.X-a.X)*dx + (b.Y-a.Y)*dy
	return along >= 0 && along <= l*l && math.Abs((b.X-a.X)*dy-(b.Y-a.Y)*dx) < tolerance*l
}

// normal points out of an outline whose signed area is positive.
func normal(p, q point) point {
	dx, dy := q.X-p.X, q.Y-p.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return point{}
	}
	return point{X: dy / l, Y: -dx / l}
}
