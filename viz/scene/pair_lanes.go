package scene

// lanes is the time ribbon of a pair: A's pins above, and below them those of B
// from where it parts.
func (s *sheet) lanes(a, b *sheet) {
	at := s.p.ribbon
	if at.Width() <= 0 {
		return
	}
	const part = "time ribbon"
	s.panel(part, at)
	if s.p.time.Width() > 0 {
		at.Left = s.p.time.Right
	}
	pins, others := s.outside(a.v.Pins), s.outside(b.v.Pins)
	if len(pins) == 0 || len(others) != len(pins) {
		return
	}
	h, r, head := at.Height(), s.radius(), s.ribbonHead()
	lead := 1.4 * head.size
	n := s.strand(at, pins, lead)
	low := n
	low.pins = others
	n.row, low.row = at.Top+0.36*h, at.Top+0.80*h
	n.gaps, low.gaps = n.row-1.35*r, low.row-1.35*r
	left := at.Left + 0.012*at.Width()
	s.text(part, head, left, n.row+capShare*head.size/2, FromLeft, laneA)
	end := s.text(part, head, left, low.row+capShare*head.size/2, FromLeft, laneB)
	a.headings(&n)
	a.thread(&n, 0)
	a.nowOn(&n)
	for i := range pins {
		a.pin(&n, i, n.row+1.3*r)
	}

	shared := sharedPins(pins, others, s.pair.Forks)
	if shared == 0 {
		b.thread(&low, 0)
	} else {
		x := s.fork(&n, &low, shared)
		small := s.small()
		s.first(part, small, end+0.5*head.size, low.row+capShare*small.size/2, FromLeft, x-r-end-0.5*head.size,
			s.say("parted at ", s.number(s.pair.Forks, 3), " s"), s.say(s.number(s.pair.Forks, 3), " s"))
		b.thread(&low, shared)
	}
	b.nowOn(&low)
	for i := shared; i < len(others); i++ {
		b.pin(&low, i, at.Bottom)
	}
}

// sharedPins is how many pins both runs have from before they parted.
func sharedPins(a, b []Mark, forks float64) (n int) {
	for n < len(a) && a[n].Done && b[n].Done && a[n].T == b[n].T && a[n].T <= forks {
		n++
	}
	return n
}

// fork leads from the last pin that both share down to the first that is B's
// own, and returns where it begins.
func (s *sheet) fork(a, b *strand, shared int) float64 {
	r, k := s.radius(), s.p.scale
	from := Point{a.x[shared-1] + 1.3*r, a.row}
	to := Point{from.X + 0.45*a.pitch, b.row}
	end := to
	if shared < len(b.x) {
		end.X = b.x[shared] - 1.3*r
		to.X = min(to.X, end.X)
	}
	mid := (from.X + to.X) / 2
	start := len(s.segs.all)
	s.to(MoveTo, from)
	s.segs.put(Seg{Op: CurveTo, P: [3]Point{{mid, from.Y}, {mid, to.Y}, to}})
	s.to(LineTo, end)
	s.line("fork", s.segs.since(start), Dark, 4*k, 7*k, 4*k)
	return from.X
}
