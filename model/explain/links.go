package explain

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// switchFacts reads sensor and switch.
func switchFacts(m *plant.Model, s *plant.Snapshot, v *plant.ValveMap, st *plant.ValveState) SwitchFacts {
	c := &st.Control
	f := SwitchFacts{Fitted: c.Fitted, InChain: c.Fitted && c.Selector == network.FollowSwitch, Made: c.Made,
		Reading: c.Reading, Set: c.Set, Reset: c.Reset}
	if !f.Fitted {
		return f
	}
	f.Sensed, f.SensedRate = c.Tapped, s.Look.Nodes[m.Net.Sensors[v.Sensor].Node].PRate
	f.Offset, f.Contact = c.Towards-c.Tapped, c.SwitchContact
	lag := math.Inf(1)
	if c.Follows > 0 {
		lag = c.Lag / c.Follows
		if f.Made || c.Towards < c.Reading {
			lag = c.FallLag / c.Follows
		}
	}
	f.Stays = lag > blockedLag
	if f.Made {
		f.Distance = f.Reading - f.Reset
	} else {
		f.Distance = f.Set - f.Reading
	}
	switch {
	case f.Contact != network.Sound || math.IsInf(lag, 1): // it stays as it is
	case f.Made:
		f.In = lagReaches(-f.Reading, -c.Towards, -f.SensedRate, lag, -f.Reset)
	default:
		f.In = lagReaches(f.Reading, c.Towards, f.SensedRate, lag, f.Set)
	}
	return f
}

// blockedLag is the lag, s, from which on a reading counts as one that does not
// follow: a lift is over by then. Common practice, no source.
const blockedLag = 60

// lagReaches is the time after which a first-order lag (time constant tau, s)
// that reads y and follows p + r t rises to the level, s; absent if it never
// does, or too late to tell. Its reading is
//
//	y(t) = p + r (t - tau) + (y - p + r tau) exp(-t/tau)
func lagReaches(y, p, r, tau, level float64) Opt {
	if y >= level {
		return some(0)
	}
	read := func(t float64) float64 { return p + r*(t-tau) + (y-p+r*tau)*math.Exp(-t/tau) }
	// Up to which time it rises: for good if r > 0; to a peak, where its slope
	// r + ((p - y)/tau - r) exp(-t/tau) is zero, if it is only catching up.
	var end float64
	switch {
	case r > 0:
		// With p + r t >= level + r tau the ramp alone would do; if the reading
		// starts above its ramp it gets there sooner still.
		end = math.Max(0, (level-p)/r) + tau
		for read(end) < level && end < 2*farthest {
			end *= 2
		}
	case p > y && r < 0:
		end = tau * math.Log(1-(p-y)/(tau*r))
	case p > level && r == 0:
		return after(-tau * math.Log((p-level)/(p-y)))
	default:
		return Opt{}
	}
	if read(end) < level {
		return Opt{}
	}
	return after(root(0, end, 1e-9*end, func(t float64) float64 { return read(t) - level }))
}

// relayFacts reads relay and selector.
func relayFacts(t float64, st *plant.ValveState) RelayFacts {
	c := &st.Control
	f := RelayFacts{Fitted: c.Fitted, On: c.RelayOn, Selector: c.Selector, Contact: c.RelayContact}
	if c.Fitted && !math.IsInf(c.RelayDue, 1) {
		f.In = some(math.Max(0, c.RelayDue-t))
	}
	return f
}

// asked tells whether the relay is asked to be on.
func asked(c *plant.ControlState) bool {
	switch {
	case !c.Fitted:
		return false
	case c.Selector == network.FollowSwitch:
		return c.Made
	default:
		return c.Selector == network.HoldOn
	}
}

// coilFacts reads the coil circuit. With the pull Kf i^2/(1 + gap/g0)^2 and
// the gap closed at full stroke,
//
//	pull-in  = (1 + stroke/g0) sqrt((Fp0 + Ap (pB - pD) + bond)/Kf)
//	drop-out = sqrt((Fp0 + kp stroke - bond)/Kf), zero if the bond is stronger
//
// and the current goes towards I = V/Z as i(t) = I + (i - I) exp(-t R/L); Z is
// R with a direct current. With an alternating one Z grows as the gap closes,
// and I falls.
func coilFacts(v *plant.ValveMap, st *plant.ValveState) CoilFacts {
	c, sp := &st.Coil, v.Spec
	f := CoilFacts{Current: c.Current, Voltage: c.Voltage, Steady: c.Voltage / c.Impedance,
		TimeConstant: c.Inductance / c.Resistance, Supply: c.Supply, Resistance: c.Resistance, Impedance: c.Impedance,
		Temperature: c.Temperature, Fuse: st.Control.Fuse, Earths: st.Control.Earths}
	if !st.Control.Fitted {
		f.Fuse = network.NoFuse
	}
	f.ColdSteady = c.Supply / math.Sqrt(square(c.Impedance)-square(c.Resistance)+square(c.Resistance/warmth(c.Temperature)))
	kf := c.PullFactor
	gap := 1 + st.Pilot.Stroke/sp.Coil.Gap
	shut := sp.Plunger.Preload + sp.Pilot.Area*(st.Below-st.Dump)
	open := sp.Plunger.Preload + sp.Plunger.SpringRate*st.Pilot.Stroke
	f.PullIn, f.PullInUnbonded = gap*currentFor(shut+st.Pilot.BondShut, kf), gap*currentFor(shut, kf)
	f.DropOut, f.DropOutUnbonded = currentFor(open-st.Pilot.BondOpen, kf), currentFor(open, kf)
	f.Needs = f.PullIn * c.Impedance
	if f.Current < f.PullIn && f.Steady > f.PullIn {
		f.UntilPullIn = f.until(f.PullIn)
	}
	if f.Current > f.DropOut && f.Steady < f.DropOut {
		f.UntilDropOut = f.until(f.DropOut)
	}
	return f
}

