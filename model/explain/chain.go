package explain

import (
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
	for _, look := range [...]func(*chain) (Verdict, bool){(*chain).relay, (*chain).circuit, (*chain).coil, (*chain).pilot, (*chain).chamber, (*chain).disc} {
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
	return Verdict{Link: Switch, Reason: c.sensing(), In: f.In, Stays: !f.In.Known}
}

// sensing says what it is about a switch. What is sensed is past the trip point
// where it should have brought the switch over.
func (c *chain) sensing() Reason {
	f := &c.f.Switch
	past := !f.Made && f.Sensed >= f.Set || f.Made && f.Sensed <= f.Reset
	settled := f.Sensed + f.Offset
	switch {
	case f.Made && f.Contact == network.StuckOn && f.Reading < f.Set:
		return StuckMade
	case !f.Made && f.Contact == network.StuckOff && f.Reading >= f.Set:
		return StuckOpen
	case past && f.Stays:
		return ReadingStays
	case past && (!f.Made && settled < f.Set || f.Made && settled > f.Reset):
		return ReadsOff
	case past:
		return SensorLags
	case f.Made:
		return AboveReset
	case c.st.Vessel >= f.Set && !(settled >= f.Set):
		return SensedElsewhere
	}
	return BelowSet
}

// circuit: whether voltage is on the coil, given that the relay stands as
// asked.
func (c *chain) circuit() (Verdict, bool) {
	f, r := &c.f.Coil, &c.f.Relay
	live := f.Voltage > 0
	switch {
	case !r.Fitted || f.Supply == 0 || live == c.f.Asked:
		return agrees()
	case live && f.Earths >= 2:
		return differs(Coil, EarthsFeed, Opt{})
	case live && r.Contact == network.StuckOn:
		return differs(Relay, ContactWelded, Opt{})
	case live:
		return agrees()
	}
	in := Opt{}
	if c.f.Pilot.Hold == plant.HeldOpen {
		in = f.UntilDropOut
	}
	switch {
	case f.Fuse == network.FuseBlown || f.Fuse == network.FuseOut:
		return differs(Coil, FuseGone, in)
	case r.Contact == network.StuckOff:
		return differs(Relay, ContactOpen, in)
	}
	return agrees()
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
		case f.Temperature > coldCopper && f.ColdSteady > f.PullInUnbonded:
			return differs(Coil, CoilHot, Opt{})
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
	case !c.f.Asked && c.leakDecides() && !c.coverWins():
		return differs(Pilot, PilotLeaks, c.f.Chamber.ByFlow)
	}
	return agrees()
}
