package scene

import (
	"math"
	"strconv"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/model/plant"
)

// badge draws the number of a link.
func (s *sheet) badge(part string, at Point, r float64, link int, how Standing) {
	s.out = s.stock.badge(s.out, Shape{Part: part}, at, r, link, how, math.Max(1.2*r, s.p.floor))
}

// Radius of a badge in the chain.
func (s *sheet) radius() float64 { return math.Max(14*s.p.scale, 0.78*s.p.floor) }

// chain is what leads from the pressure to the coil.
func (s *sheet) chain(inside []Shape) {
	at := s.p.chain
	s.panel("chain", at)
	w, h := at.Width(), at.Height()
	x := func(share float64) float64 { return at.Left + share*w }
	rows := chainRows{at.Top + 0.26*h, at.Top + 0.26*h + 1.27*s.strong().size, at.Top + 0.68*h, at.Bottom - 0.075*h}
	s.strip(x, rows, h)
	c := &s.st.Control
	if !c.Fitted {
		s.text("chain", s.label(), x(0.42), rows.name, FromLeft, "No switch or relay feeds the coil.")
	}
	s.wire(inside, x, rows)
	if c.Fitted {
		s.pressureSwitch(x, rows)
		s.relay(x, rows)
	}
	s.coil(x, rows)
}

// chainRows are the base lines of name and state, the height of the wire, and
// the base line below it.
type chainRows struct{ name, state, wire, below float64 }

type across func(share float64) float64

// strip is the plant: vessel, pipe, sensor.
func (s *sheet) strip(x across, r chainRows, h float64) {
	u := s.v.Units
	pipe := 0.085 * h
	vessel := Rect{x(0.014), r.wire - 0.57*h, x(0.145), r.wire + 0.07*h}
	tee := x(0.195)
	sensor := Point{x(0.285), r.wire}
	p := s.st.Vessel
	for _, run := range []Rect{{vessel.Right - 2, r.wire - pipe/2, sensor.X, r.wire + pipe/2}, {tee - pipe/2, r.wire, tee + pipe/2, r.wire + 0.16*h}} {
		s.fluid("line", s.box(run, 0), p)
		s.line("line", s.box(run, 0), Dark, 1.5*s.p.scale)
	}
	s.fluid("line", s.box(Rect{tee - pipe/2 + 1, r.wire - pipe/2 + 1, tee + pipe/2 - 1, r.wire + pipe/2}, 0), p)
	s.fluid("vessel", s.box(vessel, 0.15*h), p)
	s.line("vessel", s.box(vessel, 0.15*h), Dark, 2.2*s.p.scale)
	s.drumLevel(vessel)
	mid := (vessel.Left + vessel.Right) / 2
	name, value := s.label(), s.strong()
	gap := 0.35 * name.size
	top := (vessel.Top+vessel.Bottom)/2 - (capShare*(name.size+value.size)+gap)/2
	s.onFluid("vessel", name, mid, top+capShare*name.size, s.v.vesselName(), p)
	s.onFluid("vessel", value, mid, top+capShare*(name.size+value.size)+gap, s.pressure(u, p), p)
	s.text("vessel", s.small(), mid, r.below, Centred, u.PressureName())

	// The pipe's foot points into the cutaway.
	foot := r.wire + 0.16*h
	s.fill("line", s.polygon(Point{tee - 0.075*h, foot}, Point{tee + 0.075*h, foot}, Point{tee, foot + 0.09*h}), Dark)
	s.first("line", s.small(), tee+0.1*h, r.below, FromLeft, sensor.X+0.1*h-tee, "to the valve", "to valve", "valve")

	c := &s.st.Control
	if !c.Fitted {
		return
	}
	rad := 0.115 * h
	s.outlined("sensor", s.circle(sensor, rad), White, Dark, 2.2*s.p.scale)
	// A needle that stands by the reading.
	turn := math.Pi * (1.25 - 1.5*s.v.Range.Share(c.Reading))
	s.line("sensor", s.open(sensor, Point{sensor.X + 0.8*rad*math.Cos(turn), sensor.Y - 0.8*rad*math.Sin(turn)}), Dark, 2.2*s.p.scale)
	left := x(0.162)
	s.first("sensor", s.label(), left, r.name, FromLeft, x(0.365)-left, s.sensorWords()...)
	s.first("sensor", s.strong(), left, r.state, FromLeft, x(0.365)-left, s.pressureUnit(u, c.Reading), s.pressure(u, c.Reading))
}

