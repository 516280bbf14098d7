package scene

import (
	"math"

	"underdisc/model/plant"
)

// springRow is the links of one run of a pair in a row.
func (s *sheet) springRow(at Rect, y, r float64) {
	part, k := s.part("links"), s.p.scale
	small := s.small()
	small.ink, small.bold = Dark, true
	pitch := at.Width() / springLinkCount
	x := func(link int) float64 { return at.Left + pitch*(float64(link)-0.5) }
	links := springLinksIn(&s.phrases, s.v)
	for link := 2; link <= springLinkCount; link++ {
		a, b := Point{x(link-1) + 1.35*r, y}, Point{x(link) - 1.35*r, y}
		if links[link-2].Stands == Done && links[link-1].Stands != ToCome {
			s.line(part, s.open(a, b), Dark, 4*k)
		} else {
			s.line(part, s.open(a, b), Soft, 2*k, 2*k, 5*k)
		}
	}
	for i := range links {
		l := &links[i]
		s.badge(part, Point{x(l.Number), y}, r, l.Number, l.Stands)
		s.first(part, small, x(l.Number), y+1.22*r+0.35*small.size+capShare*small.size, Centred, pitch-0.3*small.size, shortLink(l.Name))
		s.springSpot(l, Rect{x(l.Number) - pitch/2, y - 1.3*r, x(l.Number) + pitch/2, y + 1.3*r + 1.5*small.size})
	}
}

// springColumn is the rest of one run of a pair: its cutaway and its margin, or what
// can be read outside.
func (s *sheet) springColumn(at Rect, pad, foot float64) {
	if s.v.Sealed {
		s.readSpring(at)
		return
	}
	s.springInside(Rect{at.Left, at.Top, at.Right, foot})
	part, u := s.part("margin"), s.v.Units
	label, h := s.label(), s.heading()
	heading, dp, known, lines := s.springMargin()
	box := Rect{at.Left + pad, foot, at.Right - pad, at.Bottom}
	s.line(part, s.open(Point{box.Left, box.Top}, Point{box.Right, box.Top}), Hatch, 1.2*s.p.scale)
	y := box.Top + 0.7*label.size + capShare*label.size
	s.first(part, label, box.Left, y, FromLeft, box.Width(), s.say(lines[0], ", ", lines[1]), lines[1])
	y += 0.75*h.size + capShare*h.size
	number := "none"
	if known {
		number = s.say(s.difference(u, dp), " ", u.DifferenceName())
	}
	end := s.text(part, h, box.Left, y, FromLeft, number)
	s.first(part, label, end+0.5*label.size, y, FromLeft, box.Right-end-0.5*label.size, heading)
	y += 0.9*label.size + capShare*label.size
	o := &s.v.Spring.Forces
	s.first(part, label, box.Left, y, FromLeft, box.Width(),
		s.say("up ", s.force(o.Seat+o.Bellows+o.Flow()+o.Lever), ", down ", s.force(o.Spring+o.Weight)), s.force(o.Net))
	s.spot("margin", box, s.say(heading, " ", number, ": ", lines[0], ", ", lines[1]))
}

// springPairStrips are the charts that two runs of a spring-loaded valve share.
func (s *sheet) springPairStrips(b *View) []*chart {
	a, u := s.v, s.v.Units
	ta, tb := &a.Trace, &b.Trace
	sa, sb := s.sp, b.SpringState()
	both := func(c *chart, ya, yb []float64, width float64, va, vb string) *chart {
		c.curves = []curve{
			{tr: tb, y: yb, from: s.pair.Forks, pen: s.dashed(width, 7, 4), name: laneB, value: vb, strong: true},
			{tr: ta, y: ya, pen: s.solid(width), name: laneA, value: va, strong: true}}
		return c
	}
	vessel := s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.24, ta.Vessel, tb.Vessel)
	both(vessel, ta.Vessel, tb.Vessel, aboveLine, s.pressure(u, sa.Vessel), s.pressure(u, sb.Vessel))
	if a.Sealed {
		return []*chart{vessel, {part: "lift chart", heading: "Lift", size: 1, high: 1, share: 0.2, unmeasured: true}}
	}
	lift := travelChart("lift chart", "Lift, mm", math.Max(sa.Spec.Disc.Travel, sb.Spec.Disc.Travel), 0.24)
	shown := func(st *plant.SpringState) string {
		if st.Pop == plant.Tight {
			return "on its seat"
		}
		return Lift(st.Lift)
	}
	both(lift, ta.Lift, tb.Lift, 3.4, shown(sa), shown(sb))
	strips := []*chart{}
	if sa.Spec.LowerRing != nil {
		huddle := s.pressureChart(&Trace{T: ta.T, Above: ta.Huddle, Below: ta.Huddle}, &Trace{T: tb.T, Above: tb.Huddle, Below: tb.Huddle})
		huddle.heading, huddle.share = s.say("Huddling chamber, ", u.PressureName()), 0.30
		both(huddle, ta.Huddle, tb.Huddle, 4.4, s.pressure(u, sa.Huddle), s.pressure(u, sb.Huddle))
		strips = append(strips, huddle)
	}
	strips = append(strips, vessel, lift)
	if s.p.wide || s.p.little() {
		return strips
	}
	wear := s.quantity("wear chart", "Seat wear, a relative index", 1, 0.1, append(append([]float64(nil), ta.Wear...), tb.Wear...))
	wear.share = 0.16
	both(wear, ta.Wear, tb.Wear, 2.6, s.number(sa.Wear, 2), s.number(sb.Wear, 2))
	return append(strips, wear)
}
