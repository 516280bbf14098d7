package explain

import (
	"math"

	"underdisc/model/plant"
)

// coverWins tells whether more leaves the chamber past its cover than past its
// shut pilot.
func (c *chain) coverWins() bool {
	return c.f.Chamber.Cover > 0 && c.f.Chamber.Cover >= c.f.Pilot.Flow
}

// leakDecides tells whether it is what the shut pilot and the cover leak that
// keeps the chamber from where it should be. Of a seat and a pilot that both leak while
// the disc is shut, it is the one that passes more, unless the pilot's will
// lift the disc.
func (c *chain) leakDecides() bool {
	ch, th := &c.f.Chamber, &c.f.Thresholds
	leak := c.paths.leak + c.paths.aCover
	if leak <= 0 {
		return false
	}
	if c.f.Disc.Hold == plant.HeldShut {
		flow := math.Max(c.f.Pilot.Flow, ch.Cover)
		return leak > c.seat && flow > 0 && (ch.Crosses || flow >= c.f.Disc.LeakFlow)
	}
	tight, leaky := ch.SteadyTight, ch.SteadyShut
	switch {
	case !tight.Known || tight.Value <= th.Balance || c.closing():
		return false // a tight pilot would not shut it either; or it shuts
	case leaky.Value <= th.Balance:
		return true
	case tight.Value <= th.ShutsAbove:
		return false // friction decides
	case c.moves() || !c.slow():
		return !ch.CanFill
	}
	// It fills, slowly: would it do better without the leak?
	takes := c.paths.tight().time(math.Min(c.dumped(), th.ShutsAbove), th.ShutsAbove, 0, tight)
	return takes.Known && takes.Value <= ch.RefillLimit.Value
}

// dumped is the pressure of a fully dumped chamber.
func (c *chain) dumped() float64 {
	if s := c.f.Chamber.SteadyOpen; s.Known {
		return s.Value
	}
	return math.Min(c.paths.above, c.paths.outlet)
}

// moves tells whether the disc is on its way, not just floating.
func (c *chain) moves() bool { return c.f.Disc.Hold == plant.Moving && !c.f.Disc.Floats }

// opens tells which way a moving disc is going. It is the way of the forces
// where friction at rest could not hold them, so that a disc that rebounds from
// its stop is still opening; otherwise the way of its speed.
func (c *chain) opens() bool {
	d := &c.f.Disc
	if math.Abs(d.Net) >= d.Stick || d.Speed == 0 {
		return d.Net > 0
	}
	return d.Speed > 0
}
func (c *chain) opening() bool { return c.moves() && c.opens() }
func (c *chain) closing() bool { return c.moves() && !c.opens() }

// slow tells whether the chamber's refill takes longer than the limit.
func (c *chain) slow() bool {
	r := &c.f.Chamber
	return r.Refill.Known && r.Refill.Value > r.RefillLimit.Value
}

// falls tells whether the chamber is still well above its steady pressure.
func (c *chain) falls() bool {
	s := c.f.Chamber.Steady
	return s.Known && c.f.Chamber.Pressure > (1+settledShare)*s.Value
}

func (c *chain) chamber() (Verdict, bool) {
	hold := c.f.Disc.Hold
	switch {
	case !c.f.Asked && c.leakDecides(): // and the pilot has been found not to
		return differs(Chamber, CoverLeaks, c.f.Chamber.ByFlow)
	case c.f.Asked && (hold == plant.HeldShut || hold == plant.Sticking):
		return c.toOpen()
	case c.f.Asked:
		return c.toStayOpen()
	case hold != plant.HeldShut:
		return c.toShut()
	}
	return agrees()
}

// toOpen: the pilot is open, the disc on its seat or stuck short of its stop.
// The chamber has done its part once the disc would go if friction did not hold
// it.
func (c *chain) toOpen() (Verdict, bool) {
	ch, free := &c.f.Chamber, c.f.Thresholds.Balance
	switch {
	case free <= c.st.Outlet:
		return agrees() // not even an empty chamber would do: the disc's affair
	case ch.Crosses && ch.WaterShare > wetChamber:
		return Verdict{Link: Chamber, Reason: WaterFlashes}, true
	case ch.Crosses:
		return differs(Chamber, ChamberEmptying, ch.ByFlow)
	case ch.Steady.Value >= free && ch.Pressure >= free:
		return c.cannotEmpty(free)
	case c.falls():
		return Verdict{Link: Chamber, Reason: ChamberEmptying}, true
	}
	return agrees()
}

// wetChamber is the share of the chamber's volume from which on water in it
// rules how fast it empties: at 40 bar, 2 % of water has as much mass as the
// steam over it, and boils off as the pressure falls (IAPWS-IF97). The flows
// alone then tell no time.
const wetChamber = 0.02

