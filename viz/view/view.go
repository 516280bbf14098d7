package view

import (
	"math"

	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/letters"
	"underdisc/viz/scene"
)

// Options are what the one who looks chooses.
type Options struct {
	Size      scene.Point // zero: 1600 by 900
	Units     scene.Units // Ambient is filled in from the plant
	Valve     int         // a Lens has its own
	Projector bool
	Ahead     bool         // draw what is known of the time after the moment, too
	Range     *scene.Range // of the colours; nil: RangeOf the run
}

// At is the view of a run at a time that its history covers.
func At(run *live.Run, t float64, o Options) (*scene.View, error) {
	if o.Range == nil {
		span := RangeOf(run, o.Valve)
		o.Range = &span
	}
	l := NewLens(run, o.Valve)
	if run.History != nil {
		_, l.head = run.History.Span()
	}
	return l.At(t, o)
}

// Measure is the width of a text as every picture sets it.
func Measure(size float64, bold bool, text string) float64 { return letters.Width(size, bold, text) }

// ambient is the pressure that gauge pressures count from: that of the
// surroundings that the valve discharges into in the end.
func ambient(m *plant.Model, valve int) float64 {
	_, air, ok := m.Plant.Around(outletOf(m, valve))
	if !ok {
		return 0
	}
	return air.Pressure
}

// outletOf is where a valve discharges.
func outletOf(m *plant.Model, valve int) string {
	if i := scene.SpringAt(m, valve); i >= 0 {
		return m.Springs[i].Spec.Outlet
	}
	return m.Valves[valve].Spec.Outlet
}

// RangeOf is the span of pressures that the colours of a run stand for: from
// nothing to a whole bar above the highest pressure in the vessel that the run
// has seen so far at an event or now, and above the pressure at which the switch
// makes.
func RangeOf(run *live.Run, valve int) scene.Range {
	l := NewLens(run, valve)
	s := run.Sim.State()
	m := run.Present()
	m.SnapshotInto(&l.snap, s.T, s.Y, s.Modes, s.Timers)
	return l.rangeAt(s.T, m)
}

// rangeUpTo is the range for a highest pressure.
func rangeUpTo(high float64) scene.Range {
	return scene.Range{Low: 0, High: 1e5 * math.Ceil(1.02*high/1e5)}
}