// contact is a contact on the wire: made or with a gap.
func (s *sheet) contact(part string, left, right, y float64, made bool) {
	dot := 4.4 * s.p.scale
	d := right - left
	to := Point{right, y}
	if !made {
		to = Point{left + 0.88*d, y - 0.42*d}
	}
	s.line(part, s.open(Point{left, y}, to), Dark, 5*s.p.scale)
	s.fill(part, s.circle(Point{left, y}, dot), Dark)
	s.fill(part, s.circle(Point{right, y}, dot), Dark)
}

// where the wire's terminals and contacts lie, as shares of the chain's width.
const (
	supplyAt             = 0.400
	switchFrom, switchTo = 0.445, 0.490
	relayFrom, relayTo   = 0.655, 0.700
	wireEnds             = 0.982
)

// spotOf is the place of a link for the keyboard, with what it says.
func (s *sheet) spotOf(link int, at Rect, says string) {
	s.spot(s.say("link ", strconv.Itoa(link), ", ", explain.Link(link).String()), at, s.say(says, "; ", s.standWord(link)))
}

func (s *sheet) linkSpot(link int, x across, from, to float64, says string) {
	at := Rect{x(from), s.p.chain.Top, x(to), s.p.chain.Bottom}
	s.spotOf(link, at, says)
}

// link writes badge, name and state of a link.
func (s *sheet) link(part string, n int, x, right float64, r chainRows, name, state string) {
	rad := s.radius()
	s.badge(part, Point{x + 1.3*rad, (r.name-capShare*s.label().size+r.state)/2 + 1}, rad, n, s.stands(n))
	left := x + 2.9*rad
	s.first(part, s.label(), left, r.name, FromLeft, right-left, name)
	s.first(part, s.strong(), left, r.state, FromLeft, right-left, state)
}

func (s *sheet) pressureSwitch(x across, r chainRows) {
	const part = "switch"
	c, u := &s.st.Control, s.v.Units
	state := "open"
	if c.Made {
		state = "made"
	}
	switch c.SwitchContact {
	case network.StuckOn:
		state = "stuck made"
	case network.StuckOff:
		state = "stuck open"
	}
	s.link(part, 1, x(0.388), x(0.59), r, "Switch", state)
	s.contact(part, x(switchFrom), x(switchTo), r.wire, c.Made)
	// The sensor moves the contact.
	k := s.p.scale
	from := x(0.285) + 0.115*s.p.chain.Height()
	s.line(part, s.arrow(Point{from + 3*k, r.wire}, Point{x(supplyAt) - 10*k, r.wire}, 8*k), Soft, 1.8*k)
	set, reset := s.pressure(u, c.Set), s.pressure(u, c.Reset)
	trip := s.say("sets ", set)
	if c.Made {
		trip = s.say("resets ", reset)
	}
	s.first(part, s.small(), x(0.388), r.below, FromLeft, x(0.598)-x(0.388), s.say("set ", set, ", reset ", reset), trip)
	s.linkSpot(1, x, 0.388, 0.598, s.say(state, ", reading ", s.pressureUnit(u, c.Reading), ", set ", set, ", reset ", reset))
}

