package explain

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// leakShare of the seat's bore is the smallest leak area worth a word: on a
// bore of 50 mm it is 0.02 mm2, which passes 0.05 g/s of air at 12 bar. Common
// practice, no source.
const leakShare = 1e-5

// settledShare is how near to its steady pressure, as a share of it, a chamber
// counts as having got there.
const settledShare = 0.02

// chain is what the walk down the six links looks at.
type chain struct {
	f     *Facts
	st    *plant.ValveState
	paths *paths
	seat  float64 // effective area below which a leak is not worth a word
}

// walk goes from switch to disc and returns the first link that does not stand
// as asked. If all do, it is the one that the demand comes from.
//
// Each of the methods below says of its link, given that the links ahead of it
// stand as asked, whether it does too; if not, what keeps it.
func (c *chain) walk() Verdict {
	for _, look := range [...]func(*chain) (Verdict, bool){(*chain).relay, (*chain).coil, (*chain).pilot, (*chain).chamber, (*chain).disc} {
		if v, differs := look(c); differs {
			return v
		}
	}
	return c.origin()
}

// differs makes the verdict on a link that will change over after in, or stay
// if that is not known.
func differs(l Link, r Reason, in Opt) (Verdict, bool) {
	return Verdict{Link: l, Reason: r, In: in, Stays: !in.Known}, true
}

func agrees() (Verdict, bool) { return Verdict{}, false }

// origin is where the demand, or its absence, comes from.
func (c *chain) origin() Verdict {
	f := &c.f.Switch
	switch {
	case !f.Fitted:
		return Verdict{Reason: NotFitted, Stays: true}
	case !f.InChain:
		r := SelectorOff
		if c.f.Relay.Selector == network.HoldOn {
			r = SelectorOpen
		}
		return Verdict{Link: Relay, Reason: r, Stays: true}
	}
	v := Verdict{Link: Switch, Reason: BelowSet, In: f.In, Stays: !f.In.Known}
	switch {
	case !f.Made && f.Sensed >= f.Set, f.Made && f.Sensed <= f.Reset:
		v.Reason = SensorLags
	case f.Made:
		v.Reason = AboveReset
	}
	return v
}

func (c *chain) relay() (Verdict, bool) {
	f := &c.f.Relay
	if !f.Fitted || f.On == c.f.Asked {
		return agrees()
	}
	v := Verdict{Link: Relay, Reason: DropOutDelay, In: f.In}
	if c.f.Asked {
		v.Reason = PickUpDelay
	}
	return v, true // its delay ends, known or not
}

// coil: the current is compared with what the plunger would need without a
// bond, so that a bonded plunger is not put down to the coil.
func (c *chain) coil() (Verdict, bool) {
	f, p := &c.f.Coil, &c.f.Pilot
	lifting := p.Hold == plant.Moving && p.Net > 0
	switch {
	case c.f.Asked && p.Hold == plant.HeldShut:
		switch {
		case f.Current >= f.PullInUnbonded:
			return agrees()
		case f.Steady > f.PullInUnbonded:
			return differs(Coil, CurrentRising, f.until(f.PullInUnbonded))
		}
		return differs(Coil, CurrentTooLow, Opt{})
	case c.f.Asked:
		if f.Steady >= f.DropOut {
			return agrees()
		}
		return differs(Coil, CurrentLost, f.UntilDropOut)
	case p.Hold == plant.HeldOpen && f.Current > f.DropOutUnbonded, lifting:
		in := Opt{}
		if f.Steady < f.DropOutUnbonded && f.Current > f.DropOutUnbonded {
			in = f.until(f.DropOutUnbonded)
		}
		v, _ := differs(Coil, CurrentDecaying, in)
		v.Stays = p.Hold == plant.HeldOpen && f.Steady >= f.DropOutUnbonded
		return v, true
	}
	return agrees()
}

func (c *chain) pilot() (Verdict, bool) {
	f := &c.f.Pilot
	switch {
	case f.Hold == plant.Moving:
		return Verdict{Link: Pilot, Reason: PilotMoving, In: f.In}, true
	case c.f.Asked && f.Hold == plant.HeldShut:
		return differs(Pilot, PilotBonded, c.f.Coil.UntilPullIn)
	case !c.f.Asked && f.Hold == plant.HeldOpen:
		return differs(Pilot, PilotBonded, c.f.Coil.UntilDropOut)
	case !c.f.Asked && c.leakDecides():
		return differs(Pilot, PilotLeaks, c.f.Chamber.ByFlow)
	}
	return agrees()
}

// leakDecides tells whether it is the leak of the shut pilot that keeps the
// chamber from where it should be. Of a seat and a pilot that both leak while
// the disc is shut, it is the one that passes more, unless the pilot's will
// lift the disc.
func (c *chain) leakDecides() bool {
	ch, th := &c.f.Chamber, &c.f.Thresholds
	if c.paths.leak <= 0 {
		return false
	}
	if c.f.Disc.Hold == plant.HeldShut {
		flow := c.f.Pilot.Flow
		return c.paths.leak > c.seat && flow > 0 && (ch.Crosses || flow >= c.f.Disc.LeakFlow)
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
	takes := c.paths.time(math.Min(c.dumped(), th.ShutsAbove), th.ShutsAbove, 0, tight)
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
	case ch.Crosses:
		return differs(Chamber, ChamberEmptying, ch.ByFlow)
	case ch.Steady.Value >= free && ch.Pressure >= free:
		return c.cannotEmpty(free)
	case c.falls():
		return Verdict{Link: Chamber, Reason: ChamberEmptying}, true
	}
	return agrees()
}

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
		return differs(Disc, TooLittleDifference, Opt{})
	case onSeat && c.f.Asked:
		return differs(Disc, DiscStuck, Opt{})
	case onSeat && c.f.Chamber.Crosses:
		return differs(Disc, OutletHolds, c.f.Chamber.ByFlow)
	case onSeat && c.st.SeatLeak > c.seat && f.LeakFlow > 0:
		return differs(Disc, SeatLeaks, Opt{})
	case onSeat:
		return agrees()
	case !c.f.Asked && full.Known && full.Value <= th.Balance:
		return differs(Disc, OutletHolds, Opt{})
	case !c.f.Asked && f.Floats:
		return differs(Disc, DiscFloats, Opt{})
	case !c.f.Asked:
		return differs(Disc, DiscStuck, Opt{})
	case f.Hold == plant.HeldOpen:
		return agrees()
	case f.Hold == plant.Sticking && c.f.Chamber.Pressure < th.Balance:
		return differs(Disc, DiscStuck, Opt{})
	case Balance(c.st, c.st.Disc.Travel, c.st.Disc.FullPhi) <= c.st.Outlet:
		return differs(Disc, TooLittleDifference, Opt{}) // an empty chamber would not bring it to its stop
	}
	return differs(Disc, DiscFloats, Opt{})
}
