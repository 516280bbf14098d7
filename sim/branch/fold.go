package branch

import "math"

// refined is the stretch of curve, as a share of its step, to which a fold is
// closed in. The parameter's error goes with its square.
const refined = 1e-9

// fold adds the fold that lies within the step h from a point.
func (c *Curve) fold(from *Point, h float64) {
	last := len(from.U) - 1
	start := *from // the list of points may move
	u, t, ok := c.zero(&start, h, func(_, t []float64) float64 { return t[last] })
	if !ok || !c.w.slopes(u) || !c.w.direction(t) {
		return
	}
	c.add(u)
	c.Points[len(c.Points)-1].Fold = true
}

// zero finds where a function of the point and its tangent goes through zero
// within the step h from a point. False position, of which the end that stays is
// lowered by half (the Illinois method; from memory).
func (c *Curve) zero(from *Point, h float64, g func(u, t []float64) float64) (u, t []float64, ok bool) {
	lo, glo := 0.0, g(from.U, from.Tangent)
	u, ok = c.step(from, h)
	if !ok {
		return nil, nil, false
	}
	hi, ghi := h, g(u, c.w.tangent)
	if glo*ghi > 0 {
		return nil, nil, false
	}
	t = append([]float64(nil), c.w.tangent...)
	side := 0
	for i := range 80 {
		if math.Abs(hi-lo) < refined*math.Abs(h) || ghi == 0 {
			break
		}
		x := hi - ghi*(hi-lo)/(ghi-glo)
		if i > 12 || !(x > math.Min(lo, hi) && x < math.Max(lo, hi)) {
			x = (lo + hi) / 2 // it may be a corner
		}
		v, ok := c.step(from, x)
		if !ok {
			return nil, nil, false
		}
		gx := g(v, c.w.tangent)
		u, t = v, append(t[:0], c.w.tangent...)
		switch {
		case gx == 0:
			return u, t, true
		case gx*ghi < 0:
			lo, glo, hi, ghi, side = hi, ghi, x, gx, 0
		default:
			hi, ghi = x, gx
			if side++; side > 1 {
				glo /= 2
			}
		}
	}
	return u, t, true
}

// Between is the point between points i and i+1 where a function of the unknowns
// goes through zero; false where it does not.
func (c *Curve) Between(i int, g func(u []float64) float64) (Point, bool) {
	a, b := &c.Points[i], &c.Points[i+1]
	h := 0.0
	for k := range a.U {
		h += (b.U[k] - a.U[k]) * a.Tangent[k]
	}
	from := *a
	u, t, ok := c.zero(&from, h, func(u, _ []float64) float64 { return g(u) })
	if !ok || !c.w.slopes(u) || !c.w.direction(t) {
		return Point{}, false
	}
	return Point{U: append([]float64(nil), u...), Tangent: append([]float64(nil), c.w.tangent...), Own: c.w.own()}, true
}

// Folds are the points where the parameter turns back.
func (c *Curve) Folds() (out []Point) {
	for _, p := range c.Points {
		if p.Fold {
			out = append(out, p)
		}
	}
	return out
}
