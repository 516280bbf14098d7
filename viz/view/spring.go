package view

import (
	"math"
	"slices"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios/live"
	"underdisc/sim"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// springEye is what a lens needs beside for a spring-loaded valve.
type springEye struct {
	valve int // of the spring-loaded ones
	names parts
	facts explain.SpringFacts
	none  explain.Facts // of a valve with a pilot there are none
	folds folds

	// What has been read of the record of events.
	model *plant.Model
	seen  int
	last  sim.Event
	past  explain.SpringPast
	pins  [springPins]scene.Mark
	opens bool // it opens in proportion
}

func newSpringLens(run *live.Run, valve, spring int) *Lens {
	e := &springEye{valve: spring, names: springParts(run.Present(), spring)}
	l := &Lens{run: run, valve: valve, names: e.names, headAt: math.Inf(-1), spring: e}
	l.grid.run, l.grid.valve, l.grid.spring, l.grid.names = run, spring, true, e.names
	return l
}

// springParts are the names under which the events of a spring-loaded valve go on
// record.
func springParts(m *plant.Model, spring int) parts {
	v := &m.Springs[spring]
	p := parts{m.Net.Movers[v.Disc].Name}
	if v.Lever >= 0 {
		p = append(p, m.Net.Actuators[v.Lever].Name)
	}
	for i := range m.Drums {
		for _, load := range m.Drums[i].Valves {
			p = append(p, m.Net.Actuators[load].Name)
		}
	}
	return p
}

// springAt is the view of a spring-loaded valve, whose snapshot has been taken.
func (l *Lens) springAt(m *plant.Model, t float64, o Options) (*scene.View, error) {
	e := l.spring
	e.read(l.run.Sim.Events(), t, m)
	e.facts = explain.Spring(m, &l.snap, e.valve, e.past)
	v := l.common(m, t, o)
	if !v.Sealed {
		e.facts = e.facts.WithFolds(e.folds.of(m, e.valve, l.snap.Springs[e.valve].HeldOff))
	}
	v.Facts, v.Spring = &e.none, &e.facts
	w := e.window(t)
	switch {
	case v.Sealed:
		w = window{}.spanning(longest, t)
	case v.AtRest():
		w = e.windowAtRest(t)
	}
	if err := l.grid.fill(&v.Trace, w, t, l.end(w, t, o), l.grid.probeOf(t, &l.snap)); err != nil {
		return nil, err
	}
	known := t
	if o.Ahead {
		known = math.Min(v.Trace.To, l.head)
	}
	v.Pins = e.pins[:]
	v.Marks = l.names.marks(v.Marks[:0], l.run.Sim.Events(), v.Trace.From, known, t)
	if v.Sealed {
		l.sealSpring(v, m)
		return v, nil
	}
	v.State = words.SpringState(e.facts.State)
	v.Sentence = SpringSentence(&e.facts, &l.snap.Springs[e.valve], v.Units)
	return v, nil
}

// now is the highest pressure that the range must reach by the snapshot alone.
func (e *springEye) now(m *plant.Model, s *plant.Snapshot) float64 {
	v := &s.Springs[e.valve]
	air := 0.0
	if _, a, ok := m.Plant.Around(v.Spec.Outlet); ok {
		air = a.Pressure
	}
	set := air + v.Spec.Spring.Preload/v.SeatArea // about where it opens
	return math.Max(v.Vessel, set)
}

// read brings what is known of the run to the time t.
func (e *springEye) read(events []sim.Event, t float64, m *plant.Model) {
	n := e.seen
	again := e.model != m || n > len(events)
	if !again && n > 0 {
		q := &events[n-1]
		again = e.last.T > t || q.T != e.last.T || q.Name != e.last.Name || q.Part != e.last.Part
	}
	if again {
		e.model, e.seen = m, 0
		e.past, e.pins = explain.NewSpringPast(m, e.valve), noSpringPins
		e.opens = m.Springs[e.valve].Spec.LowerRing == nil
		if e.opens {
			e.pins[1].Name = "opens"
		}
	}
	for ; e.seen < len(events) && events[e.seen].T <= t; e.seen++ {
		e.past.Add(&events[e.seen])
		e.pin(&events[e.seen])
	}
	if e.seen > 0 {
		e.last = events[e.seen-1]
	}
}

// The events that show the links of a spring-loaded valve at work.
var (
	springOpening = [...]string{"simmer", "pop", "full-lift"}
	springClosing = [...]string{"leaves-stop", "reseat", "tight"}
)

// springLinks are the links that each of them shows at work, see scene.SpringLinks.
var springLinks = [springPins]int{2, 3, 4, 5, 6, 2}

const springPins = len(springOpening) + len(springClosing)

// noSpringPins are those of a valve that has not lifted yet.
var noSpringPins = func() (out [springPins]scene.Mark) {
	for i, name := range slices.Concat(springOpening[:], springClosing[:]) {
		out[i] = scene.Mark{Name: words.Event(name), Link: springLinks[i], Shut: i >= len(springOpening)}
	}
	return out
}()

func springPinOf(name string) int {
	if i := slices.Index(springOpening[:], name); i >= 0 {
		return i
	}
	if i := slices.Index(springClosing[:], name); i >= 0 {
		return len(springOpening) + i
	}
	return -1
}

// pin takes up an event. A lift begins as the faces part, or as the disc rises once
// more before they have met again: then what is to come is to come again.
func (e *springEye) pin(q *sim.Event) {
	i := springPinOf(q.Name)
	if i < 0 || q.Part != e.names[0] {
		return
	}
	const bounce = 0.05 // s: shut again sooner than this, it has not simmered
	if last := &e.pins[springPins-1]; i == 0 && last.Done && q.T-last.T < bounce {
		return
	}
	if i < len(springOpening) {
		for k := i; k < springPins; k++ {
			e.pins[k] = noSpringPins[k]
		}
	}
	e.pins[i].T, e.pins[i].Done = q.T, true
	if e.opens && q.Name == "pop" { // it has no ring, and does not pop
		e.pins[i].Name = "opens"
	}
}

// window is the stretch of time that the charts show: the lift under way from where
// it began, if that is not long ago; else some seconds, for here pressures go
// slowly.
func (e *springEye) window(t float64) window {
	w := window{}
	p, span := &e.past, longest
	began := func(at explain.Opt, what string) {
		if at.Known && t-at.Value <= longest && at.Value > w.zero {
			w.zero, w.zeroName = at.Value, what
		}
	}
	switch e.facts.State {
	case explain.SpringChattering:
		span = lifts * math.Max(e.facts.Every.Value, 0.02)
	case explain.SpringLifting, explain.SpringAtFullLift, explain.SpringPartly:
		began(p.Pop, words.Event("pop"))
	case explain.SpringFalling, explain.SpringTight, explain.SpringSimmering:
		if p.Reseat.Known && t-p.Reseat.Value < 0.1 && p.Pop.Known {
			began(p.Pop, words.Event("pop"))
		}
	}
	if w.zeroName != "" {
		w.zeroName = "it " + w.zeroName
		span = math.Max((t-w.zero)/0.86, shortest)
	}
	return w.spanning(span, t)
}

// windowAtRest is that of a shut valve whose walls cool.
func (e *springEye) windowAtRest(t float64) window {
	w := window{}
	if p := &e.past; p.Reseat.Known {
		w.zero, w.zeroName = p.Reseat.Value, "it reseated"
	}
	return w.spanning(math.Min(math.Max((t-w.zero)/0.86, longest), atRest), t)
}
