package explain

import (
	"math"

	"underdisc/model/network"
	"underdisc/model/plant"
)

// bySwitch: what brings the switch over, or takes it out of the chain.
func (k *freer) bySwitch() {
	c := &k.f.Switch
	switch k.f.Why.Reason {
	case StuckMade:
		k.position(Switch, SwitchContact, k.switchPath("contact.state"), "stuck-made", "sound", CircuitWork)
	case StuckOpen:
		k.position(Switch, SwitchContact, k.switchPath("contact.state"), "stuck-open", "sound", CircuitWork)
	case ReadingStays:
		k.root()
	case ReadsOff:
		// The reading settles at what is sensed and the offset.
		if c.Made {
			k.below(Switch, ReadingOffset, "", c.Offset, some(c.Reset-c.Sensed), IsolatedWork)
		} else {
			k.above(Switch, ReadingOffset, "", c.Offset, some(c.Set-c.Sensed), IsolatedWork)
		}
	case SensedElsewhere:
		if b := &k.st.Block; b.Fitted && b.Opening < shutGate {
			k.position(Switch, BlockOpening, k.blockPath(), "shut", "open", Operators)
		}
	case SensorLags:
		k.wait(Switch, k.f.Why.In)
	}
	k.demand()
}

// root: the sensing line's root valve.
func (k *freer) root() {
	open := k.st.Control.Follows
	if open < 1 {
		k.position(Switch, RootValve, k.sensorPath("sensing-line.root-opening"), "shut", "open", Operators)
		return
	}
	now := k.st.Control.Lag
	path := "lag"
	if k.f.Switch.Made {
		now, path = k.st.Control.FallLag, "sensing-line.fall-lag"
	}
	k.below(Switch, SensingLag, k.sensorPath(path), now, some(blockedLag), IsolatedWork)
}

// demand: how far what is sensed must go, a drift of the switch that keeps it
// from tripping there, and the selector. What is sensed settles the reading an offset off.
func (k *freer) demand() {
	c := &k.f.Switch
	if c.Fitted && c.InChain && c.Contact == network.Sound && !c.Stays {
		drift := k.drift()
		if c.Made {
			k.sensed(some(c.Reset - c.Offset))
			k.above(Switch, SwitchDrift, k.switchPath("drift"), drift, some(c.Reading-(c.Reset-drift)), IsolatedWork)
		} else {
			k.sensed(some(c.Set - c.Offset))
			k.below(Switch, SwitchDrift, k.switchPath("drift"), drift, some(c.Reading-(c.Set-drift)), IsolatedWork)
		}
	}
	// A selector takes the place of what is broken; a switch that does as it
	// should is left to decide.
	if c.InChain && k.hasSelector() && (!c.Made || k.f.Why.Reason != AboveReset) {
		to := "open"
		if c.Made {
			to = "off"
		}
		k.position(Relay, SelectorPosition, k.relayPath("selector.position"), "auto", to, Operators)
	}
}

func (k *freer) byRelay() {
	switch k.f.Why.Reason {
	case SelectorOff, SelectorOpen:
		now := selector(k.f.Relay.Selector)
		// Back to auto, where the switch decides: also where it would still ask.
		k.position(Relay, SelectorPosition, k.relayPath("selector.position"), now, "auto", Operators)
	case PickUpDelay, DropOutDelay:
		k.wait(Relay, k.f.Why.In)
	case ContactOpen:
		k.position(Relay, RelayContact, k.relayPath("circuit.contact"), "open", "sound", CircuitWork)
	case ContactWelded:
		k.position(Relay, RelayContact, k.relayPath("circuit.contact"), "welded", "sound", CircuitWork)
		if k.f.Coil.Fuse == network.FuseIn {
			k.position(Coil, FusePosition, k.relayPath("circuit.fuse.state"), "in", "out", CircuitWork)
		}
	}
}

// byCoil: with a direct current I = V/R, R = R20 (1 + a (T - 20 degC)), so that
// pull-in at the current i needs
//
//	V >= Z i,  R20 <= V/(i (1 + a (T - 20))),  T <= 20 degC + (V/(i R20) - 1)/a
//
// With an alternating one the winding's part is left out.
func (k *freer) byCoil() {
	c := &k.f.Coil
	switch k.f.Why.Reason {
	case CurrentRising, CurrentDecaying, CurrentLost:
		k.wait(Coil, k.f.Why.In)
		if k.f.Why.Reason == CurrentDecaying {
			if c.DropOut < c.Current {
				k.add(k.trend(Free{Link: Coil, Quantity: CoilCurrent, Now: c.Current, Needed: c.DropOut, Below: true}, c.UntilDropOut))
			}
		} else if k.f.Why.Reason == CurrentLost {
			k.above(Coil, SupplyVoltage, k.relayPath("supply"), c.Supply, some(c.DropOut*c.Impedance), CircuitWork)
		}
	case CurrentTooLow, CoilHot:
		if k.f.Why.Reason == CurrentTooLow && (c.Needs < absurd*c.Supply || c.Supply == 0) {
			k.above(Coil, SupplyVoltage, k.relayPath("supply"), c.Supply, some(c.Needs), CircuitWork)
		}
		if !k.st.Coil.Alternating && !math.IsInf(c.PullIn, 1) && c.PullIn > 0 {
			r20 := c.Resistance / warmth(c.Temperature)
			if c.Temperature > 0 {
				// No place beside a hot valve is colder than coldCopper.
				if t := coldCopper + (c.Supply/(c.PullIn*r20)-1)/copperSlope; t > coldCopper {
					if t < c.Temperature {
						k.add(k.trend(Free{Link: Coil, Quantity: WindingTemperature, Now: c.Temperature, Needed: t, Below: true}, k.cools(t)))
					}
				}
			}
			if c.Temperature == 0 || k.f.Why.Reason == CurrentTooLow {
				turns := 1.0
				if w := k.v.Spec.Coil.Winding; w != nil {
					turns = 1 - w.Shorted
				}
				k.below(Coil, CoilResistance, k.of("coil.resistance"), r20/turns, some(c.Supply/(c.PullIn*warmth(c.Temperature))/turns), CircuitWork)
			}
		}
	case FuseGone:
		now := "blown"
		if c.Fuse == network.FuseOut {
			now = "out"
		}
		k.position(Coil, FusePosition, k.relayPath("circuit.fuse.state"), now, "in", CircuitWork)
	case EarthsFeed:
		k.add(Free{Link: Coil, Quantity: EarthFaults, Path: "", Now: float64(c.Earths), Needed: 1, Below: true, By: CircuitWork})
	}
}

// absurd is how many times its supply no coil is ever given.
const absurd = 4

// byPilot: the bond that the plunger's other forces would break, and what the
// leak or the stroke would have to be.
func (k *freer) byPilot() {
	p := &k.f.Pilot
	switch k.f.Why.Reason {
	case PilotMoving:
		k.wait(Pilot, k.f.Why.In)
	case PilotBonded:
		k.wait(Pilot, k.f.Why.In)
		if p.Hold == plant.HeldShut {
			k.below(Pilot, PlungerBond, k.of("plunger.bond-shut"), p.Bond, some(math.Max(p.Net, 0)), IsolatedWork)
		} else {
			k.below(Pilot, PlungerBond, k.of("plunger.bond-open"), p.Bond, some(math.Max(-p.Net, 0)), IsolatedWork)
		}
	case PilotLeaks:
		k.chamberLets()
	case StrokeShort:
		k.chamberEmpties()
	}
}
