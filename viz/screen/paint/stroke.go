package paint

import "math"

// stroke is a line as wide as it is asked to be, in the making: a body that
// shows all of the paint, and a ring in which it fades. A line thinner than the
// ring shows less of it, so that as much ink is seen.
type stroke struct {
	m        *mesh
	half     float64 // of the width
	tangents []point // of each piece
}

// softness is half the width, px, over which an edge fades whose normal or
// tangent is a unit vector. Were it another share of the larger of the two
// steps, pixels on a slope would not add up to the width of a line.
func softness(d point) float64 { return max(math.Abs(d.X), math.Abs(d.Y)) / 2 }

// across is how a line fades to either side: from in to out from its middle, of
// which it shows a share.
type across struct{ in, out, share float64 }

func (s *stroke) across(soft float64) across {
	return across{math.Abs(s.half - soft), s.half + soft, min(1, s.half/soft)}
}

// line paints a line with round joins and square ends; a closed one, whose last
// point is its first, has no ends.
func (t *tool) line(m *mesh, l []point, width float64) {
	t.ring = apart(t.ring[:0], l)
	l = t.ring
	n := len(l)
	if n < 2 || !(width > 0) {
		return
	}
	closed := n > 3 && l[0] == l[n-1]
	s := &t.stroke
	s.m, s.half = m, width/2
	s.tangents = s.tangents[:0]
	for i := 1; i < n; i++ {
		d := distance(l[i-1], l[i])
		s.tangents = append(s.tangents, point{X: (l[i].X - l[i-1].X) / d, Y: (l[i].Y - l[i-1].Y) / d})
	}
	last := n - 2 // piece
	var edge uint32
	if closed {
		edge = s.begin(l, last)
	} else {
		edge = s.end(l[0], l[1], s.tangents[0], -1)
	}
	for i := range last + 1 {
		switch {
		case i < last:
			edge = s.meet(edge, l, i, i+1)
		case closed:
			s.meet(edge, l, i, 0)
		default:
			s.bridge(edge, s.end(l[i+1], l[i], s.tangents[i], 1))
		}
	}
}

// apart appends a line without points that stand on the one before.
func apart(to, l []point) []point {
	const same = 1e-3 // px
	for i, p := range l {
		if n := len(to); n > 0 && math.Hypot(to[n-1].X-p.X, to[n-1].Y-p.Y) < same {
			if i == len(l)-1 && n > 1 { // the end stays
				to[n-1] = p
			}
			continue
		}
		to = append(to, p)
	}
	return to
}

// edge adds the four corners across the line at a point: o is the way to the
// line's left at unit distance.
func (s *stroke) edge(p, o point, a across) uint32 {
	k := s.m.add(p.X-o.X*a.out, p.Y-o.Y*a.out, 0)
	s.m.add(p.X-o.X*a.in, p.Y-o.Y*a.in, a.share)
	s.m.add(p.X+o.X*a.in, p.Y+o.Y*a.in, a.share)
	s.m.add(p.X+o.X*a.out, p.Y+o.Y*a.out, 0)
	return k
}

// bridge paints the line between two edges.
func (s *stroke) bridge(a, b uint32) {
	for k := range uint32(3) {
		s.m.quad(a+k, a+k+1, b+k+1, b+k)
	}
}

// square is the edge of a piece alone.
func (s *stroke) square(p, d point) uint32 { return s.edge(p, left(d), s.across(softness(d))) }

// meet paints a piece up to where it meets the next, and returns the edge that
// the next starts from.
func (s *stroke) meet(edge uint32, l []point, i, j int) uint32 {
	a, b := s.tangents[i], s.tangents[j]
	if o, with, ok := s.mitre(l, i, j); ok {
		end := s.edge(l[i+1], o, with)
		s.bridge(edge, end)
		return end
	}
	s.bridge(edge, s.square(l[i+1], a))
	// The join: a wedge on the outer side.
	turn := math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
	from := left(a)
	if turn > 0 {
		from = point{X: -from.X, Y: -from.Y}
	}
	s.wedge(l[i+1], from, turn)
	return s.square(l[i+1], b)
}

