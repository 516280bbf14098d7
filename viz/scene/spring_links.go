package scene

import (
	"math"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
)

// The links from cause to effect of a spring-loaded valve.
const (
	linkInlet       = 1 + iota // the inlet's pressure against the spring
	linkFaces                  // the faces part: it simmers
	linkHuddle                 // the huddling chamber fills faster than the lower ring lets out: it pops
	linkLift                   // the disc rises
	linkFlow                   // momentum and upper ring hold it up
	linkReseat                 // the pressure has fallen: it reseats
	springLinkCount = linkReseat
)

// SpringLink is one of the links from cause to effect of a spring-loaded valve, as
// it stands.
type SpringLink struct {
	Number    int
	Name      string
	State     []string // in a word or a number, longest first
	Threshold []string // what changes it over, longest first; empty where nothing does
	Goes      string   // how far and how fast
	Stands    Standing
}

// SpringLinks are the links of the spring-loaded valve in view, computed from its
// snapshot and facts.
func SpringLinks(v *View) [springLinkCount]SpringLink { return springLinksIn(new(phrases), v) }

func springLinksIn(k *phrases, v *View) [springLinkCount]SpringLink {
	f, st, u := v.Spring, v.SpringState(), v.Units
	g := u
	g.Gauge = true // as the plates of such valves are
	p := func(p float64) string { return k.pressure(g, p) }
	pu := func(p float64) string { return k.pressureUnit(g, p) }
	o := &f.Forces
	out := [springLinkCount]SpringLink{
		{Number: linkInlet, Name: "Inlet"}, {Number: linkFaces, Name: "Faces"}, {Number: linkHuddle, Name: "Huddling chamber"},
		{Number: linkLift, Name: "Lift"}, {Number: linkFlow, Name: "Flow holds"}, {Number: linkReseat, Name: "Reseat"},
	}
	l := func(n int) *SpringLink { return &out[n-1] }
	plug := st.Spec.LowerRing == nil

	gauge := func(p float64) string {
		return k.say(k.pressure(g, p), " ", strings.Replace(g.PressureName(), "gauge", "g", 1))
	}
	l(linkInlet).State = []string{pu(f.Inlet), gauge(f.Inlet), p(f.Inlet)}
	l(linkInlet).Threshold = []string{k.say("faces part at ", p(f.Parting.Pressure)), k.say("parts at ", p(f.Parting.Pressure))}
	l(linkInlet).Goes = Going(f.InletRate, u)

	l(linkFaces).State = []string{"touch"}
	l(linkFaces).Threshold = []string{k.say("part in ", k.difference(u, math.Max(0, f.Parting.Margin)), " ", u.DifferenceName()), k.say(k.difference(u, f.Parting.Margin), " ", u.DifferenceName())}
	if st.Pop != plant.Tight {
		l(linkFaces).State = []string{k.say(Lift(st.Lift), " apart"), Lift(st.Lift)}
		l(linkFaces).Threshold = []string{k.say(u.Flow(st.W), " pass"), u.Flow(st.W)}
	}

	if plug {
		l(linkHuddle).Name = "Stream"
		l(linkHuddle).State = []string{k.say("adds ", k.force(o.Momentum+o.Jet)), k.force(o.Momentum + o.Jet)}
		l(linkHuddle).Threshold = []string{"no rings: in proportion", "no rings"}
	} else {
		l(linkHuddle).State = []string{pu(st.Huddle), gauge(st.Huddle), p(st.Huddle)}
		if q := f.Folds.Pop; q.Known {
			l(linkHuddle).Threshold = []string{k.say("pops above ", p(q.Value)), k.say("pops ", p(q.Value))}
			if st.Pop == plant.Simmering {
				l(linkHuddle).Goes = k.say("in ", k.difference(u, math.Max(0, q.Value-f.Inlet)), " ", u.DifferenceName())
				if f.In.Known {
					l(linkHuddle).Goes = k.say("in ", k.span(f.In.Value))
				}
			}
		} else if o.Huddle >= 0.5 {
			l(linkHuddle).Threshold = []string{k.say("adds ", k.force(o.Huddle)), k.force(o.Huddle)}
		} else {
			l(linkHuddle).Threshold = nil
		}
	}

	l(linkLift).State = []string{k.say(Lift(math.Max(0, st.Lift)), " of ", k.mm(f.FullTravel)), Lift(math.Max(0, st.Lift))}
	if st.Pop == plant.Tight {
		l(linkLift).State = []string{"on its seat"}
	}
	l(linkLift).Threshold = nil
	switch {
	case st.Gagged:
		l(linkLift).Threshold = []string{k.say("gag leaves ", Lift(st.Travel)), "gag on"}
	case st.Hold == plant.HeldOpen:
		l(linkLift).Threshold = []string{"at its stop"}
	case st.Pop == plant.Lifted && math.Abs(st.Speed) > 1e-3:
		way := "rises "
		if st.Speed < 0 {
			way = "falls "
		}
		l(linkLift).Threshold = []string{k.say(way, k.number(math.Abs(st.Speed), 2), " m/s"), k.say(k.number(math.Abs(st.Speed), 2), " m/s")}
	}

	flow := o.Flow()
	l(linkFlow).State = []string{k.say("adds ", k.force(flow)), k.force(flow)}
	if st.Pop == plant.Lifted {
		lacks := o.Spring + o.Weight - o.Seat - o.Bellows - o.Lever
		if lacks > 0 {
			l(linkFlow).Threshold = []string{k.say("needs ", k.force(lacks), " to stay"), k.say("needs ", k.force(lacks))}
		} else {
			l(linkFlow).Threshold = []string{"pressure alone holds it", "not needed"}
		}
	} else {
		l(linkFlow).State = []string{"nothing yet", "none"}
	}

	if st.Pop == plant.Lifted {
		l(linkReseat).State = []string{"open"}
		if q := f.Folds.Reseat; q.Known {
			l(linkReseat).Threshold = []string{k.say("shuts below ", p(q.Value)), k.say("below ", p(q.Value))}
		}
		if f.In.Known {
			l(linkReseat).Goes = k.say("in ", k.span(f.In.Value))
		}
	} else {
		l(linkReseat).State = []string{"shut"}
		if q := f.Folds.Reseat; q.Known {
			l(linkReseat).Threshold = []string{k.say("would be at ", p(q.Value)), k.say("at ", p(q.Value))}
		}
	}
	acts := springActs(f)
	for i := range out {
		out[i].Stands = springStanding(f, st, i+1, acts)
	}
	return out
}

