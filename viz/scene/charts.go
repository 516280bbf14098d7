package scene

import "math"

// timeAxis puts times on the charts.
type timeAxis struct{ from, to, left, right float64 }

func (a timeAxis) x(t float64) float64 {
	return a.left + (t-a.from)/(a.to-a.from)*(a.right-a.left)
}

// shown are the stretch of time that charts show, and what it counts from.
type shown struct {
	from, to, zero float64
	zeroName       string
	until          float64 // the last time of which something is known
}

func (v *View) shown() shown {
	tr := &v.Trace
	w := shown{from: tr.From, to: tr.To, zero: tr.Zero, zeroName: tr.ZeroName, until: v.Snapshot.T}
	if n := len(tr.T); n > 0 {
		w.until = math.Max(w.until, tr.T[n-1])
	}
	return w
}

// charts draws the strips on one time axis.
func (s *sheet) charts() {
	if s.v.Sealed && s.sp != nil {
		s.graph(s.sealedSpringStrips(), s.v.shown())
		s.spot("charts", s.p.charts, s.say(s.number(s.v.Snapshot.T, 3), " s: vessel ", s.pressureUnit(s.v.Units, s.st.Vessel), "; lift and huddling chamber not measured", s.saysFlags()))
		return
	}
	if s.v.Sealed {
		s.graph(s.sealedStrips(), s.v.shown())
		s.spot("charts", s.p.charts, s.say(s.number(s.v.Snapshot.T, 3), " s: vessel ", s.pressureUnit(s.v.Units, s.st.Vessel),
			", coil current ", s.current(s.st.Coil.Current), " A; chamber and disc lift not measured", s.saysFlags()))
		return
	}
	if s.sp != nil {
		s.graph(s.springStrips(), s.v.shown())
		s.spot("charts", s.p.charts, s.saysSpringCharts())
		return
	}
	s.graph(s.strips(), s.v.shown())
	s.spot("charts", s.p.charts, s.saysCharts())
}

// graph draws some strips over the time shown.
func (s *sheet) graph(strips []*chart, w shown) {
	const part = "charts"
	at := s.p.charts
	s.panel(part, at)
	t := s.v.Snapshot.T
	small, head := s.small(), face{s.p.text(sizeLabel), true, Dark}
	r := s.radius()
	k := s.p.scale

	// Sides: numbers on the left, room for the words on the right.
	labels := s.labelWidth(strips)
	left := 0.0
	for _, c := range strips {
		for _, a := range c.at {
			left = math.Max(left, s.width(small, s.number(a, c.decimals)))
		}
	}
	keyWide := 13 * k
	axis := timeAxis{w.from, w.to, at.Left + 10*k + left + 8*k + keyWide, at.Right - 12*k}
	words := axis.right - labels // where they begin
	switch {
	case w.until > t:
		axis.right = words
	case axis.x(t) <= words:
		words = axis.x(t)
	case t > w.from: // they take the time ahead, of which more is shown then
		axis.to = w.from + (t-w.from)*(axis.right-axis.left)/(words-axis.left)
	}

	s.scene.Axis = Axis{axis.from, axis.to, axis.left, axis.right}
	top := at.Top + 3.1*r
	bottom := at.Bottom - 3.5*small.size
	headRoom := 1.75 * head.size
	free := bottom - top - headRoom*float64(len(strips))
	y := top
	for _, c := range strips {
		y += headRoom
		c.box = Rect{axis.left, y, axis.right, y + c.share/shares(strips)*free}
		y = c.box.Bottom
	}
	nowX := axis.x(t)
	inside := nowX >= axis.left && nowX <= axis.right
	if inside && nowX < axis.right {
		for _, c := range strips {
			s.fill(part, s.box(Rect{nowX, c.box.Top, axis.right, c.box.Bottom}, 0), Ahead)
		}
	}
	s.eventLines(strips, axis, at.Top+1.55*r, r)
	for _, c := range strips {
		until := c.box.Right
		if math.Abs(words-nowX) < 1 { // the words stand in the time ahead
			until = nowX
		}
		s.frame(c, until, small, keyWide)
		for i := range c.curves {
			s.curve(c, &c.curves[i], axis)
		}
	}
	s.clock(axis, w, strips[len(strips)-1].box.Bottom, small, at)
	if inside {
		s.line("now", s.open(Point{nowX, at.Top + 1.55*r}, Point{nowX, strips[len(strips)-1].box.Bottom}), Now, 3.4*k)
	}
	s.titles(strips, head, keyWide)
	s.eventBadges(axis, at.Top+1.55*r, r)
	for _, c := range strips {
		s.values(c, words, nowX)
	}
}

func shares(cs []*chart) (sum float64) {
	for _, c := range cs {
		sum += c.share
	}
	return sum
}

