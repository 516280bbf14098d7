package view

import (
	"slices"

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
	return p
}

// The events that show the six links at work, in their order.
var (
	opening = []string{"switch-made", "coil-on", "pilot-lift", "pilot-open", "disc-lift", "disc-full-open"}
	closing = []string{"switch-reset", "coil-off", "pilot-drop", "pilot-shut", "disc-leaves-stop", "disc-seated"}
)

func markOf(name string) scene.Mark {
	return scene.Mark{Name: words.Event(name), Link: words.EventLink(name), Shut: slices.Contains(closing, name)}
}

// marks are the events of the valve from one time to another, in order; those
// after t are to come.
func (p parts) marks(events []sim.Event, from, to, t float64) []scene.Mark {
	var out []scene.Mark
	for _, e := range events {
		if e.T < from || e.T > to || !slices.Contains(p, e.Part) || !slices.Contains(opening, e.Name) && !slices.Contains(closing, e.Name) {
			continue
		}
		m := markOf(e.Name)
		m.T, m.Done = e.T, e.T <= t
		out = append(out, m)
	}
	return out
}

// pins are the links of the lift under way at t, or of the last one; those that
// have not acted yet are to come. Of an event that has happened several times
// in the lift it is the last time.
//
// A lift begins with the first of its opening's events that comes after one of
// a closing, or after nothing.
func (p parts) pins(events []sim.Event, t float64) []scene.Mark {
	out := make([]scene.Mark, 0, len(opening)+len(closing))
	for _, name := range slices.Concat(opening, closing) {
		out = append(out, markOf(name))
	}
	seated := false
	for _, e := range events {
		if e.T > t {
			break
		}
		if !slices.Contains(p, e.Part) {
			continue
		}
		i := slices.Index(opening, e.Name)
		if i < 0 {
			if i = slices.Index(closing, e.Name); i < 0 {
				continue
			}
			i += len(opening)
		}
		again := i == 0 && (seated || !out[len(opening)-1].Done) || i < len(opening) && seated
		if again { // a new lift
			for j := range out {
				out[j].T, out[j].Done = 0, false
			}
			seated = false
		}
		out[i].T, out[i].Done = e.T, true
		seated = seated || e.Name == closing[len(closing)-1]
	}
	return out
}
