package view

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// outside is what a person at the plant can read, hear or feel: all that may be
// said while a fault is hidden.
type outside struct {
	t                float64
	vessel, reading  float64 // Pa absolute
	set, reset       float64 // as the switch's plate says, Pa absolute
	fitted           bool    // there are sensor, switch and relay
	made, relayOn    bool
	selector         network.Demand
	current, voltage float64 // of the coil, A, V
	tail             tail
	joint            bool        // something leaves at the cover's joint
	fluid            string      // what leaves, in a word
	leaves           float64     // through the tailpipe, kg/s: its loudness
	since            float64     // how long the tailpipe has done so, s; NaN if that is not known
	coilSince        explain.Opt // when the coil was last switched on or off, s
	switchSince      explain.Opt // when the switch last made or reset, s
}

// tail is what the end of the tailpipe does.
type tail = words.Tail

const (
	still  = words.Still
	hisses = words.Hisses
	blows  = words.Blows
)

// outsideOf reads the plant from outside.
func outsideOf(run *live.Run, m *plant.Model, valve int, st *plant.ValveState, past *explain.Past, t float64) outside {
	c := &st.Control
	o := outside{t: t, vessel: st.Vessel, reading: c.Reading, fitted: c.Fitted, made: c.Made, relayOn: c.RelayOn, selector: c.Selector,
		current: st.Coil.Current, voltage: st.Coil.Voltage, since: math.NaN()}
	o.tail, o.leaves = words.TailOf(st)
	o.joint = words.LeaksAtCover(st)
	o.fluid = "gas"
	if m.Water != nil {
		o.fluid = "steam"
	}
	o.set, o.reset = plateOf(run, m, valve, t)
	switch { // what blows began to when the lift began, and was still when it ended
	case o.tail == blows && past.DiscLift.Known && !(past.DiscSeated.Known && past.DiscSeated.Value >= past.DiscLift.Value):
		o.since = t - past.DiscLift.Value
	case o.tail == still && past.DiscSeated.Known && past.DiscSeated.Value >= past.DiscLift.Value:
		o.since = t - past.DiscSeated.Value
	}
	o.coilSince = past.CoilOff
	if c.RelayOn {
		o.coilSince = past.CoilOn
	}
	o.switchSince = past.SwitchReset
	if c.Made {
		o.switchSince = past.SwitchMade
	}
	return o
}

// plateOf is the set and reset pressure of a valve's switch as its plate says:
// without what a fault has made of them.
func plateOf(run *live.Run, m *plant.Model, valve int, t float64) (set, reset float64) {
	v := &m.Valves[valve]
	if v.Switch < 0 {
		return 0, 0
	}
	name := m.Net.Switches[v.Switch].Name
	if sw, ok := plant.Spec[plant.Switch](run.Scenario.Plant, name); ok {
		set, reset = sw.Set, sw.Reset
	}
	for _, c := range run.Scenario.Commands { // set by hand
		if c.At > t {
			continue
		}
		switch c.Path {
		case name + ".set":
			set = c.Value.Number
		case name + ".reset":
			reset = c.Value.Number
		}
	}
	return set, reset
}

