package paint

import "math"

// meets tells whether an outline crosses or touches itself.
func meets(l []point) bool {
	n := len(l)
	for i := range n {
		a, b := l[i], l[(i+1)%n]
		left, right := min(a.X, b.X), max(a.X, b.X)
		top, bottom := min(a.Y, b.Y), max(a.Y, b.Y)
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours
			}
			c, d := l[j], l[(j+1)%n]
			if max(c.X, d.X) < left || min(c.X, d.X) > right || max(c.Y, d.Y) < top || min(c.Y, d.Y) > bottom {
				continue
			}
			if side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0 {
				return true
			}
		}
	}
	return false
}

// side is positive where p lies left of the way from a to b as y points up.
func side(a, b, p point) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }

// ears cuts a simple outline, whose corners are those of the mesh from first
// on, into triangles, one corner after the other. It tells whether it could.
func (t *tool) ears(m *mesh, first uint32) bool {
	at := func(k uint32) point { return point{X: float64(m.corners[k].x), Y: float64(m.corners[k].y)} }
	t.left = t.left[:0]
	for k := int(first); k < len(m.corners); k++ {
		t.left = append(t.left, uint32(k))
	}
	left := t.left
	for tries, i := 0, 0; len(left) > 3; {
		n := len(left)
		if tries > n {
			return false
		}
		i %= n
		p, q, s := left[(i+n-1)%n], left[i], left[(i+1)%n]
		a, b, c := at(p), at(q), at(s)
		turn := side(a, b, c)
		if math.Abs(turn) < 1e-9 { // flat: nothing to fill
			left = append(left[:i], left[i+1:]...)
			tries = 0
			continue
		}
		ear := turn > 0
		for k := 0; ear && k < n; k++ {
			if o := left[k]; o != p && o != q && o != s {
				e := at(o)
				ear = side(a, b, e) < 0 || side(b, c, e) < 0 || side(c, a, e) < 0
			}
		}
		if !ear {
			i++
			tries++
			continue
		}
		m.triangle(p, q, s)
		left = append(left[:i], left[i+1:]...)
		tries = 0
		i++ // not always at the same corner: rounder triangles
	}
	if len(left) == 3 {
		m.triangle(left[0], left[1], left[2])
	}
	return true
}
