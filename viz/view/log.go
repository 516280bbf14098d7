package view

import (
	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/viz/scene"
)

// log is what a lens has read of the record of events.
type log struct {
	valve int
	names parts

	model *plant.Model // the past depends on it
	seen  int
	last  sim.Event // the last one read
	past  explain.Past
	pins  [links]scene.Mark
	// The disc has come back to its seat in the lift that the pins show.
	seated bool
}

// read brings the log to the time t, at which the model is in force: on by what
// is new, or from the beginning when time has gone back or the model changed.
func (l *log) read(events []sim.Event, t float64, m *plant.Model) {
	n := l.seen
	again := l.model != m || n > len(events)
	if !again && n > 0 {
		e := &events[n-1]
		again = l.last.T > t || e.T != l.last.T || e.Name != l.last.Name || e.Part != l.last.Part
	}
	if again {
		l.model, l.seen, l.seated = m, 0, false
		l.past = explain.NewPast(m, l.valve)
		l.pins = noPins
	}
	for ; l.seen < len(events) && events[l.seen].T <= t; l.seen++ {
		e := &events[l.seen]
		l.past.Add(e)
		l.pin(e)
	}
	if l.seen > 0 {
		l.last = events[l.seen-1]
	}
}
