package scene

import (
	"math"
	"strconv"
	"strings"

	wording "underdisc/viz/words"
)

// instrument is what a person at the plant can read: its name, its reading, and
// how it goes.
type instrument struct {
	name, value, unit string
	goes              trend
	says              string // beside the trend, or in its place
}

// trend is which way a reading goes.
type trend int

const (
	noTrend trend = iota
	steady
	rising
	falling
)

// instruments are those of the valve, in the order of the chain.
func (s *sheet) instruments() []instrument {
	v, st, u, tr := s.v, s.st, s.v.Units, &s.v.Trace
	out := make([]instrument, 0, 8)
	pressure := func(name string, p float64, y []float64) instrument {
		in := instrument{name: name, value: s.pressure(u, p), unit: u.PressureName()}
		if rate, ok := slope(tr, y, v.Snapshot.T, lookBack); ok {
			size, n := u.factor()
			in.goes, in.says = s.goes(rate/size, max(n, 1), u.DifferenceName())
		}
		return in
	}
	out = append(out, pressure(v.vesselName(), st.Vessel, tr.Vessel))
	vessel := strings.ToLower(v.vesselName())
	c := &st.Control
	if c.Fitted {
		in := instrument{name: "Sensed", value: s.pressure(u, c.Reading), unit: u.PressureName()}
		size, n := u.factor()
		digit := size * math.Pow(10, -float64(n))
		// Of the numbers as they are shown, which is what a reader compares.
		switch d := math.Round(c.Reading/digit) - math.Round(st.Vessel/digit); {
		case d > 0:
			in.says = s.say(s.difference(u, d*digit), " above the ", vessel)
		case d < 0:
			in.says = s.say(s.difference(u, -d*digit), " below the ", vessel)
		default:
			in.says = s.say("as the ", vessel)
		}
		out = append(out, in)
	}
	tail := instrument{name: "Tailpipe", value: v.State}
	if st.Outlet > 0 {
		in := pressure("", st.Outlet, tr.Outlet)
		tail.goes, tail.says = in.goes, s.say(in.value, " ", in.unit)
	}
	coil := instrument{name: "Coil", value: s.current(st.Coil.Current), unit: "A", says: s.volts()}
	if rate, ok := slope(tr, tr.Current, v.Snapshot.T, 0.05); ok {
		way := ""
		coil.goes, way = s.goes(rate, 1, "A")
		coil.says = s.say(way, ", ", coil.says)
	}
	if c.Fitted {
		sw := instrument{name: "Switch", value: "open", says: s.say("sets ", s.pressure(u, c.Set), ", resets ", s.pressure(u, c.Reset))}
		relay := instrument{name: "Relay lamp", value: "off"}
		if c.Made {
			sw.value = "made"
		}
		if c.RelayOn {
			relay.value = "on"
		}
		out = append(out, sw, relay)
	}
	out = append(out, coil)
	if c.Fitted {
		out = append(out, instrument{name: "Selector", value: selectorWord(c.Selector)})
	}
	if b := &st.Block; b.Fitted {
		in := instrument{name: "Block valve", value: openWord(b.Opening)}
		if b.Opening != b.Asked {
			in.says = s.say("going to ", openWord(b.Asked))
		}
		out = append(out, in)
	}
	out = append(out, tail)
	for _, w := range v.feltWalls() {
		in := instrument{name: wording.Capital(w.name) + " wall", value: s.temperature(u, w.now.T), says: "at its metal"}
		if rate, ok := slope(tr, w.trace, v.Snapshot.T, warmBack); ok {
			_, size, unit := u.degrees()
			in.goes, in.says = s.goes(60*rate/size, 0, unit)
			in.says = strings.Replace(in.says, "/s", "/min", 1)
		}
		if w.low != nil && w.low.Fitted {
			in.says = s.say(in.says, ", lowest point ", s.temperature(u, w.low.T))
		}
		out = append(out, in)
	}
	return out
}

// lookBack is the time, s, over which the rate of a pressure is taken: a needle is
// seen to turn within a tenth of a second.
const lookBack = 0.1

// warmBack is the same for the warmth of a wall, s.
const warmBack = 10.0

// openWord is how far a valve is open.
func openWord(opening float64) string {
	switch {
	case opening >= 1:
		return "open"
	case opening > 0:
		return strconv.FormatFloat(math.Max(1, math.Round(100*opening)), 'f', 0, 64) + " % open"
	}
	return "shut"
}

// goes words a rate, given in the unit shown, each second.
func (s *sheet) goes(rate float64, decimals int, unit string) (trend, string) {
	if math.Abs(rate) < 0.5*math.Pow(10, -float64(decimals)) {
		return steady, "steady"
	}
	x := s.say(s.number(math.Abs(rate), decimals), " ", unit, "/s")
	if rate > 0 {
		return rising, s.say("rising ", x)
	}
	return falling, s.say("falling ", x)
}

// volts is the supply as a voltmeter across the coil shows it.
func (s *sheet) volts() string {
	return s.say(s.number(math.Abs(s.st.Coil.Voltage), 1), " V across it")
}

