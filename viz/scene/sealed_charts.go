package scene

// sealedStrips are the charts of what can be read from outside, and boxes for
// what cannot.
func (s *sheet) sealedStrips() []*chart {
	tr, st, u := &s.v.Trace, s.st, s.v.Units
	vessel := s.zoomed("vessel chart", s.say(s.v.vesselName(), ", ", u.PressureName()), 0.34, tr.Vessel)
	vessel.curves = []curve{{tr: tr, y: tr.Vessel, pen: s.solid(aboveLine), value: s.pressure(u, st.Vessel), strong: true}}
	walls := len(s.v.feltWalls()) > 0
	if s.p.wide {
		vessel.share = 0.60
		switch {
		case walls && s.p.boiler.Width() > 0: // which takes the others' room
			vessel.share = 0.46
			return []*chart{vessel, s.wallChart(0.54)}
		case walls:
			vessel.share = 0.34
			return append([]*chart{vessel, s.wallChart(0.34)}, notMeasured(0.16)...)
		}
		return append([]*chart{vessel}, notMeasured(0.20)...)
	}
	current := s.currentChart(0, tr)
	current.share = 0.24
	current.curves = []curve{{tr: tr, y: tr.Current, pen: s.solid(2.6), value: s.say(s.current(st.Coil.Current), " A"), strong: true}}
	strips := []*chart{current, vessel}
	switch {
	case walls && s.p.little():
		strips[0] = s.wallChart(0.28)
	case walls:
		strips = append(strips, s.wallChart(0.28))
	}
	if st.Outlet > 0 && !walls && !s.p.little() {
		tail := s.zoomed("tailpipe chart", s.say("Tailpipe, ", u.PressureName()), 0.24, tr.Outlet)
		tail.curves = []curve{{tr: tr, y: tr.Outlet, pen: s.dashed(aboveLine, 7, 4), value: s.pressure(u, st.Outlet), strong: true}}
		strips = append(strips, tail)
	}
	return append(strips, notMeasured(0.14)...)
}

// notMeasured are the charts for which a sealed valve has no instrument.
func notMeasured(share float64) []*chart {
	return []*chart{
		{part: "chamber chart", heading: "Chamber", size: 1, high: 1, share: share, unmeasured: true},
		{part: "lift chart", heading: "Disc lift", size: 1, high: 1, share: share, unmeasured: true},
	}
}

// unmeasured draws a box that says so, up to the words of the other charts.
func (s *sheet) unmeasured(c *chart, until float64) {
	box := Rect{c.box.Left, c.box.Top, until, c.box.Bottom}
	s.hatched(c.part, s.box(box, 0))
	s.line(c.part, s.box(box, 0), Soft, 1.6*s.p.scale)
	f := s.label()
	s.plate(c.part, f, box.Left+f.size, (box.Top+box.Bottom)/2+capShare*f.size/2, box.Width()-1.5*f.size, "not measured")
}
