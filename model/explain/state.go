package explain

import "underdisc/model/plant"

// Valve explains the valve of that index at the moment of the snapshot. past
// is the run up to then (PastOf); it decides only on cycling and gives what was
// seen of closing delays.
func Valve(m *plant.Model, s *plant.Snapshot, valve int, past Past) Facts {
	v, st := &m.Valves[valve], &s.Valves[valve]
	p := pathsOf(m, s, valve)
	f := Facts{Valve: v.Name, T: s.T, Asked: asked(&st.Control)}
	f.Following = f.Asked == (st.Disc.Hold != plant.HeldShut)
	f.Thresholds = ThresholdsOf(st)
	f.Switch = switchFacts(m, s, v, st)
	f.Relay = relayFacts(s.T, st)
	f.Coil = coilFacts(v, st)
	f.Pilot = pilotFacts(v, st)
	f.Disc = discFacts(st)
	f.Chamber = chamberFacts(&p, st, &f.Thresholds, &f.Disc, f.Asked)

	c := chain{f: &f, st: st, paths: &p, seat: leakShare * st.Disc.SeatArea}
	f.Acts = c.walk()
	f.Phase = c.phase()
	f.Margin = marginOf(st, &f.Thresholds, f.Phase, f.Asked)
	if f.Phase == HungOpen {
		f.Reseat = reseatOf(st, &f.Chamber)
	}

	f.Cycle = past.cycleFacts(s.T, st.Control.Lag)
	if p := past.vesselReset; p.Known && f.Switch.Fitted {
		f.Cycle.InletDrop = some(p.Value - f.Switch.Reset)
	}
	f.State, f.Why = f.Phase, f.Acts
	if f.Cycle.Cycling && f.Phase != HungOpen {
		f.State = Cycling
		if f.Cycle.Chatter {
			f.Why = Verdict{Link: Disc, Reason: Chatters, Stays: true}
		} else {
			f.Why = Verdict{Link: Switch, Reason: DeadbandShort, Stays: true}
			if d := f.Cycle.InletDrop; d.Known && d.Value > dropShare*(f.Switch.Set-f.Switch.Reset) {
				f.Why.Reason = InletDrops
			}
		}
	}
	return f
}

// dropShare is the share of the deadband from which on the pressure that the
// line loses while the valve blows, and gives back when it shuts, is what makes
// it cycle: the deadband has then lost as much to the line as it has left.
const dropShare = 0.5

// phase names what the valve does, cycling left aside.
//
//	disc      pilot                      otherwise                     state
//	on seat   off its seat               chamber falls, or will pass   emptying
//	                                     LiftBelow
//	on seat   on its seat, not asked     pilot or seat leaks           leaking
//	on seat                                                            shut
//	moving                               by net force, or speed        opening, closing
//	at rest   asked                      chamber fills, will shut it   refilling
//	off seat  asked                                                    open
//	          relay or coil still on                                   open
//	          moving                     chamber fills, will in time   refilling
//	          moving                                                   open
//	          bonded                     will not let go               hung-open
//	          shut                       chamber will shut it in time  refilling
//	          shut                       it will not                   hung-open
//
// Hung-open thus means: nobody asks for it, nothing ahead of the chamber is
// still on its way, and as things stand now the chamber's steady pressure does
// not pass ShutsAbove, or its refill takes longer than RefillLimit.
func (c *chain) phase() State {
	ch := &c.f.Chamber
	on := c.f.Acts
	switch {
	case c.f.Disc.Hold == plant.HeldShut && c.f.Pilot.Hold != plant.HeldShut:
		if ch.Crosses || c.falls() {
			return Emptying
		}
		return Shut
	case c.f.Disc.Hold == plant.HeldShut:
		if on.Reason == PilotLeaks || on.Reason == CoverLeaks || on.Reason == SeatLeaks {
			return Leaking
		}
		return Shut
	case c.opening():
		return Opening
	case c.closing():
		return Closing
	case c.f.Asked:
		if c.f.Pilot.Hold != plant.HeldOpen && ch.Rate > 0 && ch.Crosses {
			return Refilling
		}
		return Open
	}
	switch on.Reason {
	case PilotMoving:
		if ch.Rate > 0 && ch.CanFill && !c.slow() {
			return Refilling
		}
		return Open
	case ChamberFilling:
		return Refilling
	case PilotLeaks, CoverLeaks, NoInflow, FillsTooSlowly, DiscStuck, DiscFloats, OutletHolds, SpringTooWeak:
		return HungOpen
	}
	if on.Stays && on.Link != Switch && on.Link != None {
		return HungOpen // a plunger bonded, or a coil that does not let it go
	}
	return Open
}
