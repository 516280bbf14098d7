package view

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/paper"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// Options are what the one who looks chooses.
type Options struct {
	Size      scene.Point // zero: 1600 by 900
	Units     scene.Units // Ambient is filled in from the plant
	Valve     int
	Projector bool
	Ahead     bool         // draw what is known of the time after the moment, too
	Range     *scene.Range // of the colours; nil: RangeOf the run
}

// At is the view of a run at a time that its history covers.
func At(run *live.Run, t float64, o Options) (*scene.View, error) {
	s, m, err := run.At(t)
	if err != nil {
		return nil, err
	}
	events := run.Sim.Events()
	past := explain.PastOf(m, events, t, o.Valve)
	facts := explain.Valve(m, s, o.Valve, past)
	v := &scene.View{Size: o.Size, Snapshot: s, Model: m, Valve: o.Valve, Facts: &facts, State: words.State(facts.State),
		Title: run.Scenario.Name, Units: o.Units, Projector: o.Projector, Measure: Measure}
	if v.Size.X <= 0 || v.Size.Y <= 0 {
		v.Size = scene.Point{X: 1600, Y: 900}
	}
	v.Units.Ambient = ambient(m, o.Valve)
	if o.Range != nil {
		v.Range = *o.Range
	} else {
		v.Range = RangeOf(run, o.Valve)
	}
	v.Sentence = Sentence(&facts, &s.Valves[o.Valve], v.Units)
	p := partsOf(m, o.Valve)
	v.Pins = p.pins(events, t)
	w := windowOf(&facts, &past, t)
	v.Trace, err = trace(run, o.Valve, w, t, o.Ahead, p)
	known := t
	if o.Ahead {
		known = v.Trace.To
	}
	v.Marks = p.marks(events, v.Trace.From, known, t)
	return v, err
}

// Measure is the width of a text as it is painted on paper.
func Measure(size float64, bold bool, text string) float64 {
	return paper.TextWidth(paper.Font{Size: size, Bold: bold}, text)
}

// ambient is the pressure that gauge pressures count from: that of the
// surroundings that the valve discharges into in the end.
func ambient(m *plant.Model, valve int) float64 {
	pipe, ok := plant.Spec[plant.Tailpipe](m.Plant, m.Valves[valve].Spec.Outlet)
	if !ok {
		return 0
	}
	air, ok := plant.Spec[plant.Surroundings](m.Plant, pipe.To)
	if !ok {
		return 0
	}
	return air.Pressure
}

// RangeOf is the span of pressures that the colours of a run stand for: from
// nothing to a whole bar above the highest pressure in the vessel that the run
// has seen so far at an event or now, and above the pressure at which the switch
// makes.
func RangeOf(run *live.Run, valve int) scene.Range {
	now := run.Now()
	high := math.Max(now.Valves[valve].Vessel, now.Valves[valve].Control.Set)
	for i := range run.Sim.Events() {
		e := &run.Sim.Events()[i]
		if e.Name == "disc-lift" || e.Name == "switch-made" {
			_, after := run.AtEvent(e)
			high = math.Max(high, after.Valves[valve].Vessel)
		}
	}
	return scene.Range{Low: 0, High: 1e5 * math.Ceil(1.02*high/1e5)}
}
