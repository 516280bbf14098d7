package view

import (
	"fmt"
	"math"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// springWhyAt answers the question of a spring-loaded valve; from outside while a
// fault is hidden.
func springWhyAt(run *live.Run, t float64, valve int, u scene.Units) (*scene.Why, error) {
	s, m, err := run.At(t)
	if err != nil {
		return nil, err
	}
	i := scene.SpringAt(m, valve)
	u.Ambient = ambient(m, valve)
	st := &s.Springs[i]
	if run.Scenario.Sealed() {
		tail := words.SpringTailOf(st)
		w := &scene.Why{Sealed: true, Question: "What can be told from outside?", Answer: []string{springOutside(st, tail, m, u), hiddenInside}}
		w.Numbers = []scene.WhyNumber{{Name: "vessel", Value: u.PressureOf(st.Vessel) + " " + u.PressureName()}, {Name: "discharge", Value: (&outside{tail: tail}).state()}}
		if st.Spec.Lever != nil {
			w.Numbers = append(w.Numbers, scene.WhyNumber{Name: "the hand at the lever pulls", Value: scene.Force(st.Hand)})
		}
		return w, nil
	}
	past := explain.SpringPastOf(m, run.Sim.Events(), t, i)
	pg := explain.SpringPageOf(m, s, i, past, new(folds).of(m, i, st.HeldOff))
	return springWhyOf(&pg, st, s, m, valve, u), nil
}

// springWhyOf puts a page into words and numbers.
func springWhyOf(pg *explain.SpringPage, st *plant.SpringState, s *plant.Snapshot, m *plant.Model, valve int, u scene.Units) *scene.Why {
	f := &pg.Facts
	w := &scene.Why{Question: words.SpringQuestion(pg.Question), Answer: words.SpringAnswer(f, u), Ends: "What would change it", Next: words.SpringNext(pg.Next)}
	v := &scene.View{Snapshot: s, Model: m, Valve: valve, Spring: f, Units: u}
	for _, l := range scene.SpringLinks(v) {
		row := scene.WhyRow{Link: fmt.Sprintf("%d %s", l.Number, strings.ToLower(l.Name)), Stands: l.Stands.String(), What: "", Holds: l.Stands == scene.ActsNow}
		row.Stands += ": " + l.State[0]
		if len(l.Threshold) > 0 {
			row.Stands += ", " + l.Threshold[0]
		}
		if l.Goes != "" {
			row.Stands += ", " + l.Goes
		}
		w.Rows = append(w.Rows, row)
	}
	add := func(name, value string) { w.Numbers = append(w.Numbers, scene.WhyNumber{Name: name, Value: value}) }
	p := func(x float64) string { return u.PressureOf(x) + " " + u.PressureName() }
	o := &f.Forces
	add("inlet", p(f.Inlet))
	add("faces part at", p(f.Parting.Pressure))
	if q := f.Folds.Pop; q.Known {
		add("pops at", p(q.Value))
	}
	if q := f.Folds.Reseat; q.Known {
		add("reseats at", p(q.Value))
	}
	if f.Folds.Pop.Known && f.Folds.Reseat.Known {
		add("blowdown, of the pop, gauge", fmt.Sprintf("%.1f %%", 100*(f.Folds.Pop.Value-f.Folds.Reseat.Value)/(f.Folds.Pop.Value-u.Ambient)))
	}
	add("spring and weight", scene.Force(o.Spring+o.Weight))
	add("pressure on the seat", scene.Force(o.Seat))
	add("added by what passes", scene.Force(o.Flow()))
	if f.Hand.Fitted {
		add("hand now", scene.Force(f.Hand.Now))
		add("hand that would part the faces", scene.Force(f.Hand.ToLift))
	}
	add("seat wear, a relative index", fmt.Sprintf("%.2f", f.Wear))
	for i := range pg.Frees {
		q := &pg.Frees[i]
		side := "at least "
		if q.Below {
			side = "at most "
		}
		free := scene.WhyFree{Does: words.SpringDoes(q.Does), What: words.SpringQuantity(q.Quantity), Now: springValue(q.Quantity, q.Now, u),
			Needed: side + springValue(q.Quantity, q.Needed, u), By: words.SpringBy(q)}
		if q.Remedy {
			w.Frees = append(w.Frees, free)
		} else {
			w.Sums = append(w.Sums, free)
		}
	}
	return w
}

// springValue writes a quantity in its unit.
func springValue(q explain.SpringQuantity, x float64, u scene.Units) string {
	switch q {
	case explain.InletPressure, explain.BehindPressure:
		return u.PressureOf(x) + " " + u.PressureName()
	case explain.HandPull, explain.SpringSetting:
		return scene.Force(math.Max(0, x))
	}
	return fmt.Sprintf("%.2f mm", 1e3*x)
}
