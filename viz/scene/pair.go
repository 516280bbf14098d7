package scene

import "math"

// Pair is two runs side by side, in step.
type Pair struct {
	A, B    *View
	Forks   float64  // when B parted from A, s
	Differs []string // what B has that A has not, in words
}

// The lanes of a pair.
const (
	laneA = "A"
	laneB = "B"
)

// DrawPair turns two views of one moment into one picture: a cutaway of each,
// with its links and its margin, and charts that they share, B's lines dashed.
// Size, range, units and the rest of what is chosen are those of A.
func DrawPair(p *Pair) *Scene { return new(Drawer).DrawPair(p) }

// DrawPair is DrawPair, but the picture holds only until the drawer is used
// again.
func (d *Drawer) DrawPair(p *Pair) *Scene {
	a, b := *p.A, *p.B
	b.Size, b.Range, b.Units, b.Measure = a.Size, a.Range, a.Units, a.Measure
	b.Projector, b.Controls = a.Projector, a.Controls
	a.Sealed = a.Sealed || b.Sealed
	b.Sealed = a.Sealed
	s := d.sheet(&a)
	s.pair = p
	left, right := s.p.columns()
	one, two := *s, *s
	one.lane = laneA
	two.lane, two.v, two.st, two.sp = laneB, &b, b.piloted(), b.SpringState()
	s.pairHeader(&one, &two)
	one.column(left)
	two.column(right)
	s.pairCharts(&b)
	s.lanes(&one, &two)
	s.foot()
	return d.finish(s)
}

// columns are the places of the two runs.
func (p *plan) columns() (a, b Rect) {
	top, bottom := p.chain.Top, p.cutaway.Bottom
	a = Rect{0.010 * p.size.X, top, 0.346 * p.size.X, bottom}
	b = Rect{0.351 * p.size.X, top, 0.6875 * p.size.X, bottom}
	p.charts = Rect{0.6925 * p.size.X, top, 0.990 * p.size.X, bottom}
	return a, b
}

// pairHeader says how both stand, in what they differ, and why B does what it
// does.
func (s *sheet) pairHeader(a, b *sheet) {
	const part = "header"
	at, p := s.p.header, s.p
	s.fill(part, s.box(at, 0), Dark)
	mid := (at.Top + at.Bottom) / 2
	f := face{math.Max(0.72*p.text(sizeState), p.floor), true, Dark}
	pitch := 1.32 * f.size
	x := at.Left + 0.014*p.size.X
	letter, sign := 0.95*f.size, 0.8*f.size
	words := x + 0.35*f.size + letter + sign + 0.4*f.size
	end := words
	for _, q := range [...]*sheet{a, b} {
		end = math.Max(end, words+s.width(f, q.state()))
	}
	s.fill(part, s.box(Rect{x, mid - 1.36*f.size, end + 0.45*f.size, mid + 1.36*f.size}, p.px(6)), White)
	for i, q := range [...]*sheet{a, b} {
		y := mid + (float64(i)-0.5)*pitch
		s.text(part, f, x+0.35*f.size, y+capShare*f.size/2, FromLeft, q.lane)
		q.sign(Rect{words - 0.3*f.size - sign, y - sign/2, words - 0.3*f.size, y + sign/2})
		s.text(part, f, words, y+capShare*f.size/2, FromLeft, q.state())
	}

	right := at.Right - 0.014*p.size.X
	if p.views.Width() > 0 {
		right = p.views.Left - 0.012*p.size.X
	}
	if p.foot.Width() <= 0 {
		right -= s.when(right, mid) + 0.02*p.size.X
	}
	left := end + 0.45*f.size + 0.016*p.size.X
	differs, because := s.differs(), b.v.Sentence
	if because != "" {
		because = s.say("B: ", because)
	}
	s.paragraphs(part, Rect{left, at.Top, right, at.Bottom}, differs, because)
	s.spot("why", at, s.say("A ", a.v.State, ", B ", b.v.State, ". ", differs, " ", because))
}

// differs names what B has that A has not.
func (s *sheet) differs() string {
	if len(s.pair.Differs) == 0 {
		return "B does what A does."
	}
	out := "B has "
	for i, d := range s.pair.Differs {
		switch {
		case i > 0 && i == len(s.pair.Differs)-1:
			out = s.say(out, " and ")
		case i > 0:
			out = s.say(out, "; ")
		}
		out = s.say(out, d)
	}
	return s.say(out, ".")
}

// paragraphs writes a strong text and another below it, as large as goes; the
// second is left out where there is no room for it even in the smallest letters.
func (s *sheet) paragraphs(part string, at Rect, strong, plain string) {
	f := face{s.p.text(sizeSentence), true, White}
	g := face{f.size, false, White}
	for {
		lines := int(0.94 * at.Height() / (1.2 * f.size))
		one := s.v.balance(strong, f.size, true, at.Width(), lines)
		two := s.v.balance(plain, g.size, false, at.Width(), lines-len(one))
		last := f.size <= s.p.floor
		if one != nil && (two != nil || plain == "" || last) || last {
			pitch := 1.2 * f.size
			y := (at.Top+at.Bottom)/2 + capShare*f.size/2 - pitch*float64(len(one)+len(two)-1)/2
			for _, l := range one {
				s.text(part, f, at.Left, y, FromLeft, l)
				y += pitch
			}
			for _, l := range two {
				s.text(part, g, at.Left, y, FromLeft, l)
				y += pitch
			}
			return
		}
		f.size = math.Max(f.size-0.5, s.p.floor)
		g.size = f.size
	}
}
