package view

import (
	"underdisc/model/explain"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// hiddenInside is said in place of what a run with a hidden fault must not tell.
const hiddenInside = "What is inside this valve is hidden, and so is what holds it, until it is revealed."

// WhyAt answers the question of one valve of a run at a time (s) that its
// history covers. The page is nil of a spring-loaded valve, and while a fault is
// hidden: then the answer is what a person at the plant could give.
func WhyAt(run *live.Run, t float64, valve int, u scene.Units) (*scene.Why, *explain.Page, error) {
	s, m, err := run.At(t)
	if err != nil {
		return nil, nil, err
	}
	if scene.SpringAt(m, valve) >= 0 {
		w, err := springWhyAt(run, t, valve, u)
		return w, nil, err
	}
	u.Ambient = ambient(m, valve)
	st := &s.Valves[valve]
	past := explain.PastOf(m, run.Sim.Events(), t, valve)
	if run.Scenario.Sealed() {
		o := outsideOf(run, m, valve, st, &past, t)
		return o.why(u), nil, nil
	}
	pg := explain.PageOf(m, s, valve, past)
	return WhyOf(&pg, st, u), &pg, nil
}

// why is the answer from outside.
func (o *outside) why(u scene.Units) *scene.Why {
	w := &scene.Why{Sealed: true, Question: "What can be told from outside?", Answer: []string{o.sentence(u), hiddenInside}}
	add := func(name, value string) { w.Numbers = append(w.Numbers, scene.WhyNumber{Name: name, Value: value}) }
	add("vessel", u.PressureOf(o.vessel)+" "+u.PressureName())
	if o.fitted {
		add(words.Quantity(explain.Reading), shown(explain.Reading, o.reading, u))
		add(words.Quantity(explain.SetPressure), shown(explain.SetPressure, o.set, u))
		add(words.Quantity(explain.ResetPressure), shown(explain.ResetPressure, o.reset, u))
		add("switch", map[bool]string{true: "made", false: "not made"}[o.made])
		add("relay", map[bool]string{true: "on", false: "off"}[o.relayOn])
	}
	add(words.Quantity(explain.CoilVoltage), words.Voltage(o.voltage))
	add(words.Quantity(explain.CoilCurrent), scene.Current(o.current)+" A")
	add("tailpipe", o.state())
	return w
}