// springActs is the link that acts now.
func springActs(f *explain.SpringFacts) int {
	switch f.State {
	case explain.SpringTight, explain.SpringGagged:
		return linkInlet
	case explain.SpringSimmering, explain.SpringHeldOff:
		return linkFaces
	case explain.SpringLifting:
		return linkHuddle
	case explain.SpringByLever, explain.SpringPartly:
		return linkLift
	case explain.SpringAtFullLift:
		return linkFlow
	}
	return linkReseat
}

// springStanding tells how a link stands while another one acts: those before it
// have acted, those behind it are to come.
func springStanding(f *explain.SpringFacts, st *plant.SpringState, link, acts int) Standing {
	switch {
	case link == acts:
		return ActsNow
	case f.State == explain.SpringByLever: // a hand does what the pressure would
		return map[bool]Standing{true: Done}[link == linkFaces]
	case f.State == explain.SpringAtFullLift && link == linkReseat, f.State == explain.SpringChattering:
		return ToCome
	case link < acts:
		return Done
	}
	return ToCome
}

// springChain is the strip of links of a spring-loaded valve.
func (s *sheet) springChain() {
	const part = "links"
	at := s.p.chain
	s.panel("chain", at)
	links := springLinksIn(&s.phrases, s.v)
	r := s.radius()
	label, strong, small := s.label(), s.strong(), s.small()
	small.ink = Dark
	pitch := at.Width() / springLinkCount
	badge := 1.22 * r
	next := 1.24 * small.size
	rows := 2.0
	if at.Height() >= 2*badge+1.1*label.size+2*next+6*s.p.scale {
		rows = 3
	}
	high := 2*badge + 1.1*label.size + (rows-1)*next
	top := at.Top + math.Max(2, (at.Height()-high)/2)
	for i := range links {
		l := &links[i]
		left := at.Left + pitch*float64(i) + 0.06*pitch
		right := at.Left + pitch*float64(i+1) - 0.03*pitch
		y := top + badge
		s.badge(part, Point{left + badge, y}, r, l.Number, l.Stands)
		x := left + 2.9*r
		name := label
		name.bold = l.Stands == ActsNow
		s.first(part, name, x, y+capShare*label.size/2, FromLeft, right-x, l.Name, shortLink(l.Name))
		y += badge + 1.0*label.size
		s.first(part, strong, left, y, FromLeft, right-left, l.State...)
		says := l.Threshold
		for range int(rows) - 1 {
			y += next
			s.first(part, small, left, y, FromLeft, right-left, says...)
			says = []string{l.Goes}
		}
		s.springSpot(l, Rect{at.Left + pitch*float64(i), at.Top, at.Left + pitch*float64(i+1), at.Bottom})
		if i > 0 { // from the one before
			x := at.Left + pitch*float64(i)
			s.line(part, s.open(Point{x, at.Top + 0.15*at.Height()}, Point{x, at.Bottom - 0.15*at.Height()}), Hatch, 1.2*s.p.scale)
		}
	}
}

// shortLink is a name for little room.
func shortLink(name string) string {
	switch name {
	case "Huddling chamber":
		return "Huddling"
	case "Flow holds":
		return "Flow"
	}
	return name
}

func (s *sheet) springSpot(l *SpringLink, at Rect) {
	says := l.State[0]
	if len(l.Threshold) > 0 && l.Threshold[0] != "" {
		says = s.say(says, ", ", l.Threshold[0])
	}
	if l.Goes != "" {
		says = s.say(says, ", ", l.Goes)
	}
	s.spot(s.say("link ", s.number(float64(l.Number), 0), ", ", l.Name), at, s.say(says, "; ", l.Stands.String()))
}
