package live

import (
	"fmt"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios"
	"underdisc/sim"
)

// Verify holds a finished run against what its scenario says it must show, and
// returns a message for everything that does not hold. What is said of a valve
// is said of every valve of the plant; of an event, of any part. A scenario
// that says nothing has nothing to fail.
func Verify(r *Run) []string {
	v := verifier{run: r, events: r.Sim.Events(), end: r.Now()}
	w := r.Scenario.Shows
	if w == nil {
		return nil
	}
	v.lifts(w.Lifts)
	v.valves(w)
	v.springs(w)
	for i := range w.Valves {
		v.ofValve(&w.Valves[i])
	}
	for _, event := range w.Never {
		if at, ok := v.first(event); ok {
			v.miss("%s happens at %s; want never", event, seconds(at))
		}
	}
	v.order(w.Order)
	for _, f := range w.First {
		v.firstEvent(f)
	}
	for _, b := range w.Final {
		v.final(b)
	}
	return v.out
}

type verifier struct {
	run    *Run
	events []sim.Event
	end    *plant.Snapshot
	out    []string
}

func (v *verifier) miss(format string, args ...any) {
	v.out = append(v.out, fmt.Sprintf(format, args...))
}

func seconds(t float64) string { return unit.Format(t, unit.Time) }

// first is when an event first happens; to the part that it names, if it does.
func (v *verifier) first(event string) (at float64, ok bool) {
	name, part := scenarios.EventOf(event)
	for _, e := range v.events {
		if e.Name == name && (part == "" || e.Part == part || strings.HasPrefix(e.Part, part+".")) {
			return e.T, true
		}
	}
	return 0, false
}

func (v *verifier) lifts(c *scenarios.Count) {
	if c == nil {
		return
	}
	n := 0
	for _, e := range v.events {
		if e.Name == "disc-lift" || e.Name == "pop" {
			n++
		}
	}
	if !c.Holds(n) {
		v.miss("%d lifts; want %s", n, countWords(c))
	}
}

func countWords(c *scenarios.Count) string {
	var words []string
	for _, b := range []struct {
		word string
		n    *int
	}{{"exactly", c.Exactly}, {"at least", c.AtLeast}, {"at most", c.AtMost}} {
		if b.n != nil {
			words = append(words, fmt.Sprintf("%s %d", b.word, *b.n))
		}
	}
	return strings.Join(words, " and ")
}

// valves looks at what is said of the valve at the end.
func (v *verifier) valves(w *scenarios.Shows) {
	m := v.run.Present()
	for i, valve := range v.end.Valves {
		if w.SeatedAtEnd != nil {
			if seated := valve.Disc.Hold == plant.HeldShut; seated != *w.SeatedAtEnd {
				v.miss("%s seated at the end: %t; want %t", valve.Name, seated, *w.SeatedAtEnd)
			}
		}
		states := among(w.StateAtEnd, scenarios.States())
		if len(states) == 0 && w.LinkAtEnd == "" {
			continue
		}
		f := explain.Valve(m, v.end, i, explain.PastOf(m, v.events, v.end.T, i))
		v.state(valve.Name, f.State.String(), states)
		if link := f.Link().String(); w.LinkAtEnd != "" && link != w.LinkAtEnd {
			v.miss("%s held at the end by %s; want %s", valve.Name, link, w.LinkAtEnd)
		}
	}
}

// order looks at the first occurrences of events, which may fall together.
func (v *verifier) order(events []string) {
	for i, event := range events {
		at, ok := v.first(event)
		if !ok {
			v.miss("%s does not happen; want it in the order %s", event, strings.Join(events, ", "))
			continue
		}
		if i == 0 {
			continue
		}
		if before, ok := v.first(events[i-1]); ok && at < before {
			v.miss("%s first happens at %s, before %s at %s; want it after", event, seconds(at), events[i-1], seconds(before))
		}
	}
}

func (v *verifier) firstEvent(f scenarios.FirstEvent) {
	at, ok := v.first(f.Event)
	switch {
	case !ok:
		v.miss("%s does not happen; want it", f.Event)
	case f.After != nil && at < *f.After:
		v.miss("%s first happens at %s; want no sooner than %s", f.Event, seconds(at), seconds(*f.After))
	case f.Before != nil && at > *f.Before:
		v.miss("%s first happens at %s; want no later than %s", f.Event, seconds(at), seconds(*f.Before))
	}
}