// seal puts into a view of a run with a hidden fault only what a person at the
// plant could tell: the state and the sentence are those of the outside, marks
// and pins those of switch and relay, the curves those of vessel, coil and outlet gauge.
// Snapshot and facts are cleared of the inside too, so that nothing drawn from
// them can give it away; sizes stay. The model is that of the plant with its
// fault: nothing of it may be shown.
func (l *Lens) seal(v *scene.View, m *plant.Model) {
	st := &l.snap.Valves[l.valve]
	o := outsideOf(l.run, m, l.valve, st, &l.log.past, l.snap.T)
	v.State, v.Sentence = o.state(), o.sentence(v.Units)
	v.Marks = readable(v.Marks)
	l.pins = readable(append(l.pins[:0], l.log.pins[:]...))
	v.Pins = l.pins
	for _, y := range [][]float64{v.Trace.Above, v.Trace.Below, v.Trace.LiftBelow, v.Trace.DropAbove, v.Trace.Lift, v.Trace.Pilot} {
		for i := range y {
			y[i] = math.NaN()
		}
	}
	spec, ok := plant.Spec[plant.PilotedValve](l.run.Scenario.Plant, st.Name)
	if !ok {
		spec = m.Valves[l.valve].Spec
	}
	l.plain.T, l.plain.Look, l.plain.Valves = l.snap.T, &network.Look{}, l.plain.Valves[:0]
	for i := range l.snap.Valves {
		l.plain.Valves = append(l.plain.Valves, plant.ValveState{Name: l.snap.Valves[i].Name})
	}
	only := &l.plain.Valves[l.valve]
	c := &st.Control
	only.Vessel, only.VesselRate = o.vessel, st.VesselRate
	only.Control = plant.ControlState{Fitted: c.Fitted, Reading: c.Reading, Made: c.Made, RelayOn: c.RelayOn, Selector: c.Selector, Fuse: network.NoFuse}
	only.Block = st.Block                        // its stem is seen
	only.Seat, only.Outlet = o.leaves, st.Outlet // heard at the end of the tailpipe; read at its gauge
	only.Control.Set, only.Control.Reset, only.Control.Lag, only.Control.RelayDue = o.set, o.reset, 0, math.Inf(1)
	only.Coil = plant.CoilState{Current: o.current, Voltage: o.voltage, Supply: o.voltage, Resistance: spec.Coil.Resistance}
	if m.Water != nil { // what a hand near them feels
		only.DumpWall, only.OutletWall, only.LowPoint = felt(&st.DumpWall), felt(&st.OutletWall), felt(&st.LowPoint)
	}
	only.Disc = plant.DiscState{Travel: spec.Disc.Travel, SeatArea: st.Disc.SeatArea, GuideArea: st.Disc.GuideArea}
	only.Pilot.Stroke = spec.Plunger.Stroke
	l.plain.Springs = l.plain.Springs[:0]
	for i := range l.snap.Springs {
		l.plain.Springs = append(l.plain.Springs, plant.SpringState{Name: l.snap.Springs[i].Name})
	}
	l.plainPlant()
	v.Snapshot = &l.plain
	l.facts = explain.Facts{Valve: l.facts.Valve, T: l.facts.T, Asked: l.facts.Asked, State: o.sign(), Phase: o.sign(),
		Switch: explain.SwitchFacts{Fitted: o.fitted, InChain: l.facts.Switch.InChain, Made: o.made, Reading: o.reading, Sensed: o.vessel, Set: o.set, Reset: o.reset},
		Relay:  explain.RelayFacts{Fitted: o.fitted, On: o.relayOn, Selector: o.selector},
		Coil:   explain.CoilFacts{Current: o.current, Voltage: o.voltage}}
}

// felt is what can be felt of a wall: how warm it is.
func felt(w *plant.WallState) plant.WallState {
	return plant.WallState{Fitted: w.Fitted, T: w.T}
}

// feelable tells whether a plant is one of steam with walls outside the valve.
func feelable(m *plant.Model, valve int) bool {
	v := &m.Valves[valve]
	return m.Water != nil && (v.OutletWall >= 0 || v.DumpWall >= 0)
}

// readable keeps the marks of switch and relay, and those of the plant around the
// valve, which are no links.
func readable(marks []scene.Mark) []scene.Mark {
	out := marks[:0]
	for _, m := range marks {
		if m.Link == 0 || m.Link == int(explain.Switch) || m.Link == int(explain.Relay) {
			out = append(out, m)
		}
	}
	return out
}

// windowOutside is the window of the charts of a run with a hidden fault: it is
// chosen by the switch alone. Where walls can be felt it reaches back to the
// switch's last change, for they warm and cool over minutes.
func windowOutside(p *explain.Past, asked, walls bool, t float64) window {
	at, name := p.SwitchReset, "the switch reset"
	if asked {
		at, name = p.SwitchMade, "the switch made"
	}
	w := window{}
	span := longest
	if walls {
		if at.Known {
			w.zero, w.zeroName = at.Value, name
		}
		return w.spanning(math.Min(math.Max((t-w.zero)/0.86, quiet), atRest), t)
	}
	if at.Known && t-at.Value <= longest {
		w.zero, w.zeroName = at.Value, name
		span = math.Max((t-at.Value)/0.86, quiet)
	}
	return w.spanning(span, t)
}
