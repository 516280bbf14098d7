package paint

// blend gives the corners of a mesh their place U between two points, 0 to 1,
// and cuts its triangles where those are reached: beyond, the colour stays.
func blend(m *mesh, from, to point) {
	dx, dy := to.X-from.X, to.Y-from.Y
	l := dx*dx + dy*dy
	for i := range m.corners {
		c := &m.corners[i]
		if l > 0 {
			c.u = float32(((float64(c.x)-from.X)*dx + (float64(c.y)-from.Y)*dy) / l)
		}
	}
	split(m, 0)
	split(m, 1)
	for i := range m.corners {
		m.corners[i].u = min(max(m.corners[i].u, 0), 1)
	}
}

// split cuts triangles in two where U passes a value.
func split(m *mesh, at float32) {
	const same = 1e-4
	where := func(k uint32) int {
		switch u := m.corners[k].u; {
		case u < at-same:
			return -1
		case u > at+same:
			return 1
		}
		return 0
	}
	between := func(a, b uint32) uint32 {
		p, q := m.corners[a], m.corners[b]
		f := (at - p.u) / (q.u - p.u)
		m.corners = append(m.corners, corner{x: p.x + f*(q.x-p.x), y: p.y + f*(q.y-p.y), a: p.a + f*(q.a-p.a), u: at})
		return uint32(len(m.corners) - 1)
	}
	for i, n := 0, len(m.order); i < n; i += 3 {
		a, b, c := m.order[i], m.order[i+1], m.order[i+2]
		// Turn it until the corner that stands alone is a.
		for range 2 {
			if wa := where(a); wa != 0 && where(b) != wa && where(c) != wa {
				break
			}
			a, b, c = b, c, a
		}
		wa, wb, wc := where(a), where(b), where(c)
		if wa == 0 || wb == wa || wc == wa || wb == 0 && wc == 0 {
			continue
		}
		ab, ac := b, c
		if wb != 0 {
			ab = between(a, b)
		}
		if wc != 0 {
			ac = between(a, c)
		}
		m.order[i], m.order[i+1], m.order[i+2] = a, ab, ac
		if wb != 0 {
			m.triangle(ab, b, c)
		}
		if wc != 0 {
			m.triangle(ab, c, ac)
		}
	}
}
