package explain

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// Page answers the question that a valve's state raises: why it will not
// reseat, why it will not lift, why it cycles, or what keeps it where it is.
// Everything in it is computed from one snapshot and the run so far.
type Page struct {
	Facts    Facts
	Question Question

	Vessel, Above, Outlet float64 // Pa absolute
	// Leaves is the chamber pressure at which the disc leaves where it stands:
	// ShutsAbove off its seat, OpensBelow on it; Pa absolute.
	Leaves float64
	Seat   ToSeat
	Ratio  LeakRatio
	Links  [6]LinkRow
	Frees  []Free
	Next   []Check // in this order; empty where nothing is to be done
	Cycle  CycleNumbers
}

// LinkRow is how one of the six links stands.
type LinkRow struct {
	Link   Link
	Fitted bool
	Asked  bool // to be open: made, on, live, off its seat, empty
	Stands bool // as asked
	Holds  bool // it is the one that holds the valve, or acts

	Quantity Quantity // what is compared
	Now      float64
	// Threshold is where the link changes over; absent where no number does it.
	Threshold Opt
}

// ToSeat is the time to the seat as things go now, s; absent where it does not
// get there. page_seat.go says how it is got.
type ToSeat struct {
	Chamber Opt // until the chamber reaches the threshold
	Stroke  Opt // from there, or from where the disc moves, to the seat
	Total   Opt
}

// LeakRatio compares what leaves the chamber with what enters it, as effective
// areas got from the flows: a flow over the mass flux that the pilot, or the
// bore of the bleed, passes per area at the same pressures.
//
//	Leak  = in(pB)/G_pilot(pB)   what would hold the chamber where it is
//	Bleed = in(pL)/G_bore(pL)    bore and guide together
//	Seats = in(pL)/G_pilot(pL)/Bleed, pL = ShutsAbove, DropAbove on the seat
//	Holds = in(pL)/G_pilot(pL)/Bleed', pL = LiftBelow, Bleed' at that pL
//
// A leak in place of the pilot's whose ratio is above Seats keeps the disc at
// its stop, one above Holds lifts it off its seat, at the present pressures in
// body and outlet. Absent where the pressure in question is none that the
// chamber can have.
type LeakRatio struct {
	Leak, Bleed  Opt // m2, effective
	Now          Opt
	Seats, Holds Opt
}

// PageOf makes the page of the valve of that index at the moment of the
// snapshot. past is the run up to then.
func PageOf(m *plant.Model, s *plant.Snapshot, valve int, past Past) Page {
	st := &s.Valves[valve]
	paths := pathsOf(m, s, valve)
	pg := Page{Facts: Valve(m, s, valve, past), Vessel: st.Vessel, Above: st.Above, Outlet: st.Outlet}
	f := &pg.Facts
	pg.Question = questionOf(f, st)
	if r, again := past.again(f); again && pg.Question == Rests {
		pg.Question, f.Why = Cycles, Verdict{Link: Switch, Reason: r, Stays: true}
	}
	pg.Leaves = f.Thresholds.ShutsAbove
	if st.Disc.Hold == plant.HeldShut {
		pg.Leaves = f.Thresholds.OpensBelow
	}
	pg.Ratio = ratioOf(&paths, f, leakShare*st.Disc.SeatArea)
	pg.Seat = toSeat(&paths, f, &m.Valves[valve], st)
	pg.Links = rowsOf(f)
	pg.Cycle = past.numbers(f)
	k := freer{m: m, v: &m.Valves[valve], st: st, p: &paths, f: f, pg: &pg}
	k.all()
	pg.Frees = k.out
	pg.Next = nextOf(&pg)
	return pg
}

// questionOf finds the question. A disc should be on its seat if it is not asked
// open, if what is sensed is down to the reset pressure, or if a selector or a
// contact alone asks; it should be off it if it is asked, or if the vessel or
// the place that is sensed is at the set pressure.
func questionOf(f *Facts, st *plant.ValveState) Question {
	c := &f.Switch
	onSeat := f.Disc.Hold == plant.HeldShut
	switch {
	case f.State == Cycling:
		return Cycles
	case onSeat && (f.Asked || c.Fitted && math.Max(st.Vessel, c.Sensed) >= c.Set):
		return WontLift
	case onSeat:
		return Rests
	case !f.Asked, f.State == HungOpen, c.Fitted && c.Sensed <= c.Reset,
		f.Why.Reason == StuckMade, f.Why.Reason == SelectorOpen:
		return WontReseat
	}
	return Rests
}

// leaking is the leak now. A chamber that is near its steady pressure shows it by
// its flows; of one on its way it is what the pilot and the cover have, if that
// is more than the least worth a word.
func leaking(p *paths, f *Facts, least float64) Opt {
	ch := &f.Chamber
	leak := p.leak + p.aCover
	switch {
	case ch.Steady.Known && math.Abs(ch.Pressure-ch.Steady.Value) <= settledShare*ch.Steady.Value:
		return p.leakFor(ch.Pressure, 0)
	case f.Pilot.Hold == plant.HeldShut && leak > least:
		return some(leak)
	}
	return Opt{}
}