// slope is how fast a curve has gone over a stretch of time up to t, s, or over
// what is shown of it, in its unit per second.
func slope(tr *Trace, y []float64, t, back float64) (rate float64, ok bool) {
	i := last(tr, t)
	if i < 1 {
		return 0, false
	}
	j := i
	for j > 0 && t-tr.T[j-1] <= back {
		j--
	}
	if j == i {
		j--
	}
	rate = (y[i] - y[j]) / (tr.T[i] - tr.T[j])
	return rate, !math.IsNaN(rate) && !math.IsInf(rate, 0)
}

// read draws the instruments, in as many columns as have room.
func (s *sheet) read(at Rect) {
	part := "instruments"
	if s.lane != "" {
		part = s.part(part)
	}
	h, small := s.heading(), s.small()
	pad := 0.02 * math.Min(at.Width(), s.p.size.X/2)
	y := at.Top + 0.7*h.size + capShare*h.size
	s.text(part, h, at.Left+pad, y, FromLeft, "Read")
	area := Rect{at.Left + pad, y + 0.8*h.size, at.Right - pad, at.Bottom - pad}
	if s.lane == "" && !s.p.wide { // a word on what is missing
		box := area
		box.Top = area.Bottom - 3.4*h.size
		area.Bottom = box.Top - pad
		s.sealedBox(part, box, true)
		s.plate(part, h, box.Left+0.8*h.size, (box.Top+box.Bottom)/2+capShare*h.size/2, box.Width(), "The inside opens when the fault is found.")
	}
	ins := s.instruments()
	columns := max(1, min(4, int(area.Width()/(11*small.size))))
	rows := (len(ins) + columns - 1) / columns
	high := (area.Height() + pad) / float64(rows)
	for i, in := range ins {
		row := min(columns, len(ins)-i/columns*columns) // cards in its row
		w := (area.Width() + pad) / float64(row)
		x, y := area.Left+w*float64(i%columns), area.Top+high*float64(i/columns)
		s.card(part, in, Rect{x, y, x + w - pad, y + high - pad})
	}
}

// card is one instrument.
func (s *sheet) card(part string, in instrument, at Rect) {
	label, small, unit := s.label(), s.small(), s.small()
	big := face{math.Min(s.p.text(40), 0.34*at.Height()), true, Dark}
	big.size = math.Max(big.size, s.p.floor)
	small.ink, unit.ink = Dark, Dark
	s.line(part, s.box(at, s.p.px(5)), Dark, 2*s.p.scale)
	pad := 0.55 * label.size
	width := at.Width() - 2*pad
	for big.size > s.p.floor && s.width(big, in.value) > width {
		big.size = math.Max(big.size-1, s.p.floor)
	}
	lines := capShare*(label.size+big.size) + 0.5*label.size
	third := in.says != "" || in.goes != noTrend
	if third {
		lines += capShare*small.size + 0.6*small.size
	}
	if third && lines > at.Height()-0.5*label.size { // no room for how it goes
		lines -= capShare*small.size + 0.6*small.size
		third = false
	}
	if lines > at.Height()-0.4*label.size { // a line for both
		y := (at.Top+at.Bottom)/2 + capShare*label.size/2
		strong := s.strong()
		s.first(part, strong, at.Right-pad, y, FromRight, width, in.value)
		s.first(part, label, at.Left+pad, y, FromLeft, width-s.width(strong, in.value)-0.4*label.size, in.name)
		s.spotReading(in, at)
		return
	}
	x, y := at.Left+pad, (at.Top+at.Bottom-lines)/2+capShare*label.size
	s.first(part, label, x, y, FromLeft, width, in.name)
	y += 0.5*label.size + capShare*big.size
	s.first(part, big, x, y, FromLeft, width, in.value)
	if end := x + s.width(big, in.value) + 0.25*big.size; in.unit != "" {
		s.first(part, unit, end, y, FromLeft, at.Right-pad-end, in.unit)
	}
	s.spotReading(in, at)
	if !third {
		return
	}
	y += 0.6*small.size + capShare*small.size
	if in.goes != noTrend {
		s.trendSign(part, in.goes, Point{x + 0.4*small.size, y - capShare*small.size/2}, 0.4*small.size)
		x += 1.2 * small.size
		width -= 1.2 * small.size
	}
	s.first(part, small, x, y, FromLeft, width, in.says, shortest(in.says))
}

// spotReading is the instrument's place for the keyboard, with what it says.
func (s *sheet) spotReading(in instrument, at Rect) {
	says := s.named(in.value, in.unit)
	if in.says != "" {
		says = s.say(says, ", ", in.says)
	}
	s.spot(s.say("reading, ", in.name), at, says)
}

// shortest is the end of a phrase, from its first figure on.
func shortest(says string) string {
	for i, c := range says {
		if c >= '0' && c <= '9' {
			return says[i:]
		}
	}
	return says
}

// trendSign is an arrow up or down, or a bar.
func (s *sheet) trendSign(part string, way trend, at Point, r float64) {
	switch way {
	case rising:
		s.fill(part, s.polygon(Point{at.X - r, at.Y + r}, Point{at.X + r, at.Y + r}, Point{at.X, at.Y - r}), Dark)
	case falling:
		s.fill(part, s.polygon(Point{at.X - r, at.Y - r}, Point{at.X + r, at.Y - r}, Point{at.X, at.Y + r}), Dark)
	case steady:
		s.fill(part, s.box(Rect{at.X - r, at.Y - 0.25*r, at.X + r, at.Y + 0.25*r}, 0), Dark)
	}
}
