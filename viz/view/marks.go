package view

import (
	"slices"
	"sort"

	"underdisc/model/plant"
	"underdisc/sim"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// parts are the names under which the events of a valve go on record.
type parts []string

func partsOf(m *plant.Model, valve int) parts {
	v := &m.Valves[valve]
	p := parts{m.Net.Movers[v.Disc].Name, m.Net.Movers[v.Pilot].Name, m.Net.Coils[v.Coil].Name}
	if v.Switch >= 0 {
		p = append(p, m.Net.Switches[v.Switch].Name)
	}
	if v.Block >= 0 {
		p = append(p, m.Net.Actuators[v.Block].Name)
	}
	for i := range m.Net.Fuses {
		if m.Net.Fuses[i].Coil == v.Coil {
			p = append(p, m.Net.Fuses[i].Name)
		}
	}
	for i := range m.Drums {
		for _, load := range m.Drums[i].Valves {
			p = append(p, m.Net.Actuators[load].Name)
		}
	}
	return p
}

// The events of the plant around the valve that are marked on the charts.
var around = []string{"load-moves", "block-valve-moves", "block-valve-shut", "block-valve-open", "fuse-blows", "lever-moves", "debris-washed-out"}

// The events that show the six links at work, in their order.
var (
	opening = [...]string{"switch-made", "coil-on", "pilot-lift", "pilot-open", "disc-lift", "disc-full-open"}
	closing = [...]string{"switch-reset", "coil-off", "pilot-drop", "pilot-shut", "disc-leaves-stop", "disc-seated"}
)

const links = len(opening) + len(closing)

// noPins are those of a valve that has not lifted yet.
var noPins = func() (out [links]scene.Mark) {
	for i, name := range slices.Concat(opening[:], closing[:]) {
		out[i] = scene.Mark{Name: words.Event(name), Link: words.EventLink(name), Shut: i >= len(opening)}
	}
	return out
}()

// pinOf is the number of the pin of an event; -1 if it has none.
func pinOf(name string) int {
	if i := slices.Index(opening[:], name); i >= 0 {
		return i
	}
	if i := slices.Index(closing[:], name); i >= 0 {
		return len(opening) + i
	}
	return -1
}

// marks appends the events of the valve from one time to another, in order;
// those after t are to come.
func (p parts) marks(out []scene.Mark, events []sim.Event, from, to, t float64) []scene.Mark {
	first := sort.Search(len(events), func(i int) bool { return events[i].T >= from })
	for i := first; i < len(events) && events[i].T <= to; i++ {
		e := &events[i]
		n, pins := pinOf(e.Name), noPins[:]
		if n < 0 {
			n, pins = springPinOf(e.Name), noSpringPins[:]
		}
		if !slices.Contains(p, e.Part) || n < 0 && !slices.Contains(around, e.Name) {
			continue
		}
		m := scene.Mark{Name: words.Event(e.Name), Link: words.EventLink(e.Name)}
		if n >= 0 {
			m = pins[n]
		}
		m.T, m.Done = e.T, e.T <= t
		out = append(out, m)
	}
	return out
}

// pin takes up an event in the pins. They are the links of the lift under way,
// or of the last one; those that have not acted yet are to come. Of an event
// that has happened several times in the lift it is the last time.
//
// A lift begins with the first of its opening's events that comes after one of
// a closing, or after nothing.
func (l *log) pin(e *sim.Event) {
	i := pinOf(e.Name)
	if i < 0 || !slices.Contains(l.names, e.Part) {
		return
	}
	if i == 0 && (l.seated || !l.pins[len(opening)-1].Done) || i < len(opening) && l.seated { // a new lift
		l.pins, l.seated = noPins, false
	}
	l.pins[i].T, l.pins[i].Done = e.T, true
	l.seated = l.seated || i == links-1
}
