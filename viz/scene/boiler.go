package scene

import (
	"math"

	"underdisc/model/plant"
)

// boiler is the plant that the valve stands in: its drum, and what makes it more
// than a vessel.
type boiler struct {
	drum      *plant.DrumState
	fire      *plant.HeatInput
	feed      *plant.Inflow
	load      *plant.Load
	operators *plant.Operators
	works     *plant.OperatorState
}

// Boils tells whether the drum ahead of the valve has a controller or a load, so
// that the picture has a panel for it.
func (v *View) Boils() bool {
	b, i := v.boilerSpec()
	return i >= 0 && (b.load != nil || b.fire != nil && b.fire.Control != nil || b.feed != nil && b.feed.Control != nil)
}

// boilerSpec is the description of the drum ahead of the valve, and which of the
// drums that is; -1 if none is. The first fire, feed, load and operators stand
// for all.
func (v *View) boilerSpec() (b boiler, drum int) {
	drum = -1
	if v.Model == nil {
		return b, drum
	}
	for i := range v.Model.Drums {
		if v.Model.Drums[i].Node == v.vesselNode() {
			drum = i
		}
	}
	if drum < 0 {
		return b, drum
	}
	name := v.Model.Drums[drum].Name
	for i := range v.Model.Plant.Parts {
		switch q := v.Model.Plant.Parts[i].Spec.(type) {
		case *plant.HeatInput:
			if q.Into == name && b.fire == nil {
				b.fire = q
			}
		case *plant.Inflow:
			if q.Into == name && b.feed == nil {
				b.feed = q
			}
		case *plant.Load:
			if q.From == name && b.load == nil {
				b.load = q
			}
		case *plant.Operators:
			if b.operators == nil {
				b.operators = q
			}
		}
	}
	return b, drum
}

// boilerNow is the boiler with its state; not ok without one.
func (v *View) boilerNow() (b boiler, ok bool) {
	b, i := v.boilerSpec()
	if i < 0 || i >= len(v.Snapshot.Drums) {
		return b, false
	}
	b.drum = &v.Snapshot.Drums[i]
	if len(v.Snapshot.Operators) > 0 && b.operators != nil {
		b.works = &v.Snapshot.Operators[0]
	}
	return b, true
}

// dial is one thing of the boiler: its name and value, a bar with marks, and what
// belongs to it, each in several wordings, longest first.
type dial struct {
	name   string
	values []string
	unit   string // of the last of the values, which has none
	says   []string
	share  float64 // of the bar; negative: it has none
	marks  [2]float64
	goes   trend
	lamps  []lampSays
}

// noMark is no mark on a bar.
const noMark = -1.0

// boiler draws the plant's strip: drum, water, fire, load, operators, lamps.
func (s *sheet) boiler() {
	at := s.p.boiler
	if at.Width() <= 0 {
		return
	}
	const part = "boiler"
	s.panel(part, at)
	dials := s.dials()
	if len(dials) == 0 {
		return
	}
	columns := (len(dials) + 1) / 2
	rows := (len(dials) + columns - 1) / columns
	pad := 0.9 * s.label().size
	wide := (at.Width() - pad) / float64(columns)
	edge := 0.04 * at.Height()
	high := (at.Height() - 2*edge) / float64(rows)
	for i := range dials {
		x, y := at.Left+pad+wide*float64(i%columns), at.Top+edge+high*float64(i/columns)
		s.dial(part, &dials[i], Rect{x, y, x + wide - pad, y + high})
	}
}

// BoilerSpots are what the boiler's panel says, for where it is not drawn; none
// without a boiler.
func BoilerSpots(v *View) []Spot {
	if !v.Boils() {
		return nil
	}
	s := new(Drawer).sheet(v)
	s.boiler()
	return s.spots
}

// dial draws one of them.
func (s *sheet) dial(part string, c *dial, at Rect) {
	if len(c.lamps) > 0 {
		s.lamps(part, c, at)
		return
	}
	name, value, small := s.label(), s.strong(), s.small()
	small.ink = Dark
	k := s.p.scale
	bar := 0.36 * name.size
	gap := 0.32 * name.size
	if c.share < 0 {
		bar = -gap
	}
	high := capShare*(name.size+small.size) + bar + 2*gap
	y := (at.Top+at.Bottom-high)/2 + capShare*name.size
	right := at.Right
	if c.goes != noTrend {
		r := 0.3 * name.size
		s.trendSign(part, c.goes, Point{right - r, y - capShare*name.size/2}, r)
		right -= 3 * r
	}
	left := s.text(part, name, at.Left, y, FromLeft, c.name) + 0.5*name.size
	room, fits := right-left, false
	for _, v := range c.values {
		fits = fits || s.width(value, v) <= room
	}
	s.first(part, value, right, y, FromRight, room, c.values...)
	y += gap
	if c.share >= 0 {
		box := Rect{at.Left, y, at.Right, y + bar}
		s.outlined(part, s.box(box, 2), White, Dark, 1.4*k)
		along := func(share float64) float64 { return box.Left + box.Width()*math.Max(0, math.Min(share, 1)) }
		s.fill(part, s.box(Rect{box.Left, box.Top, along(c.share), box.Bottom}, 0), Dark)
		for _, m := range c.marks {
			if m < 0 || m > 1 {
				continue
			}
			x := along(m)
			s.line(part, s.open(Point{x, box.Top - 0.2*bar}, Point{x, box.Bottom + 0.45*bar}), Dark, 4.2*k)
			s.line(part, s.open(Point{x, box.Top - 0.1*bar}, Point{x, box.Bottom + 0.35*bar}), White, 1.4*k)
		}
	}
	y += bar + gap + capShare*small.size
	if !fits { // it stands in the place of what else is said
		small.bold = true
		s.first(part, small, at.Left, y, FromLeft, at.Width(), c.values...)
	} else {
		says := c.says
		if c.unit != "" && s.width(value, c.values[0]) > room { // the unit stands below the number
			says = nil
			for _, w := range c.says {
				says = append(says, s.say(c.unit, ", ", w))
			}
			says = append(says, c.unit)
		}
		s.first(part, small, at.Left, y, FromLeft, at.Width(), says...)
	}
	s.spot(s.say("boiler, ", c.name), at, s.spoken(c))
}

// spoken is a dial in words.
func (s *sheet) spoken(c *dial) string {
	out := c.values[0]
	switch c.goes {
	case rising:
		out = s.say(out, ", rising")
	case falling:
		out = s.say(out, ", falling")
	}
	if len(c.says) > 0 && c.says[0] != "" {
		out = s.say(out, ", ", c.says[0])
	}
	return out
}