func square(x float64) float64 { return x * x }

// warmth is the resistance of copper at the temperature T, K, over that at
// 20 degC: 1 + 0.00393 (T - 293.15) (any table of materials). It is one where
// the temperature is not followed.
func warmth(t float64) float64 {
	if t == 0 {
		return 1
	}
	return 1 + copperSlope*(t-coldCopper)
}

const copperSlope, coldCopper = 0.00393, 293.15

// currentFor is the current that pulls with a force, the gap closed, A.
func currentFor(force, kf float64) float64 {
	switch {
	case force <= 0:
		return 0
	case kf == 0:
		return math.Inf(1)
	}
	return math.Sqrt(force / kf)
}

// until is the time to a current between the present and the steady one, s.
func (f *CoilFacts) until(i float64) Opt {
	return after(f.TimeConstant * math.Log((f.Current-f.Steady)/(i-f.Steady)))
}

// pilotFacts reads pilot and plunger.
func pilotFacts(v *plant.ValveMap, st *plant.ValveState) PilotFacts {
	p := &st.Pilot
	f := PilotFacts{Hold: p.Hold, Lift: p.Lift, Stroke: p.Stroke, Whole: v.Spec.Plunger.Stroke, Speed: p.Speed, Net: p.Net, LeakArea: st.PilotLeak, Flow: st.PilotFlow}
	switch p.Hold {
	case plant.HeldShut:
		f.Bond, f.Lacking = p.BondShut, p.BondShut-p.Net
	case plant.HeldOpen:
		f.Bond, f.Lacking = p.BondOpen, p.BondOpen+p.Net
	default:
		switch away := underWay * p.Stroke; {
		case p.Speed > 0 && p.Lift > away:
			f.In = after((p.Stroke - p.Lift) / p.Speed)
		case p.Speed < 0 && p.Lift < p.Stroke-away:
			f.In = after(-p.Lift / p.Speed)
		}
	}
	return f
}

// underWay is the share of its stroke after which the plunger's speed says
// when it will arrive: it leaves its end with no force to spare, so at first it
// hardly moves.
const underWay = 0.1

// A moving disc counts as floating, as good as at rest, when it would need more
// than ten seconds for its travel and ten milliseconds to double that speed: a
// disc that pops or shuts is past both within a tenth of a millisecond, one
// that follows a slow pressure, or creeps under a smoothed friction, never is.
const (
	floatSpeed = 0.1   // of the travel per second
	floatDelay = 10e-3 // s
)

// discFacts reads the disc.
func discFacts(st *plant.ValveState) DiscFacts {
	d := &st.Disc
	f := DiscFacts{Hold: d.Hold, Lift: d.Lift, Travel: d.Travel, Speed: d.Speed, Net: d.Net, Friction: d.Friction, Stick: d.Stick, Bond: bondOf(d), Contact: d.Contact}
	slow := floatSpeed * d.Travel
	f.Floats = d.Hold == plant.Moving && math.Abs(d.Speed) < slow && math.Abs(d.Acceleration) < slow/floatDelay
	if d.Hold == plant.HeldShut {
		f.LeakFlow = st.Seat
	}
	return f
}

// chamberFacts finds where the chamber is heading.
func chamberFacts(p *paths, st *plant.ValveState, th *Thresholds, disc *DiscFacts, asked bool) ChamberFacts {
	f := ChamberFacts{Pressure: st.Below, Rate: st.BelowRate, In: st.Bleed + st.Guide, Out: st.PilotFlow + st.Cover, Cover: st.Cover,
		WaterShare: st.BelowFluid.Water / st.BelowFluid.Volume}
	f.SteadyOpen = p.steady(p.full)
	f.SteadyTight = p.tight().steady(0)
	f.SteadyShut = f.SteadyTight
	if p.leak > 0 || p.aCover > 0 {
		f.SteadyShut = p.steady(p.leak)
	}
	pilot := p.leak
	f.Steady = f.SteadyShut
	if st.Pilot.Hold == plant.HeldOpen || st.Pilot.Hold == plant.Moving && st.Pilot.Net > 0 {
		pilot, f.Steady = p.full, f.SteadyOpen
	}
	f.CanEmpty = f.SteadyOpen.Known && f.SteadyOpen.Value < th.LiftBelow
	f.CanFill = f.SteadyShut.Known && f.SteadyShut.Value > th.ShutsAbove
	if disc.Hold == plant.Moving && !disc.Floats {
		return f
	}
	goal := th.ShutsAbove
	if disc.Hold != plant.HeldShut {
		f.Refill, f.RefillLimit = refill(p, &f, goal)
	}
	f.Crosses = f.Steady.Known && f.Steady.Value > goal
	if disc.Hold == plant.HeldShut || disc.Hold == plant.Sticking && asked {
		goal = th.OpensBelow
		f.Crosses = f.Steady.Known && f.Steady.Value < goal
	}
	f.Threshold = some(goal)
	f.ByRate = after((goal - f.Pressure) / (f.Rate - thresholdRate(st)))
	if f.Crosses {
		f.ByFlow = p.time(f.Pressure, goal, pilot, f.Steady)
	}
	return f
}

// refill is the time from a dumped chamber to the goal with the pilot shut, and
// the limit for it.
func refill(p *paths, f *ChamberFacts, goal float64) (takes, limit Opt) {
	dumped := math.Min(p.above, p.outlet)
	if f.SteadyOpen.Known {
		dumped = f.SteadyOpen.Value
	}
	return p.time(dumped, goal, p.leak, f.SteadyShut), some(p.refillLimit(dumped, goal))
}
