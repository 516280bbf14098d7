package live

import (
	"slices"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios"
)

// among are those of the words that are of a kind of valve.
func among(words, kind []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !slices.Contains(kind, w) })
}

// state holds what a valve does against the words for what it may do, if any.
func (v *verifier) state(valve, state string, want []string) {
	if len(want) > 0 && !slices.Contains(want, state) {
		v.miss("%s at the end: %s; want %s", valve, state, strings.Join(want, " or "))
	}
}

// springs looks at what is said of every valve at the end, of those with a spring.
func (v *verifier) springs(w *scenarios.Shows) {
	states := among(w.StateAtEnd, scenarios.SpringStates())
	for i := range v.end.Springs {
		v.spring(i, w.SeatedAtEnd, states)
	}
}

func (v *verifier) spring(i int, seated *bool, states []string) {
	s := &v.end.Springs[i]
	if seated != nil {
		if is := s.Pop == plant.Tight; is != *seated {
			v.miss("%s seated at the end: %t; want %t", s.Name, is, *seated)
		}
	}
	if len(states) > 0 {
		m := v.run.Present()
		f := explain.Spring(m, v.end, i, explain.SpringPastOf(m, v.events, v.end.T, i))
		v.state(s.Name, f.State.String(), states)
	}
}

// ofValve looks at what is said of one valve.
func (v *verifier) ofValve(w *scenarios.OfValve) {
	m := v.run.Present()
	if i := springIndex(m, w.Valve); i >= 0 {
		lifts := SpringLifts(v.run, w.Valve)
		v.count(w.Valve, w.Lifts, len(lifts))
		v.spring(i, w.SeatedAtEnd, w.StateAtEnd)
		v.each(w, lifts)
		return
	}
	for i := range v.end.Valves {
		if v.end.Valves[i].Name != w.Valve {
			continue
		}
		n := 0
		disc := m.Net.Movers[m.Valves[i].Disc].Name
		for _, e := range v.events {
			if e.Name == "disc-lift" && e.Part == disc {
				n++
			}
		}
		v.count(w.Valve, w.Lifts, n)
		if seated := v.end.Valves[i].Disc.Hold == plant.HeldShut; w.SeatedAtEnd != nil && seated != *w.SeatedAtEnd {
			v.miss("%s seated at the end: %t; want %t", w.Valve, seated, *w.SeatedAtEnd)
		}
		if len(w.StateAtEnd) > 0 {
			f := explain.Valve(m, v.end, i, explain.PastOf(m, v.events, v.end.T, i))
			v.state(w.Valve, f.State.String(), w.StateAtEnd)
		}
	}
}

func (v *verifier) count(valve string, c *scenarios.Count, n int) {
	if c != nil && !c.Holds(n) {
		v.miss("%d lifts of %s; want %s", n, valve, countWords(c))
	}
}

// each holds every lift that no hand brought about against its bounds.
func (v *verifier) each(w *scenarios.OfValve, lifts []SpringLift) {
	for _, b := range []struct {
		name  string
		noun  string
		dim   unit.Dimension
		want  *scenarios.Bounds
		value func(*SpringLift) (float64, bool)
	}{
		{"pops at", "a pop", unit.Pressure, w.Pops, func(l *SpringLift) (float64, bool) { return l.Pop, !l.Hand }},
		{"blowdown", "a blowdown", unit.Ratio, w.Blowdown, func(l *SpringLift) (float64, bool) { x, ok := l.Blowdown(); return x / 100, ok }},
		{"accumulation", "an accumulation", unit.Ratio, w.Accumulation, func(l *SpringLift) (float64, bool) { x, ok := l.Accumulation(); return x / 100, ok }},
	} {
		if b.want == nil {
			continue
		}
		found := false
		for i := range lifts {
			x, ok := b.value(&lifts[i])
			if !ok {
				continue
			}
			found = true
			switch {
			case b.want.AtLeast != nil && x < *b.want.AtLeast:
				v.miss("lift %d of %s, %s: %s; want at least %s", i+1, w.Valve, b.name, unit.Format(x, b.dim), unit.Format(*b.want.AtLeast, b.dim))
			case b.want.AtMost != nil && x > *b.want.AtMost:
				v.miss("lift %d of %s, %s: %s; want at most %s", i+1, w.Valve, b.name, unit.Format(x, b.dim), unit.Format(*b.want.AtMost, b.dim))
			}
		}
		if !found && v.run.History == nil && b.want == w.Accumulation {
			v.miss("the accumulation of %s is not known of a run without a history", w.Valve)
			continue
		}
		if !found {
			v.miss("%s has no lift of its own that has %s; want one", w.Valve, b.noun)
		}
	}
}
