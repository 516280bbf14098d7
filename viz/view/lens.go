package view

import (
	"math"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// Lens looks at one run again and again, from moment to moment, and keeps what
// it has seen: a picture of a moving run needs little that is new. Whatever way
// it has come to a moment, it shows the same there.
//
// The run may go on between two looks, and may stand a little ahead of the
// moment; a run that has gone another way from some moment on is another run,
// with a lens of its own. A lens and what drives its run are used from one
// goroutine.
type Lens struct {
	run    *live.Run
	valve  int        // in the order of scene.ValveNames
	spring *springEye // nil of a piloted one
	names  parts
	head   float64 // the latest moment shown, s

	snap  plant.Snapshot
	facts explain.Facts
	view  scene.View
	log   log
	grid  grid

	// Of a sealed run.
	pins  []scene.Mark
	plain plant.Snapshot

	// For the range: the highest pressure at the events up to the head and at
	// the head itself, Pa.
	ranged         int
	high, headHigh float64
	headAt         float64
}

// NewLens is a lens on one valve of a run, by its number in the order of
// scene.ValveNames.
func NewLens(run *live.Run, valve int) *Lens {
	if i := scene.SpringAt(run.Present(), valve); i >= 0 {
		return newSpringLens(run, valve, i)
	}
	l := &Lens{run: run, valve: valve, names: partsOf(run.Present(), valve), headAt: math.Inf(-1)}
	l.log.valve, l.log.names = valve, l.names
	l.grid.run, l.grid.valve, l.grid.names = run, valve, l.names
	return l
}

// At is the view of the run at a time that its history covers. It is valid
// until the next call. With Ahead it shows of the time after t what the lens has
// been shown before, never more.
func (l *Lens) At(t float64, o Options) (*scene.View, error) {
	m, err := l.take(t)
	if err != nil {
		return nil, err
	}
	l.head = math.Max(l.head, t)
	if l.spring != nil {
		return l.springAt(m, t, o)
	}
	l.log.read(l.run.Sim.Events(), t, m)
	l.facts = explain.Valve(m, &l.snap, l.valve, l.log.past)

	v := l.common(m, t, o)
	v.Facts = &l.facts
	w := windowOf(&l.facts, &l.log.past, t)
	if v.Sealed {
		w = windowOutside(&l.log.past, l.facts.Asked, feelable(m, l.valve), t)
	} else if v.AtRest() {
		w = windowAtRest(&l.log.past, t)
	}
	if err := l.grid.fill(&v.Trace, w, t, l.end(w, t, o), l.grid.probeOf(t, &l.snap)); err != nil {
		return nil, err
	}
	known := t
	if o.Ahead {
		known = math.Min(v.Trace.To, l.head)
	}
	v.Pins = l.log.pins[:]
	v.Marks = l.names.marks(v.Marks[:0], l.run.Sim.Events(), v.Trace.From, known, t)
	if v.Sealed {
		l.seal(v, m)
		return v, nil
	}
	v.State = words.State(l.facts.State)
	v.Sentence = Sentence(&l.facts, &l.snap.Valves[l.valve], v.Units)
	return v, nil
}

// common fills in what the views of all valves have.
func (l *Lens) common(m *plant.Model, t float64, o Options) *scene.View {
	v := &l.view
	v.Size, v.Projector, v.Units = o.Size, o.Projector, o.Units
	v.Snapshot, v.Model, v.Valve = &l.snap, m, l.valve
	v.Title, v.Measure = l.run.Scenario.Name, Measure
	v.Sealed = l.run.Scenario.Sealed()
	if v.Size.X <= 0 || v.Size.Y <= 0 {
		v.Size = scene.Point{X: 1600, Y: 900}
	}
	v.Units.Ambient = ambient(m, l.valve)
	if l.headAt <= t {
		l.headAt, l.headHigh = t, l.now(m)
	}
	if o.Range != nil {
		v.Range = *o.Range
	} else {
		v.Range = l.rangeAt(l.headAt, m)
	}
	return v
}

// end is how far the charts show the run.
func (l *Lens) end(w window, t float64, o Options) float64 {
	if !o.Ahead {
		return t
	}
	return math.Max(t, math.Min(w.to, l.head))
}

// take takes the snapshot of a moment and returns the plant in force.
func (l *Lens) take(t float64) (*plant.Model, error) {
	if s := l.run.Sim.State(); t == s.T {
		m := l.run.Present()
		m.SnapshotInto(&l.snap, s.T, s.Y, s.Modes, s.Timers)
		return m, nil
	}
	if l.run.History == nil { // which says so
		_, m, err := l.run.At(t)
		return m, err
	}
	g, err := l.run.History.At(t)
	if err != nil {
		return nil, err
	}
	m := l.run.Model(g.Interval)
	m.SnapshotInto(&l.snap, t, l.grid.eval(g, t), g.Modes, g.Timers)
	return m, nil
}

// now is the highest pressure that the range must reach by the snapshot alone.
func (l *Lens) now(m *plant.Model) float64 {
	if l.spring != nil {
		return l.spring.now(m, &l.snap)
	}
	s := &l.snap.Valves[l.valve]
	set := s.Control.Set
	if l.run.Scenario.Sealed() {
		set, _ = plateOf(l.run, m, l.valve, l.snap.T)
	}
	return math.Max(s.Vessel, set)
}

// vesselIn is the pressure in the vessel that the valve stands on.
func (l *Lens) vesselIn(s *plant.Snapshot) float64 {
	if l.spring != nil {
		return s.Springs[l.spring.valve].Vessel
	}
	return s.Valves[l.valve].Vessel
}

// rangeAt is the range at a head, whose snapshot has been taken.
func (l *Lens) rangeAt(head float64, m *plant.Model) scene.Range {
	if l.headAt != head {
		l.headAt, l.headHigh = head, l.now(m)
	}
	events := l.run.Sim.Events()
	if l.ranged > len(events) {
		l.ranged, l.high = 0, 0
	}
	for ; l.ranged < len(events) && events[l.ranged].T <= head; l.ranged++ {
		e := &events[l.ranged]
		if e.Name == "disc-lift" || e.Name == "switch-made" || e.Name == "pop" {
			of := l.run.Model(e.Interval)
			of.SnapshotInto(&l.grid.snap, e.T, e.After, e.To, nil)
			l.high = math.Max(l.high, l.vesselIn(&l.grid.snap))
		}
	}
	return rangeUpTo(math.Max(l.high, l.headHigh))
}
