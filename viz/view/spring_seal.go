package view

import (
	"fmt"
	"math"

	"underdisc/model/explain"
	"underdisc/model/network"
	"underdisc/model/plant"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// sealSpring puts into the view of a spring-loaded valve of a run with a hidden
// fault only what a person at the plant could tell: the gauge of the vessel, that
// of the outlet, what the end of the tailpipe does, how warm that pipe is, and the
// lever with what the hand pulls, for whoever pulls it feels that. The spindle under
// its cap, forces, rings and gag are not seen, nor is what it would take to lift.
func (l *Lens) sealSpring(v *scene.View, m *plant.Model) {
	st := &l.snap.Springs[l.spring.valve]
	tail := words.SpringTailOf(st)
	v.State, v.Sentence = (&outside{tail: tail}).state(), springOutside(st, tail, m, v.Units)
	v.Marks, v.Pins = aroundOnly(v.Marks), nil
	for _, y := range [][]float64{v.Trace.Above, v.Trace.Huddle, v.Trace.Under, v.Trace.Lift, v.Trace.Flow, v.Trace.Wear, v.Trace.Up, v.Trace.Down} {
		for i := range y {
			y[i] = math.NaN()
		}
	}
	spec, ok := plant.Spec[plant.SpringValve](l.run.Scenario.Plant, st.Name)
	if !ok {
		spec = st.Spec
	}
	q := &l.plain
	q.T, q.Look = l.snap.T, &network.Look{}
	q.Valves, q.Springs = q.Valves[:0], q.Springs[:0]
	for i := range l.snap.Valves {
		q.Valves = append(q.Valves, plant.ValveState{Name: l.snap.Valves[i].Name})
	}
	for i := range l.snap.Springs {
		q.Springs = append(q.Springs, plant.SpringState{Name: l.snap.Springs[i].Name})
	}
	only := &q.Springs[l.spring.valve]
	*only = plant.SpringState{Name: st.Name, Spec: spec, Vessel: st.Vessel, VesselRate: st.VesselRate, Outlet: st.Outlet,
		W: [...]float64{0, heardAs, blownAs}[tail], Hand: st.Hand, HandToLift: math.NaN()}
	if m.Water != nil {
		only.OutletWall, only.LowPoint = felt(&st.OutletWall), felt(&st.LowPoint)
	}
	l.plainPlant()
	v.Snapshot = q
	l.spring.facts = explain.SpringFacts{Valve: st.Name, T: l.snap.T, Vessel: st.Vessel, VesselRate: st.VesselRate}
}

// heardAs and blownAs stand for a flow that is heard, and for one that blows, kg/s:
// its number is not known outside.
const (
	heardAs = 0.01
	blownAs = 1.0
)

// plainPlant takes over into the snapshot from outside what of the plant around the
// valve is no secret.
func (l *Lens) plainPlant() {
	l.plain.Drums = append(l.plain.Drums[:0], l.snap.Drums...)
	l.plain.Operators = append(l.plain.Operators[:0], l.snap.Operators...)
	l.plain.Lamps = l.plain.Lamps[:0]
	for _, lamp := range l.snap.Lamps {
		lamp.Shows = "" // how it is wired is not seen
		l.plain.Lamps = append(l.plain.Lamps, lamp)
	}
}

// springOutside is the sentence from outside.
func springOutside(st *plant.SpringState, tail words.Tail, m *plant.Model, u scene.Units) string {
	fluid := "gas"
	if m.Water != nil {
		fluid = "steam"
	}
	does := [...]string{"nothing leaves through its discharge", "a little " + fluid + " leaves through its discharge", "its discharge blows"}[tail]
	lever := ""
	if st.Hand > 0 {
		lever = ", its lever is pulled with " + scene.Force(st.Hand)
	}
	return fmt.Sprintf("The gauge reads %s %s, %s%s.", u.PressureOf(st.Vessel), u.PressureName(), does, lever)
}

// aroundOnly keeps the marks of what is no link.
func aroundOnly(marks []scene.Mark) []scene.Mark {
	out := marks[:0]
	for _, m := range marks {
		if m.Link == 0 {
			out = append(out, m)
		}
	}
	return out
}
