package scene

import "math"

// labelFaces are those of the words beside the charts.
func (s *sheet) labelFaces() (quiet, strong face) {
	quiet, strong = s.small(), face{s.p.text(sizeSmall), true, Dark}
	quiet.ink = Dark
	return quiet, strong
}

// lead is the room from a curve to the words beside it.
func (s *sheet) lead() float64 { return 40 * s.p.scale }

// named is what stands beside a curve.
func (s *sheet) named(name, value string) string {
	switch "" {
	case name:
		return value
	case value:
		return name
	}
	return s.say(name, " ", value)
}

func (s *sheet) labelWidth(strips []*chart) float64 {
	quiet, strong := s.labelFaces()
	w := 0.0
	for _, c := range strips {
		for i := range c.curves {
			l := &c.curves[i]
			f := quiet
			if l.strong {
				f = strong
			}
			w = math.Max(w, s.width(f, s.named(l.name, l.value)))
		}
	}
	// As steady as its widest words.
	high := s.pressure(s.v.Units, s.v.Range.High)
	if w = math.Max(w, s.width(quiet, s.say("reseats above ", high))); s.pair == nil && !s.v.Sealed {
		w = math.Max(w, s.width(strong, s.say(s.widestName(), " ", high)))
	}
	return s.lead() + w + 6*s.p.scale
}

// label is what stands beside a curve, or beside several that read alike.
type label struct {
	y           float64
	name, value string
	strong      bool
}

// values writes beside each curve what it is and what it reads now. Curves that
// read alike lie on each other and share their words.
func (s *sheet) values(c *chart, x, nowX float64) {
	quiet, strong := s.labelFaces()
	var room [8]label
	ls := room[:0]
	for i := range c.curves {
		l := &c.curves[i]
		v := l.now(s.v.Snapshot.T)
		if l.name == "" && (l.value == "" || c.key) || math.IsNaN(v) || s.share(ls, l) {
			continue
		}
		y := math.Max(c.box.Top, math.Min(c.of(v), c.box.Bottom))
		n := len(ls)
		ls = append(ls, label{})
		for ; n > 0 && ls[n-1].y >= y; n-- {
			ls[n] = ls[n-1]
		}
		ls[n] = label{y, l.name, l.value, l.strong}
	}
	wanted := make([]float64, 0, len(room))
	for _, l := range ls {
		wanted = append(wanted, l.y)
	}
	gap := 1.25 * quiet.size
	for i, y := range spread(wanted, gap, c.box.Top+0.3*quiet.size, c.box.Bottom-0.62*quiet.size) {
		from := math.Min(nowX, c.box.Right)
		s.line(c.part, s.open(Point{math.Max(from, x) + 20*s.p.scale, ls[i].y}, Point{x + s.lead() - 4*s.p.scale, y}), Soft, 1.2*s.p.scale)
		f := quiet
		if ls[i].strong {
			f = strong
		}
		s.text(c.part, f, x+s.lead(), y+capShare*quiet.size/2, FromLeft, s.named(ls[i].name, ls[i].value))
	}
	if c.key && !s.v.Sealed && s.pair == nil {
		s.bracket(c, x)
	}
}

// share adds a curve's name to the label of one that reads the same.
func (s *sheet) share(ls []label, l *curve) bool {
	for i := range ls {
		if q := &ls[i]; l.strong && q.strong && l.name != "" && q.value == l.value {
			q.name = s.say(l.name, " = ", q.name)
			return true
		}
	}
	return false
}

// bracket marks the margin on the pressure chart.
func (s *sheet) bracket(c *chart, words float64) {
	if s.sp != nil {
		s.springBracket(c, words)
		return
	}
	m := &s.v.Facts.Margin
	if m.Threshold > 0 {
		s.between(c, words, s.st.Below, m.Threshold)
	}
}

// between draws an arrow from one pressure to another beside a chart.
func (s *sheet) between(c *chart, words, from, to float64) {
	k := s.p.scale
	within := func(y float64) float64 { return math.Max(c.box.Top, math.Min(y, c.box.Bottom)) }
	a, b := within(c.of(from)), within(c.of(to))
	x := words + 11*k
	if math.Abs(a-b) < 6*k {
		return
	}
	s.line("margin", s.arrow(Point{x, a}, Point{x, b}, math.Min(9*k, 0.6*math.Abs(a-b))), Dark, 2.4*k)
	s.line("margin", s.open(Point{x - 5*k, b}, Point{x + 5*k, b}), Dark, 2.4*k)
}