func ratioOf(p *paths, f *Facts, least float64) LeakRatio {
	var r LeakRatio
	bleed := func(pL float64) Opt {
		if g := p.boreFlux(pL); g > 0 {
			return some(p.in(pL) / g)
		}
		return Opt{}
	}
	seats := f.Thresholds.ShutsAbove
	if f.Disc.Hold == plant.HeldShut {
		seats = f.Thresholds.DropAbove
	}
	r.Bleed = bleed(seats)
	if !r.Bleed.Known {
		r.Bleed = bleed(f.Chamber.Pressure)
	}
	r.Leak = leaking(p, f, least)
	if b := r.Bleed; b.Known && b.Value > 0 && r.Leak.Known {
		r.Now = some(r.Leak.Value / b.Value)
	}
	at := func(pL float64) Opt {
		l, b := p.leakFor(pL, 0), bleed(pL)
		if !l.Known || !b.Known || b.Value <= 0 {
			return Opt{}
		}
		return some(l.Value / b.Value)
	}
	r.Seats, r.Holds = at(seats), at(f.Thresholds.LiftBelow)
	return r
}

// noCurrent is what is left of a current that has died away, A.
const noCurrent = 1e-3

func rowsOf(f *Facts) [6]LinkRow {
	c, th := &f.Switch, &f.Thresholds
	onSeat := f.Disc.Hold == plant.HeldShut
	trip := c.Set
	if c.Made {
		trip = c.Reset
	}
	should := c.Made // what the switch ought to be by what is sensed
	switch {
	case c.Sensed >= c.Set:
		should = true
	case c.Sensed <= c.Reset:
		should = false
	}
	live := f.Coil.Voltage > 0
	pulls, drops := f.Coil.PullIn, f.Pilot.Hold != plant.HeldShut
	if drops {
		pulls = f.Coil.DropOut
	}
	open := f.Pilot.Hold == plant.HeldOpen || f.Pilot.Hold == plant.Moving && f.Pilot.Net > 0
	end := Opt{}
	if f.Asked {
		end = some(f.Pilot.Whole)
	} else {
		end = some(0)
	}
	empty := f.Chamber.Pressure < th.ShutsAbove
	if onSeat {
		empty = f.Chamber.Pressure < th.OpensBelow
	}
	fitted := f.Relay.Fitted
	rows := [6]LinkRow{
		{Link: Switch, Fitted: c.Fitted, Asked: should, Stands: c.Made == should, Quantity: Reading, Now: c.Reading, Threshold: some(trip)},
		{Link: Relay, Fitted: fitted, Asked: f.Asked, Stands: f.Relay.On == f.Asked && live == f.Relay.On, Quantity: CoilVoltage, Now: f.Coil.Voltage},
		{Link: Coil, Fitted: fitted, Asked: f.Asked, Stands: (f.Coil.Current >= pulls && f.Coil.Current > noCurrent) == f.Asked || f.Asked && pulls == 0, Quantity: CoilCurrent, Now: f.Coil.Current, Threshold: some(pulls)},
		{Link: Pilot, Fitted: true, Asked: f.Asked, Stands: open == f.Asked && (f.Pilot.Hold == plant.HeldOpen || f.Pilot.Hold == plant.HeldShut), Quantity: PilotLift, Now: f.Pilot.Lift, Threshold: end},
		{Link: Chamber, Fitted: true, Asked: f.Asked, Stands: empty == f.Asked, Quantity: ChamberPressure, Now: f.Chamber.Pressure, Threshold: f.Chamber.Threshold},
		{Link: Disc, Fitted: true, Asked: f.Asked, Stands: onSeat != f.Asked, Quantity: DiscLift, Now: f.Disc.Lift, Threshold: some(map[bool]float64{true: f.Disc.Travel}[f.Asked])},
	}
	// A dead coil that is not asked needs no current to stand as asked, and one
	// whose contact or selector alone decides has nothing to compare.
	if c.Contact != network.Sound || !c.InChain {
		rows[0].Threshold.Known = rows[0].Threshold.Known && c.InChain && c.Contact == network.Sound
	}
	if math.IsInf(pulls, 1) || pulls <= 0 { // no current decides
		rows[2].Threshold = Opt{}
	}
	// Where the selector is what holds the valve, the switch would have the
	// relay otherwise; else it is the selector that asks.
	if r := f.Why.Reason; c.Fitted && (r == SelectorOff || r == SelectorOpen) {
		rows[1].Asked, rows[1].Stands = c.Made, f.Relay.On == c.Made
	}
	if f.Acts.Link == Disc { // the walk found that the chamber has done its part
		rows[4].Stands = true
	}
	for i := range rows {
		rows[i].Holds = rows[i].Link == f.Why.Link
		if rows[i].Holds && unasked(f.Why.Reason) {
			rows[i].Stands = false
		}
	}
	return rows
}

// unasked tells whether a reason is one of a link that does not do its part
// though its position is as asked: a leak, a stroke that is short.
func unasked(r Reason) bool {
	switch r {
	case PilotLeaks, StrokeShort, CoverLeaks, SeatLeaks, ReadsOff, ReadingStays, SensorLags, StuckMade, StuckOpen, SensedElsewhere,
		ContactOpen, ContactWelded, FuseGone, EarthsFeed:
		return true
	}
	return false
}

// OnSeat tells whether the disc rests on its seat.
func (pg *Page) OnSeat() bool { return pg.Facts.Disc.Hold == plant.HeldShut }
