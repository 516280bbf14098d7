package scene

import (
	"math"

	"underdisc/model/network"
)

// where fuse and faults to earth are drawn, as shares of the chain's width.
const (
	fuseFrom, fuseTo = 0.790, 0.836
	earthAt          = 0.760
	otherEarthAt     = 0.865
)

// wire draws the coil circuit from its supply to the coil, with gaps where the
// contacts are. A selector that holds the relay leaves the switch aside.
func (s *sheet) wire(inside []Shape, x across, r chainRows) {
	const part = "wire"
	live := s.st.Coil.Voltage != 0
	at := s.p.chain
	lead := func(on bool, pts ...Point) {
		k := s.p.scale
		if !on {
			s.line(part, s.open(pts...), Dark, 2.5*k, 7*k, 6*k)
			return
		}
		s.line(part, s.open(pts...), Dark, 7*k)
		s.line(part, s.open(pts...), White, 2.4*k, 5*k, 11*k)
		s.out[len(s.out)-1].Stroke.Phase = -math.Mod(s.v.Snapshot.T*1000, 16) * k
	}
	y := r.wire
	c := &s.st.Control
	start := x(supplyAt)
	made := c.Fitted && c.Made
	if c.Fitted {
		lead(true, Point{start, y}, Point{x(switchFrom), y})
		if c.Selector == network.HoldOn { // round the switch
			dip, to := y+0.085*at.Height(), x(switchTo)+0.35*(x(relayFrom)-x(switchTo))
			from := x(supplyAt) + 0.4*(x(switchFrom)-x(supplyAt))
			lead(true, Point{from, y}, Point{from, dip}, Point{to, dip}, Point{to, y}, Point{x(relayFrom), y})
		} else {
			lead(made, Point{x(switchTo), y}, Point{x(relayFrom), y})
		}
		start = x(relayTo)
		if c.Fuse != network.NoFuse {
			lead(s.contactClosed(), Point{start, y}, Point{x(fuseFrom), y})
			start = x(fuseTo)
			s.fuse(x(fuseFrom), x(fuseTo), y)
		}
	}
	k := 5.5 * s.p.scale
	s.fill(part, s.box(Rect{x(supplyAt) - k, y - k, x(supplyAt) + k, y + k}, 0), Dark)
	pts := append(make([]Point, 0, 4), Point{start, y}, Point{x(wireEnds), y})
	if coil, ok := boundsOf(inside, "coil"); ok {
		mid := (coil.Top + coil.Bottom) / 2
		pts = append(pts, Point{x(wireEnds), mid}, Point{coil.Right, mid})
	} else {
		pts = append(pts, Point{x(wireEnds), at.Bottom})
	}
	lead(live, pts...)
	for i := range min(c.Earths, 2) {
		s.earth(x([...]float64{earthAt, otherEarthAt}[i]), y)
	}
}

// contactClosed tells whether the relay's contact is closed, which need not be
// what the relay says. Of a sealed valve it is taken to follow.
func (s *sheet) contactClosed() bool {
	switch c := &s.st.Control; c.RelayContact {
	case network.StuckOn:
		return true
	case network.StuckOff:
		return false
	default:
		return c.RelayOn
	}
}

// fuse draws the fuse in the wire: in, its wire runs through; blown, the wire in
// it ends; out, its holder is empty.
func (s *sheet) fuse(left, right, y float64) {
	const part = "fuse"
	k, high := s.p.scale, 0.055*s.p.chain.Height()
	box := s.box(Rect{left, y - high, right, y + high}, 0)
	d := right - left
	switch s.st.Control.Fuse {
	case network.FuseIn:
		s.outlined(part, box, White, Dark, 2*k)
		s.line(part, s.open(Point{left, y}, Point{right, y}), Dark, 2*k)
	case network.FuseBlown:
		s.outlined(part, box, White, Dark, 2*k)
		s.line(part, s.open(Point{left, y}, Point{left + 0.32*d, y}), Dark, 2*k)
		s.line(part, s.open(Point{left + 0.68*d, y}, Point{right, y}), Dark, 2*k)
		s.line(part, s.open(Point{left + 0.38*d, y + 1.5*high}, Point{left + 0.62*d, y - 1.5*high}), Now, 3*k)
	default:
		s.line(part, box, Soft, 1.6*k, 3*k, 3*k)
	}
	s.fill(part, s.circle(Point{left, y}, 4*k), Dark)
	s.fill(part, s.circle(Point{right, y}, 4*k), Dark)
}

// earth draws a fault to earth below a place of the wire.
func (s *sheet) earth(x, y float64) {
	k, h := s.p.scale, 0.13*s.p.chain.Height()
	s.line("earth", s.open(Point{x, y}, Point{x, y + 0.45*h}), Dark, 2.4*k)
	for i, half := range [...]float64{9, 6, 3} {
		z := y + (0.45+0.22*float64(i))*h
		s.line("earth", s.open(Point{x - half*k, z}, Point{x + half*k, z}), Dark, 2*k)
	}
}

// circuitWords say of the coil's circuit what is not as it should be; empty if
// all is.
func (s *sheet) circuitWords() string {
	c := &s.st.Control
	switch {
	case !c.Fitted:
		return ""
	case c.Earths >= 2:
		return "fed by two earths"
	case c.Fuse == network.FuseBlown:
		return "fuse blown"
	case c.Fuse == network.FuseOut:
		return "fuse out"
	case c.Earths == 1:
		return "one earth fault"
	}
	return ""
}

// saysCircuit is the circuit for the text twin, to follow on.
func (s *sheet) saysCircuit() string {
	c, k, out := &s.st.Control, &s.st.Coil, ""
	if words := s.circuitWords(); words != "" {
		out = s.say(", ", words)
	} else if c.Fitted && c.Fuse == network.FuseIn {
		out = ", fuse in"
	}
	if k.Alternating {
		out = s.say(out, ", alternating supply")
	}
	if k.Temperature > 0 {
		out = s.say(out, ", winding ", s.temperature(s.v.Units, k.Temperature))
	}
	return out
}

// sensorWords name what the sensor's needle says, and that its line is shut off
// or throttled, where it is.
func (s *sheet) sensorWords() []string {
	c := &s.st.Control
	switch {
	case s.v.Sealed || c.Follows > 0.999:
		return []string{"Sensor reads", "Reads"}
	case c.Follows <= 0:
		return []string{"Root valve shut", "Shut off"}
	}
	return []string{"Root valve throttled", "Root throttled", "Throttled"}
}