func (v *verifier) final(b scenarios.Bound) {
	value, dim, ok := quantity(v.run.Present(), v.end, b.Quantity)
	switch {
	case !ok:
		v.miss("nothing at the end is called %s; want a quantity such as %s", b.Quantity, strings.Join(quantities(v.run.Present(), v.end)[:3], ", "))
	case dim != b.Dim:
		v.miss("%s is measured in another unit than its bounds: %s; want %s", b.Quantity, b.Dim, dim)
	case b.AtLeast != nil && value < *b.AtLeast:
		v.miss("%s at the end: %s; want at least %s", b.Quantity, unit.Format(value, dim), unit.Format(*b.AtLeast, dim))
	case b.AtMost != nil && value > *b.AtMost:
		v.miss("%s at the end: %s; want at most %s", b.Quantity, unit.Format(value, dim), unit.Format(*b.AtMost, dim))
	}
}

// reading is one quantity of a snapshot that a scenario may bound.
type reading struct {
	path  string
	dim   unit.Dimension
	value float64
}

// quantity finds the quantity of that path.
func quantity(m *plant.Model, s *plant.Snapshot, path string) (float64, unit.Dimension, bool) {
	for _, q := range readings(m, s) {
		if q.path == path {
			return q.value, q.dim, true
		}
	}
	return 0, "", false
}

// quantities lists the paths that quantity finds.
func quantities(m *plant.Model, s *plant.Snapshot) []string {
	var out []string
	for _, q := range readings(m, s) {
		out = append(out, q.path)
	}
	return out
}

// readings are the quantities of a snapshot, by part: of volumes (vessel,
// valve.body, valve.chamber, valve.dump-line, tailpipe) and surroundings
// pressure, temperature and quality (the share of steam in the mass, 1 in a
// gas); of flows (line, valve.seat, valve.bleed,
// valve.guide, valve.pilot, valve.dump-line, tailpipe.exit) the mass flow; of
// disc and pilot the lift; of the valve the lift over the travel and the
// chamber's pressure over the body's, of a spring-loaded one the pressure at its
// inlet; the wear of the seat; of the coil the current; of
// walls (valve.dump-line.wall, tailpipe.wall, ...) the temperature, and of a pipe's
// low-point; of a sensor the reading.
func readings(m *plant.Model, s *plant.Snapshot) []reading {
	var out []reading
	add := func(path string, dim unit.Dimension, value float64) { out = append(out, reading{path, dim, value}) }
	for _, n := range s.Look.Nodes {
		add(n.Name+".pressure", unit.Pressure, n.P)
		add(n.Name+".temperature", unit.Temperature, n.T)
		add(n.Name+".quality", unit.Ratio, n.Quality)
	}
	for _, f := range s.Look.Flows {
		add(f.Name+".mass-flow", unit.MassFlow, f.W)
	}
	for _, k := range s.Look.Movers {
		add(k.Name+".lift", unit.Length, k.X)
	}
	for _, c := range s.Look.Coils {
		add(c.Name+".current", unit.Current, c.Current)
	}
	for _, w := range s.Look.Walls {
		if pipe, ok := strings.CutSuffix(w.Name, "-low-point"); ok {
			add(pipe+".low-point.temperature", unit.Temperature, w.T)
			continue
		}
		add(strings.TrimSuffix(w.Name, "-wall")+".wall.temperature", unit.Temperature, w.T)
	}
	for i, p := range s.Look.Sensors {
		add(m.Net.Sensors[i].Name+".reading", unit.Pressure, p)
	}
	for _, v := range s.Valves {
		add(v.Name+".lift-share", unit.Ratio, v.Disc.Lift/v.Disc.Travel)
		add(v.Name+".chamber-share", unit.Ratio, v.Below/v.Above)
	}
	for _, v := range s.Springs {
		add(v.Name+".lift-share", unit.Ratio, v.Lift/v.Spec.Disc.Travel)
		add(v.Name+".inlet.pressure", unit.Pressure, v.Inlet)
		add(v.Name+".wear", unit.Ratio, v.Wear)
	}
	for _, v := range s.Valves {
		add(v.Name+".wear", unit.Ratio, v.Wear)
	}
	return out
}