func (s *sheet) relay(x across, r chainRows) {
	const part = "relay"
	c := &s.st.Control
	state := "off"
	if c.RelayOn {
		state = "on"
	}
	s.link(part, 2, x(0.602), x(0.735), r, "Relay", state)
	s.contact(part, x(relayFrom), x(relayTo), r.wire, s.contactClosed())
	says, due := "", c.RelayDue
	if s.v.Sealed {
		due = math.Inf(1)
	}
	switch {
	case s.contactClosed() && !c.RelayOn:
		says = "contact welded"
	case c.RelayOn && !s.contactClosed():
		says = "contact dead"
	case c.Selector == network.HoldOn:
		says = "selector open"
	case c.Selector == network.HoldOff:
		says = "selector off"
	case !math.IsInf(due, 1) && c.RelayOn:
		says = s.say("off in ", s.span(due-s.v.Snapshot.T))
	case !math.IsInf(due, 1):
		says = s.say("on in ", s.span(due-s.v.Snapshot.T))
	}
	if says != "" {
		s.first(part, s.small(), x(0.607), r.below, FromLeft, x(0.752)-x(0.607), says)
		state = s.say(state, ", ", says)
	}
	s.linkSpot(2, x, 0.6, 0.735, state)
}

// coil shows the current against the currents that lift the pilot and let it
// drop.
func (s *sheet) coil(x across, r chainRows) {
	const part = "coil circuit"
	c := &s.st.Coil
	now := s.say(s.current(c.Current), " A")
	s.link(part, 3, x(0.748), x(0.87), r, "Coil", now)
	if s.v.Sealed {
		s.sealedCoil(x, r, now)
		return
	}
	lifts, drops := s.say(s.current(c.PullIn), " A"), s.say(s.current(c.DropOut), " A")
	end := x(wireEnds) - 10*s.p.scale
	left := x(0.757)
	one := s.say("pilot lifts at ", lifts)
	if s.st.Pilot.Hold != plant.HeldShut {
		one = s.say("pilot drops at ", drops)
		if c.DropOut <= 0 {
			one = "pilot drops at no current"
		}
	}
	if in := s.circuitWords(); in != "" {
		f := s.small()
		f.bold, f.ink = true, Dark
		s.first(part, f, left, r.below, FromLeft, end-left, in)
	} else {
		s.first(part, s.small(), left, r.below, FromLeft, end-left, one, one[len("pilot "):])
	}

	gauge := Rect{math.Max(x(0.872), x(0.748)+2.9*s.radius()+s.width(s.strong(), now)+12*s.p.scale), r.state - 0.62*s.strong().size, end - 4*s.p.scale, r.state - 0.02*s.strong().size}
	s.outlined(part, s.box(gauge, 2), White, Dark, 1.6*s.p.scale)
	top := 1.12 * math.Max(c.Supply/c.Impedance, c.Current)
	if !math.IsInf(c.PullIn, 1) {
		top = math.Max(top, 1.12*c.PullIn)
	}
	if top > 0 {
		along := func(i float64) float64 { return gauge.Left + gauge.Width()*math.Max(0, i)/top }
		s.fill(part, s.box(Rect{gauge.Left, gauge.Top, along(c.Current), gauge.Bottom}, 0), Dark)
		tick := func(i, up, down float64) {
			if i > 0 && i <= top {
				s.line(part, s.open(Point{along(i), gauge.Top - up}, Point{along(i), gauge.Bottom + down}), Dark, 2.2*s.p.scale)
			}
		}
		k := 5 * s.p.scale
		// Only the one that matters sticks out.
		if s.st.Pilot.Hold == plant.HeldShut {
			tick(c.PullIn, 1.6*k, k)
		} else {
			tick(c.DropOut, 1.6*k, k)
		}
	}
	s.linkSpot(3, x, 0.745, 1, s.say(now, ", the pilot lifts at ", lifts, " and drops at ", drops, s.saysCircuit()))
}

// sealedCoil says of the coil only what an ammeter and a voltmeter say.
func (s *sheet) sealedCoil(x across, r chainRows, now string) {
	supply := s.volts()
	s.first("coil circuit", s.small(), x(0.757), r.below, FromLeft, x(wireEnds)-x(0.757)-10*s.p.scale, supply)
	s.linkSpot(3, x, 0.745, 1, s.say(now, ", ", supply))
}
