package paint

import (
	"math"

	"underdisc/viz/scene"
)

type point = scene.Point

// corner is a corner of a triangle, in pixels. Of its paint it shows a share A;
// U and V say where in the atlas its colour is, if the paint does not.
type corner struct{ x, y, a, u, v float32 }

// mesh is a shape as triangles.
type mesh struct {
	corners []corner
	order   []uint32 // three of the corners for each triangle
	bounds
}

// bounds are the box round some triangles and, for a line goes far in a box that
// it hardly fills, those round one part of them after the other.
type bounds struct {
	box   scene.Rect
	parts [8]scene.Rect
	n     int
}

func (m *mesh) reset() { m.corners, m.order = m.corners[:0], m.order[:0] }

func (m *mesh) add(x, y, a float64) uint32 {
	m.corners = append(m.corners, corner{x: float32(x), y: float32(y), a: float32(a)})
	return uint32(len(m.corners) - 1)
}

func (m *mesh) triangle(a, b, c uint32) { m.order = append(m.order, a, b, c) }

// quad is two triangles; the corners go round.
func (m *mesh) quad(a, b, c, d uint32) { m.order = append(m.order, a, b, c, a, c, d) }

// bar is an upright rectangle that shows a share of its paint.
func (m *mesh) bar(left, top, right, bottom, a float64) {
	n := m.add(left, top, a)
	m.add(right, top, a)
	m.add(right, bottom, a)
	m.add(left, bottom, a)
	m.quad(n, n+1, n+2, n+3)
}

// bound finds the bounds.
func (m *mesh) bound() {
	none := scene.Rect{Left: math.Inf(1), Top: math.Inf(1), Right: math.Inf(-1), Bottom: math.Inf(-1)}
	m.box, m.n = none, 0
	triangles := len(m.order) / 3
	parts := min(triangles, len(m.parts))
	for k := range parts {
		r := none
		for _, c := range m.order[3*(k*triangles/parts) : 3*((k+1)*triangles/parts)] {
			x, y := float64(m.corners[c].x), float64(m.corners[c].y)
			r.Left, r.Right = min(r.Left, x), max(r.Right, x)
			r.Top, r.Bottom = min(r.Top, y), max(r.Bottom, y)
		}
		m.parts[k] = r
		m.box = scene.Rect{Left: min(m.box.Left, r.Left), Top: min(m.box.Top, r.Top), Right: max(m.box.Right, r.Right), Bottom: max(m.box.Bottom, r.Bottom)}
	}
	m.n = parts
}

func moved(r scene.Rect, by point) scene.Rect {
	return scene.Rect{Left: r.Left + by.X, Top: r.Top + by.Y, Right: r.Right + by.X, Bottom: r.Bottom + by.Y}
}

// meets tells whether the triangles of two slots may overlap.
func (sl *slot) meets(o *slot) bool {
	by := point{X: o.at.X - sl.at.X, Y: o.at.Y - sl.at.Y}
	if !sl.mesh.box.Meets(moved(o.mesh.box, by)) {
		return false
	}
	for j := range o.mesh.n {
		r := moved(o.mesh.parts[j], by)
		for i := range sl.mesh.n {
			if sl.mesh.parts[i].Meets(r) {
				return true
			}
		}
	}
	return false
}

// upright paints an upright rectangle: each pixel by the share that it covers,
// without error.
func (m *mesh) upright(r scene.Rect) {
	var x, y [4]float64
	var ax, ay [3]float64
	nx, ny := steps(r.Left, r.Right, &x, &ax), steps(r.Top, r.Bottom, &y, &ay)
	for j := range ny {
		for i := range nx {
			m.bar(x[i], y[j], x[i+1], y[j+1], ax[i]*ay[j])
		}
	}
}

// steps cuts an interval of pixels into a part that covers them wholly and what
// is left at either end.
func steps(from, to float64, at *[4]float64, share *[3]float64) int {
	const least = 1.0 / 512 // of a pixel: no share of 255 less
	n := 0
	step := func(a, b, s float64) {
		if s > least {
			at[n], at[n+1], share[n] = a, b, s
			n++
		}
	}
	first, last := math.Floor(from+least), math.Ceil(to-least)
	if last-first <= 1 {
		step(first, first+1, to-from)
		return n
	}
	in, out := math.Ceil(from-least), math.Floor(to+least)
	if in > first {
		step(first, in, in-from)
	}
	if out > in {
		step(in, out, 1)
	}
	if last > out {
		step(out, last, to-out)
	}
	return n
}
