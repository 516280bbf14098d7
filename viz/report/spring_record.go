package report

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
)

// SpringRecord is what one spring-loaded valve did.
type SpringRecord struct {
	Name    string
	Index   int // in plant.Model.Springs and plant.Snapshot.Springs
	Lifts   []live.SpringLift
	Simmers []live.Simmer
	Tight   bool // at the end
	Wear    float64
	Heard   []heardBlow // of a run with a hidden fault
}

// newSprings reads what the spring-loaded valves did; of a run with a hidden fault
// what was heard of them.
func (rec *Record) newSprings() error {
	end := rec.Run.Now()
	for i := range end.Springs {
		s := &end.Springs[i]
		v := SpringRecord{Name: s.Name, Index: i, Tight: s.Pop == plant.Tight, Wear: s.Wear}
		if rec.Run.Scenario.Sealed() {
			var err error
			if v.Heard, err = rec.heard(i); err != nil {
				return err
			}
		} else {
			v.Lifts, v.Simmers = live.SpringLifts(rec.Run, s.Name), live.Simmers(rec.Run, s.Name)
		}
		rec.Springs = append(rec.Springs, v)
	}
	return nil
}

// gauge are the units of the reports' sentences about a spring-loaded valve: what is
// said of one in the trade is in gauge pressures.
func (rec *Record) gauge(spring int) scene.Units {
	return springUnits(scene.Units{Gauge: true, KilogramsPerSecond: true}, rec.Run.Present(), spring)
}

// explainSpring asks what a spring-loaded valve does at a snapshot, and why.
func (rec *Record) explainSpring(m *plant.Model, s *plant.Snapshot, spring int) explain.SpringFacts {
	f := explain.Spring(m, s, spring, explain.SpringPastOf(m, rec.Run.Sim.Events(), s.T, spring))
	return f.WithFolds(rec.folds.of(m, spring, s.Springs[spring].HeldOff))
}

// simmering is how long it simmered without a lift following, and what that cost.
func (v *SpringRecord) simmering() (time, wear float64) {
	for _, s := range v.Simmers {
		if !s.Lifted {
			time += s.Until - s.From
			wear += s.Wear
		}
	}
	return time, wear
}

// open is how long it was open in all, s.
func (v *SpringRecord) open(until float64) float64 {
	sum := 0.0
	for i := range v.Lifts {
		sum += v.Lifts[i].Open(until)
	}
	return sum
}
