package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"underdisc/sim"
)

// springEvents are the events of a spring-loaded valve and its lever, in order.
func (rec *Record) springEvents(spring int) []sim.Event {
	m := rec.Run.Present()
	v := &m.Springs[spring]
	disc, lever := m.Net.Movers[v.Disc].Name, ""
	if v.Lever >= 0 {
		lever = m.Net.Actuators[v.Lever].Name
	}
	var out []sim.Event
	for _, e := range rec.Run.Sim.Events() {
		if e.Part == disc || lever != "" && e.Part == lever {
			out = append(out, e)
		}
	}
	return out
}

// springCycles sorts a valve's events into rounds, each from the parting of its
// faces, or from the lever's first move, until it is tight. Bounces off stop and seat
// are folded into the first arrival there.
func (rec *Record) springCycles(spring int) []Cycle {
	var out []Cycle
	done := true
	const bounces = 0.05 // s
	hop := math.NaN()    // when its faces parted just after they had met
	for _, e := range rec.springEvents(spring) {
		var last *Moment // of the round before
		if n := len(out); done && n > 0 {
			last = &out[n-1].Moments[len(out[n-1].Moments)-1]
		}
		switch {
		case last == nil:
		case math.IsNaN(hop) && e.Name == "simmer" && e.T-last.T < bounces && out[len(out)-1].has("reseat"):
			hop = e.T
			continue
		case e.Name == "tight" && e.T-hop < bounces:
			last.Bounces++
			hop = math.NaN()
			continue
		}
		if done {
			out, done = append(out, Cycle{}), false
			if !math.IsNaN(hop) { // that was no bounce: it has simmered since
				out[len(out)-1].Moments, hop = []Moment{{T: hop, Event: "simmer"}}, math.NaN()
			}
		}
		c := &out[len(out)-1]
		m := Moment{T: e.T, Event: e.Name}
		if n := len(c.Moments) - 1; n >= 0 && c.Moments[n].Event == "full-lift-bounce" && strings.HasPrefix(e.Name, "full-lift") {
			if e.Name == "full-lift-bounce" {
				c.Moments[n].Bounces++
			} else {
				c.Moments[n].Event = e.Name
			}
			continue
		}
		if e.Name == "full-lift-bounce" {
			m.Bounces = 1
		}
		c.Moments = append(c.Moments, m)
		done = e.Name == "tight"
	}
	if !math.IsNaN(hop) {
		out = append(out, Cycle{Moments: []Moment{{T: hop, Event: "simmer"}}})
	}
	return out
}

// writeSpringCycles writes the rounds, and what set in between.
func writeSpringCycles(b *bytes.Buffer, cycles []Cycle, changes []happening) {
	if len(cycles) == 0 {
		fmt.Fprintln(b, "  nothing: its faces did not part, and nobody was at its lever")
		for _, c := range changes {
			writeChange(b, c)
		}
		return
	}
	writeCycles(b, cycles, changes)
}

// springOwners says which spring-loaded valve a part belongs to.
func (rec *Record) springOwners() map[string]int {
	out := map[string]int{}
	m := rec.Run.Present()
	for i := range m.Springs {
		v := &m.Springs[i]
		out[m.Net.Movers[v.Disc].Name] = i
		if v.Lever >= 0 {
			out[m.Net.Actuators[v.Lever].Name] = i
		}
	}
	return out
}