// frame draws what stands still: axis, values beside it, their lines as
// far as no words stand.
func (s *sheet) frame(c *chart, until float64, small face, keyWide float64) {
	k := s.p.scale
	if c.unmeasured {
		s.unmeasured(c, until)
		return
	}
	s.line(c.part, s.open(Point{c.box.Left, c.box.Bottom}, Point{c.box.Right, c.box.Bottom}), Dark, 1.6*k)
	for _, a := range c.at {
		y := c.y(a)
		if y < c.box.Top-1 || y > c.box.Bottom+1 {
			continue
		}
		if a != c.low {
			s.line(c.part, s.open(Point{c.box.Left, y}, Point{until, y}), Hatch, 0.9*k)
		}
	}
	lastY := math.Inf(1)
	for _, a := range c.at {
		y := math.Min(c.y(a)+capShare*small.size/2, c.box.Bottom+0.1*small.size)
		if c.y(a) < c.box.Top-1 || y > lastY-1.15*small.size {
			continue
		}
		lastY = y
		s.text(c.part, small, c.box.Left-8*s.p.scale-boolTo(c.key, keyWide), y, FromRight, s.number(a, c.decimals))
	}
	if c.key {
		const slices = 32
		r := s.v.Range
		u := s.v.Units
		for i := range slices {
			a, b := r.Low+(r.High-r.Low)*float64(i)/slices, r.Low+(r.High-r.Low)*float64(i+1)/slices
			y1, y0 := c.y(u.shown(a)), c.y(u.shown(b))
			s.fluid("pressure key", s.box(Rect{c.box.Left - keyWide - 3*k, y0 - 0.4, c.box.Left - 3*k, y1}, 0), (a+b)/2)
		}
		s.line("pressure key", s.box(Rect{c.box.Left - keyWide - 3*k, c.y(u.shown(r.High)), c.box.Left - 3*k, c.box.Bottom}, 0), Dark, 1.2*k)
	}
}

// titles write the strips' headings on plates, over whatever lines pass there.
func (s *sheet) titles(strips []*chart, head face, keyWide float64) {
	for _, c := range strips {
		y := c.box.Top - 0.5*head.size
		w := s.width(head, c.heading)
		left := c.box.Left
		if c.key { // above the key, which it names
			left -= keyWide + 3*s.p.scale
		}
		s.fill(c.part, s.box(Rect{left - 3, y - 0.95*head.size, left + w + 4, y + 0.3*head.size}, 0), Panel)
		s.text(c.part, head, left, y, FromLeft, c.heading)
	}
}

func boolTo(b bool, x float64) float64 {
	if b {
		return x + 3
	}
	return 0
}

// clock writes the times below the charts.
func (s *sheet) clock(axis timeAxis, w shown, bottom float64, small face, at Rect) {
	unit, size := "s", 1.0
	if w.to-w.from < 0.95 {
		unit, size = "ms", 1e-3
	}
	values, n := ticks((w.from-w.zero)/size, (axis.to-w.zero)/size, 4)
	y := bottom + 0.55*small.size + capShare*small.size
	last := math.Inf(-1)
	for _, a := range values {
		x := axis.x(w.zero + a*size)
		text := s.number(a, n)
		half := s.width(small, text) / 2
		if x-half < last+0.6*small.size || x+half > at.Right-2 {
			continue
		}
		last = x + half
		s.line("time axis", s.open(Point{x, bottom}, Point{x, bottom + 0.3*small.size}), Dark, 1.4*s.p.scale)
		s.text("time axis", small, x, y, Centred, text)
	}
	name := s.say("time, ", unit)
	if w.zeroName != "" {
		name = s.say(unit, " after ", w.zeroName)
	}
	s.text("time axis", small, at.Right-12*s.p.scale, y+1.3*small.size, FromRight, name)
	left := at.Left + 12*s.p.scale
	if flags := s.flagWords(axis, small, at.Right-left-s.width(small, name)-26*s.p.scale); flags != "" {
		s.text("time axis", small, left, y+1.3*small.size, FromLeft, flags)
	}
}

// saysFlags are the events of the plant around the valve that the charts mark.
func (s *sheet) saysFlags() string {
	out := ""
	for i := range s.v.Marks {
		if m := &s.v.Marks[i]; m.Link == 0 && m.Done {
			out = s.say(out, "; ", m.Name, " at ", s.number(m.T, 3), " s")
		}
	}
	return out
}

// saysCharts is the charts for the text twin.
func (s *sheet) saysCharts() string {
	st, u := s.st, s.v.Units
	warm := ""
	if s.v.AtRest() { // their strip is drawn
		for _, w := range s.v.feltWalls() {
			warm = s.say(warm, ", ", w.name, " wall ", s.temperature(u, w.now.T))
		}
	}
	return s.say(s.number(s.v.Snapshot.T, 3), " s: ", bodyName, " ", s.pressure(u, st.Above), ", ", chamberName, " ", s.pressureUnit(u, st.Below),
		", disc lift ", s.mm(st.Disc.Lift), ", pilot lift ", s.mm(st.Pilot.Lift), ", coil current ", s.current(st.Coil.Current), " A", warm, s.saysFlags())
}
