package paper

import (
	"math"
	"strconv"
)

// Path draws a line through points in a chart's own measures, which may turn back,
// cut to the chart's box.
func (n *Panel) Path(p *Page, pen Pen, pts ...Point) {
	line := make([]Point, len(pts))
	for i, q := range pts {
		line[i] = Point{n.X(q.X), n.Y(q.Y)}
	}
	room := Rect{n.Box.Left - pen.Width/2, n.Box.Top - pen.Width/2, n.Box.Right + pen.Width/2, n.Box.Bottom + pen.Width/2}
	for _, piece := range clip(line, room) {
		p.Line(pen, piece...)
	}
}

// Shows tells whether a point in the chart's own measures lies in its box.
func (n *Panel) Shows(q Point) bool {
	return q.X >= n.Time.From && q.X <= n.Time.To && q.Y >= n.Value.From && q.Y <= n.Value.To
}

// Arrow draws a line from a to b in the chart's own measures, with a head in its
// middle.
func (n *Panel) Arrow(p *Page, pen Pen, a, b Point) {
	n.Path(p, pen, a, b)
	from, to := Point{n.X(a.X), n.Y(a.Y)}, Point{n.X(b.X), n.Y(b.Y)}
	piece := clip([]Point{from, to}, n.Box)
	if len(piece) == 0 {
		return
	}
	from, to = piece[0][0], piece[0][1]
	long := math.Hypot(to.X-from.X, to.Y-from.Y)
	const head = 11.0
	if long < 3*head {
		return
	}
	u, v := (to.X-from.X)/long, (to.Y-from.Y)/long
	x, y := (from.X+to.X)/2+u*head, (from.Y+to.Y)/2+v*head
	p.Fill(pen.Color, Point{x, y}, Point{x - 2*head*u - head*v, y - 2*head*v + head*u}, Point{x - 2*head*u + head*v, y - 2*head*v - head*u})
}

// Decades are the ticks of an axis whose values are decimal logarithms.
func Decades(from, to float64) Axis {
	a := Axis{From: from, To: to}
	for k := math.Ceil(from - 1e-9); k <= to+1e-9; k++ {
		a.Ticks = append(a.Ticks, Tick{k, strconv.FormatFloat(math.Pow(10, k), 'f', max(0, -int(k)), 64)})
	}
	return a
}
