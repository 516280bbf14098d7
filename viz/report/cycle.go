package report

import (
	"math"
	"slices"
	"strings"

	"underdisc/sim"
)

// Moment is one line of what happened: an event, with the bounces that came
// before it folded into it.
type Moment struct {
	T       float64
	Event   string
	Bounces int
}

// Cycle is one round from demand to rest: switch, coil, pilot, disc, and back.
type Cycle struct {
	Moments []Moment
}

// starts are the events that begin a round, when the round has them already.
var starts = []string{"switch-made", "coil-on", "pilot-lift", "disc-lift"}

// held are the events with which a part comes to rest, after its bounces.
var held = []string{"disc-full-open", "disc-seated", "pilot-open", "pilot-shut"}

// cycles sorts a valve's events into rounds.
func (rec *Record) cycles(valve int) []Cycle {
	var out []Cycle
	for _, m := range foldBounces(rec.events(valve)) {
		if len(out) == 0 || m.Event == "switch-made" || slices.Contains(starts, m.Event) && out[len(out)-1].has(m.Event) {
			out = append(out, Cycle{})
		}
		c := &out[len(out)-1]
		c.Moments = append(c.Moments, m)
	}
	return out
}

// foldBounces counts the bounces of a part into the event with which it comes
// to rest. Bounces that lead to no rest become one moment, at the first.
func foldBounces(events []sim.Event) []Moment {
	var out []Moment
	loose := map[string]int{} // by bounce: the moment that gathers those not yet at rest
	for _, e := range events {
		m := Moment{T: e.T, Event: e.Name}
		part, _, _ := strings.Cut(e.Name, "-")
		bounce := part + "-bounce"
		k, gathering := loose[bounce]
		switch {
		case e.Name == bounce && gathering:
			out[k].Bounces++
			continue
		case e.Name == bounce:
			m.Bounces = 1
			loose[bounce] = len(out)
		case gathering && slices.Contains(held, e.Name):
			m.Bounces = out[k].Bounces
			out = slices.Delete(out, k, k+1)
			delete(loose, bounce)
			for other := range loose {
				if loose[other] > k {
					loose[other]--
				}
			}
		case gathering:
			delete(loose, bounce)
		}
		out = append(out, m)
	}
	return out
}

func (c Cycle) has(event string) bool {
	_, ok := c.find(event)
	return ok
}

func (c Cycle) find(event string) (Moment, bool) {
	for _, m := range c.Moments {
		if m.Event == event {
			return m, true
		}
	}
	return Moment{}, false
}

// Group is a number of rounds in a row that go alike.
type Group struct {
	First  int // counted from 0
	Cycles []Cycle
}

// groups gathers rounds that follow each other and go alike.
func groups(cycles []Cycle) []Group {
	var out []Group
	for i, c := range cycles {
		if k := len(out) - 1; k >= 0 && alike(out[k].Cycles[0], c) {
			out[k].Cycles = append(out[k].Cycles, c)
			continue
		}
		out = append(out, Group{First: i, Cycles: []Cycle{c}})
	}
	return out
}

// alike tells whether the same things happen in two rounds at about the same
// pace: each gap within a quarter, or within two milliseconds, of the other.
// That is what a reader would call alike; the ranges are printed beside.
func alike(a, b Cycle) bool {
	const part, least = 0.25, 2e-3
	if len(a.Moments) != len(b.Moments) {
		return false
	}
	for i := range a.Moments {
		if a.Moments[i].Event != b.Moments[i].Event {
			return false
		}
		if i == 0 {
			continue
		}
		ga, gb := a.gap(i), b.gap(i)
		if math.Abs(ga-gb) > max(least, part*ga) {
			return false
		}
	}
	return true
}

// gap is the time from the line above to line i.
func (c Cycle) gap(i int) float64 { return c.Moments[i].T - c.Moments[i-1].T }

// gapRange is the shortest and the longest gap before line i over some rounds.
func gapRange(cycles []Cycle, i int) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, c := range cycles {
		least, most = min(least, c.gap(i)), max(most, c.gap(i))
	}
	return least, most
}