// begin is the edge at the start of a closed line.
func (s *stroke) begin(l []point, last int) uint32 {
	if o, with, ok := s.mitre(l, last, 0); ok {
		return s.edge(l[0], o, with)
	}
	return s.square(l[0], s.tangents[0])
}

// mitre is the edge that two pieces share where they meet at a small angle. A
// pointed join must not stick out of the round one by more than can be seen,
// nor reach back past the pieces' other ends.
func (s *stroke) mitre(l []point, i, j int) (o point, with across, ok bool) {
	const seen = 0.1 // px
	a, b := s.tangents[i], s.tangents[j]
	dot := a.X*b.X + a.Y*b.Y
	if dot < 0.2 {
		return o, with, false
	}
	cos := math.Sqrt((1 + dot) / 2) // of half the angle
	if s.half*(1/cos-1) > seen {
		return o, with, false
	}
	with = s.across((softness(a) + softness(b)) / 2)
	back := with.out * math.Sqrt(max(0, 1-cos*cos)) / cos
	if back > distance(l[i], l[i+1]) || back > distance(l[j], l[j+1]) {
		return o, with, false
	}
	n, k := left(a), left(b)
	return point{X: (n.X + k.X) / (1 + dot), Y: (n.Y + k.Y) / (1 + dot)}, with, true
}

func left(d point) point { return point{X: -d.Y, Y: d.X} }

func distance(p, q point) float64 { return math.Hypot(q.X-p.X, q.Y-p.Y) }

// wedge paints the sector of a disc from a direction through a turn. Its chords
// lie as far outside of the arc as inside.
func (s *stroke) wedge(at, from point, turn float64) {
	const seen = 0.15 // px
	step := math.Pi / 2
	if s.half > seen {
		step = min(step, 2*math.Acos(1-seen/s.half))
	}
	n := max(1, int(math.Ceil(math.Abs(turn)/step-1e-9)))
	part := turn / float64(n)
	// So many chords hold sin(part)/part of the sector's area.
	grow := 1.0
	if part != 0 {
		grow = math.Sqrt(part / math.Sin(part))
	}
	middle := s.m.add(at.X, at.Y, s.across(softness(from)).share)
	var inner, outer uint32
	for i := range n + 1 {
		sin, cos := math.Sincos(part * float64(i))
		d := point{X: from.X*cos - from.Y*sin, Y: from.X*sin + from.Y*cos}
		more := s.half * (grow - 1)
		if i == 0 || i == n {
			more = 0
		}
		w := s.across(softness(d))
		in := s.m.add(at.X+d.X*(w.in+more), at.Y+d.Y*(w.in+more), w.share)
		out := s.m.add(at.X+d.X*(w.out+more), at.Y+d.Y*(w.out+more), 0)
		if i > 0 {
			s.m.triangle(middle, inner, in)
			s.m.quad(inner, outer, out, in)
		}
		inner, outer = in, out
	}
}

// end ends a line at a point, going on by way (1 the way of the line, -1
// against it), and returns the edge from which it fades there.
func (s *stroke) end(at, other, d point, way float64) uint32 {
	soft := softness(d)
	in := way * min(soft, distance(at, other)/2)
	w := s.across(soft)
	foot, o := point{X: at.X - in*d.X, Y: at.Y - in*d.Y}, left(d)
	e := s.edge(foot, o, w)
	tip := point{X: at.X + way*soft*d.X, Y: at.Y + way*soft*d.Y}
	a := s.m.add(tip.X-o.X*w.in, tip.Y-o.Y*w.in, 0)
	b := s.m.add(tip.X+o.X*w.in, tip.Y+o.Y*w.in, 0)
	s.m.triangle(e, e+1, a)
	s.m.quad(e+1, e+2, b, a)
	s.m.triangle(e+2, e+3, b)
	return e
}
