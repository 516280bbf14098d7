package scene

import "underdisc/model/plant"

// A sealed picture of a spring-loaded valve shows what a person at the plant reads,
// hears and feels: the gauges, what the end of the discharge pipe does, how warm it
// is, the lever and what a hand pulls. Nothing here reads lift, forces, rings or gag.

// sealedSpring draws what stands in place of links, cutaway and forces.
func (s *sheet) sealedSpring() {
	const part = "instruments"
	s.panel("chain", s.p.chain)
	h := s.heading()
	at := s.p.chain
	box := Rect{at.Left + 0.02*at.Width(), at.Top + 0.16*at.Height(), at.Right - 0.02*at.Width(), at.Bottom - 0.16*at.Height()}
	s.sealedBox("links", box, true)
	s.plate("links", h, box.Left+h.size, (box.Top+box.Bottom)/2+capShare*h.size/2, box.Width()-2*h.size, "The inside is sealed")
	s.spot("links", box, "sealed")
	s.panel(part, s.p.cutaway)
	s.readSpring(s.p.cutaway)
	rest := s.p.forces
	if s.p.wide {
		rest = s.p.margin
	}
	s.panel("margin", rest)
	pad := 0.067 * rest.Width()
	seal := Rect{rest.Left + pad, rest.Top + pad, rest.Right - pad, rest.Bottom - pad}
	s.sealedBox("margin", seal, true)
	label := s.label()
	y := seal.Top + 1.6*label.size
	for _, name := range []string{"Margin: not known", "Forces: not known"} {
		s.plate("margin", label, seal.Left+0.7*label.size, y, seal.Width()-1.2*label.size, name)
		y += 2 * label.size
	}
	s.spot("margin", seal, "not known")
}

// readSpring lists what can be read outside.
func (s *sheet) readSpring(at Rect) {
	const part = "instruments"
	st, u := s.sp, s.v.Units
	h, label, strong := s.heading(), s.label(), s.strong()
	pad := 0.04 * at.Width()
	y := at.Top + 1.5*h.size
	s.text(part, h, at.Left+pad, y, FromLeft, "Read outside")
	rows := [][2]string{
		{s.say(s.v.vesselName(), " gauge"), s.pressureUnit(u, st.Vessel)},
		{"Gauge at the outlet", s.pressureUnit(u, st.Outlet)},
		{"End of the discharge pipe", [...]string{"quiet", "hisses", "blows"}[s.heardSpring(st)]},
	}
	if st.OutletWall.Fitted {
		rows = append(rows, [2]string{"Discharge pipe's wall", s.temperature(u, st.OutletWall.T)})
	}
	if st.LowPoint.Fitted {
		rows = append(rows, [2]string{"Its lowest point", s.temperature(u, st.LowPoint.T)})
	}
	if st.Spec.Lever != nil {
		hand := "at rest"
		if st.Hand > 0 {
			hand = s.say("a hand pulls ", s.force(st.Hand))
		}
		rows = append(rows, [2]string{"Lever", hand})
	}
	hidden := []string{"Lift", "Rings and faces", "Spring"}
	pitch := (at.Bottom - y - 0.8*h.size) / float64(len(rows)+len(hidden))
	top := y + 0.6*h.size
	for i, r := range rows {
		box := Rect{at.Left + pad, top + pitch*float64(i), at.Right - pad, top + pitch*(float64(i)+0.86)}
		s.sealedBox(part, box, false)
		base := (box.Top+box.Bottom)/2 + capShare*label.size/2
		end := s.text(part, label, box.Left+0.7*label.size, base, FromLeft, r[0])
		s.first(part, strong, box.Right-0.7*label.size, base, FromRight, box.Right-end-1.5*label.size, r[1])
		s.spot(r[0], box, r[1])
	}
	for i, name := range hidden {
		n := float64(i + len(rows))
		box := Rect{at.Left + pad, top + pitch*n, at.Right - pad, top + pitch*(n+0.86)}
		s.sealedBox(part, box, true)
		s.plate(part, label, box.Left+0.7*label.size, (box.Top+box.Bottom)/2+capShare*label.size/2, box.Width()-1.4*label.size, s.say(name, ": sealed"))
	}
}

// heardSpring is what the end of the pipe does: 0 quiet, 1 hisses, 2 blows.
func (s *sheet) heardSpring(st *plant.SpringState) int {
	switch {
	case st.W <= 0:
		return 0
	case st.W < 0.1:
		return 1
	}
	return 2
}

// sealedSpringStrips are the charts of what can be read.
func (s *sheet) sealedSpringStrips() []*chart {
	tr, u := &s.v.Trace, s.v.Units
	vessel := s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.5, tr.Vessel)
	vessel.curves = []curve{{tr: tr, y: tr.Vessel, pen: s.solid(aboveLine), value: s.pressure(u, s.sp.Vessel), strong: true}}
	strips := []*chart{vessel}
	if len(s.v.feltWalls()) > 0 {
		strips = append(strips, s.wallChart(0.3))
	}
	return append(strips, &chart{part: "lift chart", heading: "Lift", size: 1, high: 1, share: 0.2, unmeasured: true})
}
