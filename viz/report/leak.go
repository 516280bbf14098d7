package report

import (
	"bytes"
	"fmt"
	"math"

	"underdisc/model/plant"
)

// Leak is what passed a seat while it was shut.
type Leak struct {
	Past        string  // seat, pilot
	Most        float64 // kg/s
	From, Until float64 // s, the first and the last moment at which it leaked
	Total       float64 // kg, while it was shut
	AtEnd       bool    // it leaks at the end
}

// leakTrace is the flow that counts as none, kg/s: a tenth of a kilogram an hour.
const leakTrace = 0.1 / 3600

// shutFlow is a flow if what it passes is shut, else NaN.
func shutFlow(h plant.Hold, flow float64) float64 {
	if h != plant.HeldShut {
		return math.NaN()
	}
	return math.Abs(flow)
}

// addLeak follows a flow past something shut. What is shut at one look is so until
// the next, since all events are looked at.
func (w *watched) addLeak(past string, seen []sighting, flow func(*sighting) float64) {
	l := Leak{Past: past, From: math.NaN()}
	for i := range seen {
		q := flow(&seen[i])
		if !(q > leakTrace) {
			continue
		}
		if math.IsNaN(l.From) {
			l.From = seen[i].t
		}
		l.Until, l.Most = seen[i].t, math.Max(l.Most, q)
		if i+1 == len(seen) {
			l.AtEnd = true
			continue
		}
		next := flow(&seen[i+1])
		if math.IsNaN(next) { // it has opened
			next = q
		}
		l.Until = seen[i+1].t
		l.Total += (q + next) / 2 * (seen[i+1].t - seen[i].t)
	}
	if l.Most > 0 {
		w.leaks = append(w.leaks, l)
	}
}

// said names a leak's place.
func (l *Leak) said() string { return map[string]string{"seat": "seat", "pilot": "pilot seat"}[l.Past] }

// sentence says a leak.
func (l *Leak) sentence() string {
	when := fmt.Sprintf("from %.1f s until %.1f s", l.From, l.Until)
	switch {
	case l.From == 0 && l.AtEnd:
		when = "from the start to the end"
	case l.AtEnd:
		when = fmt.Sprintf("from %.1f s to the end", l.From)
	case l.From == 0:
		when = fmt.Sprintf("until %.1f s", l.Until)
	}
	return fmt.Sprintf("While shut it leaked up to %.1f kg/h past its %s, %s, %.2f kg in all.", 3600*l.Most, l.said(), when, l.Total)
}

// writeLeaks says what a valve leaked while it was shut.
func (v *ValveRecord) writeLeaks(b *bytes.Buffer) {
	for i := range v.watched.leaks {
		paragraph(b, "", v.watched.leaks[i].sentence())
	}
}
