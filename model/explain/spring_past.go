package explain

import (
	"underdisc/model/plant"
	"underdisc/sim"
)

// keepPops is how many pops are kept; chatter takes three.
const keepPops = 4

// quick is the time from pop to pop, s, up to which a valve that pops again and
// again chatters: no one could act in between. Common practice, no source.
const quick = 1.0

// SpringPast is what an explanation needs of the run so far of one spring-loaded
// valve. It is filled all at once (SpringPastOf) or as events come (NewSpringPast,
// Add), with the same result.
type SpringPast struct {
	Pops int
	// When each last happened, s.
	Simmer, Pop, FullLift, Reseat, TightAgain Opt

	recent [keepPops]float64 // the last pops, newest first
	// By how much the vessel fell between the last pop and the reseat after it, Pa.
	popped, fell Opt

	disc   string
	vessel vesselAt
}

// NewSpringPast is the empty past of the spring-loaded valve of that index.
func NewSpringPast(m *plant.Model, valve int) SpringPast {
	v := &m.Springs[valve]
	return SpringPast{disc: m.Net.Movers[v.Disc].Name, vessel: volumeOf(m.Net, v.Vessel)}
}

// SpringPastOf is the past at t of a run with these events, which are in order of
// time. Events at t itself count.
func SpringPastOf(m *plant.Model, events []sim.Event, t float64, valve int) SpringPast {
	p := NewSpringPast(m, valve)
	for i := range events {
		if events[i].T > t {
			break
		}
		p.Add(&events[i])
	}
	return p
}

// Add takes up the next event of the run.
func (p *SpringPast) Add(e *sim.Event) {
	if e.Part != p.disc {
		return
	}
	switch e.Name {
	case "simmer":
		p.Simmer = some(e.T)
	case "pop":
		p.Pop = some(e.T)
		p.Pops++
		copy(p.recent[1:], p.recent[:])
		p.recent[0] = e.T
		p.popped = p.vessel.pressure(e.Before)
	case "full-lift", "full-lift-bounce":
		p.FullLift = some(e.T)
	case "reseat":
		p.Reseat = some(e.T)
		if now := p.vessel.pressure(e.Before); now.Known && p.popped.Known {
			p.fell = some(p.popped.Value - now.Value)
		}
	case "tight":
		p.TightAgain = some(e.T)
	}
}

// every is the time from pop to pop at t of a valve that chatters: it has popped
// three times, each within a second of the one before, and the last not longer ago.
func (p *SpringPast) every(t float64) Opt {
	if p.Pops < 3 || t-p.recent[0] > quick {
		return Opt{}
	}
	for i := range 2 {
		if p.recent[i]-p.recent[i+1] > quick {
			return Opt{}
		}
	}
	return some((p.recent[0] - p.recent[2]) / 2)
}
