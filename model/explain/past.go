package explain

import (
	"math"

	"underdisc/model/fluid"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/sim"
)

// Past is what an explanation needs of the run so far. It is filled from the
// record of events, all at once (PastOf) or as they come (NewPast, Add), with
// the same result.
type Past struct {
	// When each event of this valve last happened, s.
	SwitchMade, SwitchReset                            Opt
	CoilOn, CoilOff                                    Opt
	PilotLift, PilotOpen, PilotDrop, PilotShut         Opt
	DiscLift, DiscFullOpen, DiscLeavesStop, DiscSeated Opt

	vesselReset Opt // the vessel's pressure when the switch last reset, Pa absolute

	Lifts  int             // so far
	Recent [keepLifts]Lift // the last ones, newest first; as many as there were

	names           names
	vessel          vesselAt
	body, outlet    vesselAt
	pickUp, dropOut float64 // the relay's delays
}

// keepLifts is how many lifts are kept; the rule for cycling needs four.
const keepLifts = 6

// Lift is the disc's way from its seat and back. Times in s; vessel pressures
// in Pa absolute, absent where the record has no states. What has not happened
// yet is absent.
type Lift struct {
	Asked      bool // the coil was on when it began
	Began      Opt  // the demand begins: switch made, or without that the coil's on; absent if not asked
	At         Opt  // the disc leaves its seat
	FullOpen   Opt  // is first held at its stop
	Ended      Opt  // the demand ends: switch reset, or without that the coil's off; may lie before At
	PilotShut  Opt  // after the end of demand, the pilot is last held shut
	LeavesStop Opt  // last leaves the stop
	Seated     Opt  // is held on its seat

	VesselAt, VesselFullOpen, VesselLeavesStop, VesselSeated Opt
	BodyAt, OutletAt                                         Opt // as it leaves its seat
}

// names are those under which the events of one valve go on record.
type names struct{ disc, pilot, coil, pressureSwitch string }

// sameMoment is the difference of two times, s, below which one is taken to
// have been computed from the other.
const sameMoment = 1e-6

// vesselAt finds the pressure of a volume among the variables of a state.
type vesselAt struct {
	mass, energy int // -1: not found
	size         float64
	fluid        fluid.Fluid
}

// NewPast is the empty past of the valve of that index. Any model of the run
// will do: they share their layout and names.
func NewPast(m *plant.Model, valve int) Past {
	v, n := &m.Valves[valve], m.Net
	p := Past{names: names{disc: n.Movers[v.Disc].Name, pilot: n.Movers[v.Pilot].Name, coil: n.Coils[v.Coil].Name}}
	if v.Switch >= 0 {
		p.names.pressureSwitch = n.Switches[v.Switch].Name
		p.pickUp, p.dropOut = n.Relays[v.Relay].PickUp, n.Relays[v.Relay].DropOut
	}
	p.vessel, p.body, p.outlet = volumeOf(n, v.Vessel), volumeOf(n, v.Body), volumeOf(n, v.Outlet)
	return p
}

// volumeOf finds a node among the variables; a reservoir is not there.
func volumeOf(n *network.Network, node network.Node) vesselAt {
	at := vesselAt{mass: -1, energy: -1}
	if int(node) >= len(n.Volumes) {
		return at
	}
	vol := &n.Volumes[node]
	at.size, at.fluid = vol.Size, vol.Fluid
	for i, name := range n.Layout().Vars {
		switch name {
		case vol.Name + ".mass":
			at.mass = i
		case vol.Name + ".energy":
			at.energy = i
		}
	}
	return at
}

// PastOf is the past at t of a run with these events, which are in order of
// time. Events at t itself count. It costs some tens of nanoseconds an event.
func PastOf(m *plant.Model, events []sim.Event, t float64, valve int) Past {
	p := NewPast(m, valve)
	for i := range events {
		if events[i].T > t {
			break
		}
		p.Add(&events[i])
	}
	return p
}

// Add takes up the next event of the run.
func (p *Past) Add(e *sim.Event) {
	switch e.Part {
	case p.names.disc:
		p.addDisc(e)
	case p.names.pilot:
		switch e.Name {
		case "pilot-lift":
			p.PilotLift = some(e.T)
		case "pilot-open":
			p.PilotOpen = some(e.T)
		case "pilot-drop":
			p.PilotDrop = some(e.T)
		case "pilot-shut":
			p.PilotShut = some(e.T)
			if now := &p.Recent[0]; now.Ended.Known && !now.Seated.Known {
				now.PilotShut = some(e.T)
			}
		}
	case p.names.coil:
		switch e.Name {
		case "coil-on":
			p.CoilOn = some(e.T)
		case "coil-off":
			p.CoilOff = some(e.T)
			p.coilOff(e.T)
		}
	case p.names.pressureSwitch:
		switch e.Name {
		case "switch-made":
			p.SwitchMade = some(e.T)
		case "switch-reset":
			p.SwitchReset, p.vesselReset = some(e.T), p.vessel.pressure(e.Before)
			if now := &p.Recent[0]; p.coilOn() && now.At.Known && !now.Seated.Known {
				now.Ended = some(e.T)
			}
		}
	}
}

func (p *Past) addDisc(e *sim.Event) {
	now := &p.Recent[0]
	switch e.Name {
	case "disc-lift":
		p.DiscLift = some(e.T)
		p.Lifts++
		copy(p.Recent[1:], p.Recent[:])
		*now = Lift{At: some(e.T), Asked: p.coilOn(), VesselAt: p.vessel.pressure(e.Before),
			BodyAt: p.body.pressure(e.Before), OutletAt: p.outlet.pressure(e.Before)}
		if now.Asked {
			now.Began = p.CoilOn
			if p.SwitchMade.Known && math.Abs(p.CoilOn.Value-p.SwitchMade.Value-p.pickUp) < sameMoment {
				now.Began = p.SwitchMade
			}
			if p.SwitchReset.Known && p.SwitchReset.Value > p.CoilOn.Value {
				now.Ended = p.SwitchReset
			}
		}
	case "disc-full-open":
		p.DiscFullOpen = some(e.T)
		if !now.FullOpen.Known {
			now.FullOpen, now.VesselFullOpen = some(e.T), p.vessel.pressure(e.Before)
		}
	case "disc-leaves-stop":
		p.DiscLeavesStop = some(e.T)
		now.LeavesStop, now.VesselLeavesStop = some(e.T), p.vessel.pressure(e.Before)
	case "disc-seated":
		p.DiscSeated = some(e.T)
		now.Seated, now.VesselSeated = some(e.T), p.vessel.pressure(e.Before)
	}
}

// coilOn tells whether the coil has been switched on and not off since.
func (p *Past) coilOn() bool {
	return p.CoilOn.Known && !(p.CoilOff.Known && p.CoilOff.Value >= p.CoilOn.Value)
}

// coilOff settles when the demand of the lift under way ended: at the last
// reset of the switch if that is what the relay answered after its delay,
// otherwise now, by the selector.
func (p *Past) coilOff(t float64) {
	now := &p.Recent[0]
	if now.Seated.Known || !now.Asked {
		return
	}
	if !now.Ended.Known || math.Abs(t-now.Ended.Value-p.dropOut) > sameMoment {
		now.Ended = some(t)
	}
}

func (v *vesselAt) pressure(y []float64) Opt {
	if y == nil || v.mass < 0 || v.energy < 0 {
		return Opt{}
	}
	var s fluid.State
	v.fluid.At(v.size/y[v.mass], y[v.energy]/y[v.mass], &s)
	return some(s.P)
}