// toStayOpen: the pilot is open, the disc at its stop, floating or moving. The
// chamber stands as asked unless what flows in will shut the disc.
func (c *chain) toStayOpen() (Verdict, bool) {
	ch, th := &c.f.Chamber, &c.f.Thresholds
	if ch.SteadyOpen.Known && ch.SteadyOpen.Value > th.ShutsAbove && c.st.Outlet < th.Balance {
		v, _ := c.cannotEmpty(th.ShutsAbove)
		v.In, v.Stays = ch.ByFlow, !ch.ByFlow.Known && !c.moves()
		return v, true
	}
	return agrees()
}

// cannotEmpty: the open pilot does not bring the chamber down to the goal.
func (c *chain) cannotEmpty(goal float64) (Verdict, bool) {
	if c.paths.end != nil {
		free := *c.paths
		free.end = nil
		if s := free.steady(free.full); s.Known && s.Value < goal {
			return differs(Chamber, DumpBacksUp, Opt{})
		}
	}
	if whole := c.f.Pilot.Whole / c.f.Pilot.Stroke; whole > 1 {
		full := (c.paths.full-c.paths.leak)*whole + c.paths.leak
		if s := c.paths.steady(full); s.Known && s.Value < goal {
			return differs(Pilot, StrokeShort, Opt{})
		}
	}
	if c.st.Guide > c.st.Bleed {
		return differs(Chamber, GuideOutruns, Opt{})
	}
	return differs(Chamber, BleedOutruns, Opt{})
}

// toShut: the pilot is shut and its leak does not decide, the disc is off its
// seat. The chamber has done its part once it would shut the disc if friction
// did not hold it; and where not even the body's pressure would, it is not the
// chamber's affair.
func (c *chain) toShut() (Verdict, bool) {
	ch, th := &c.f.Chamber, &c.f.Thresholds
	full := ch.SteadyTight
	switch {
	case c.closing(), full.Known && full.Value <= th.Balance:
		return agrees()
	case c.moves():
		return Verdict{Link: Chamber, Reason: ChamberFilling}, true
	case ch.CanFill && !c.slow():
		return differs(Chamber, ChamberFilling, ch.ByFlow)
	case ch.CanFill:
		return differs(Chamber, FillsTooSlowly, ch.ByFlow)
	case full.Known || ch.Pressure >= th.Balance:
		return agrees() // friction's affair
	}
	return differs(Chamber, NoInflow, Opt{})
}

func (c *chain) disc() (Verdict, bool) {
	f, th, full := &c.f.Disc, &c.f.Thresholds, c.f.Chamber.SteadyTight
	onSeat := f.Hold == plant.HeldShut
	switch {
	case c.moves():
		return Verdict{Link: Disc, Reason: DiscMoving}, true
	case onSeat && c.f.Asked && th.Balance <= c.st.Outlet:
		return differs(Disc, c.starved(), Opt{})
	case onSeat && c.f.Asked:
		return differs(Disc, DiscStuck, Opt{})
	case onSeat && c.f.Chamber.Crosses:
		return differs(Disc, c.unshut(), c.f.Chamber.ByFlow)
	case onSeat && c.st.SeatLeak > c.seat && f.LeakFlow > 0:
		return differs(Disc, SeatLeaks, Opt{})
	case onSeat:
		return agrees()
	case !c.f.Asked && full.Known && full.Value <= th.Balance:
		return differs(Disc, c.unshut(), Opt{})
	case !c.f.Asked && f.Floats:
		return differs(Disc, DiscFloats, Opt{})
	case !c.f.Asked:
		return differs(Disc, DiscStuck, Opt{})
	case f.Hold == plant.HeldOpen:
		return agrees()
	case f.Hold == plant.Sticking && c.f.Chamber.Pressure < th.Balance:
		return differs(Disc, DiscStuck, Opt{})
	case Balance(c.st, c.st.Disc.Travel, c.st.Disc.FullPhi) <= c.st.Outlet:
		return differs(Disc, c.starved(), Opt{}) // an empty chamber would not bring it to its stop
	}
	return differs(Disc, DiscFloats, Opt{})
}

// emptyShare is the share of the vessel's pressure below which a body behind a
// shut block valve counts as empty.
const emptyShare = 0.5

// starved says why the body does not push the disc open.
func (c *chain) starved() Reason {
	if b := &c.st.Block; b.Fitted && b.Opening < shutGate && c.st.Above < emptyShare*c.st.Vessel {
		return BodyIsolated
	}
	return TooLittleDifference
}

// shutGate is the opening below which a block valve counts as shut.
const shutGate = 0.005

// unshut says why not even a full chamber shuts the disc: the outlet pushes it
// off, or its weight does where the spring gives less.
func (c *chain) unshut() Reason {
	if c.st.Disc.Spring < c.st.Disc.Weight {
		return SpringTooWeak
	}
	return OutletHolds
}
