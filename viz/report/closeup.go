package report

import (
	"fmt"

	"underdisc/viz/paper"
	"underdisc/viz/words"
)

// firstLift is the picture of the first lift, opening and closing enlarged. It
// is false for a valve that has not lifted.
func (rec *Record) firstLift(valve int) (*picture, bool) {
	v := &rec.Valves[valve]
	if len(v.Lifts) == 0 {
		return nil, false
	}
	const columns = 700
	p := &picture{valve: valve, compose: (*picture).composeClose}
	for _, half := range rec.halves(v) {
		p.strips = append(p.strips, newStrip(half.span, columns))
	}
	return p, true
}

// half is the way up or the way back of a lift.
type half struct {
	span
	name    string
	moments []Moment
}

// opening and closing are the events of the two halves.
var (
	openingEvents = []string{"switch-made", "coil-on", "pilot-lift", "pilot-open", "disc-lift", "disc-full-open"}
	closingEvents = []string{"switch-reset", "coil-off", "pilot-drop", "pilot-shut", "disc-leaves-stop", "disc-seated"}
)

// halves finds the round of the first lift and cuts it in two. The way back is
// missing where the disc has not begun it.
func (rec *Record) halves(v *ValveRecord) []half {
	var round Cycle
	for _, c := range v.Cycles {
		if c.has("disc-lift") {
			round = c
			break
		}
	}
	var out []half
	for _, h := range []struct {
		name   string
		events []string
	}{{"Opening", openingEvents}, {"Closing", closingEvents}} {
		var found []Moment
		for _, name := range h.events {
			if m, ok := round.find(name); ok {
				found = append(found, m)
			}
		}
		disc := h.events[4:] // the disc must be among what moves
		moves := Cycle{Moments: found}
		if !moves.has(disc[0]) && !moves.has(disc[1]) {
			continue
		}
		from, to := found[0].T, found[0].T
		for _, m := range found {
			from, to = min(from, m.T), max(to, m.T)
		}
		// A tenth before, to see what was; a quarter after, to see it rest.
		width := max(to-from, 1e-3)
		out = append(out, half{name: h.name, moments: found,
			span: span{max(0, from-0.1*width), min(rec.Until(), to+0.25*width)}})
	}
	return out
}

func (p *picture) composeClose(rec *Record) *paper.Page {
	const left, right, between, alone = 80.0, 1574.0, 84.0, 1288.0
	v := &rec.Valves[p.valve]
	halves := rec.halves(v)
	page := &paper.Page{}
	heading(page, rec.title(v)+": first lift", "")
	sc := scalesOf(p.strips...)
	edge := right
	if len(halves) == 1 {
		edge = alone
	}
	width := (edge - left - between*float64(len(halves)-1)) / float64(len(halves))
	for i, h := range halves {
		x := left + float64(i)*(width+between)
		h.draw(page, p.strips[i], x, x+width, sc)
	}
	return page
}

// draw puts one half on the page: its pins with the numbers of the links, and
// its charts over the time since its first event.
func (h half) draw(page *paper.Page, st *strip, left, right float64, sc scales) {
	zero := h.moments[0].T
	scale, name := 1e3, "ms"
	if h.to-h.from > 5 {
		scale, name = 1, "s"
	}
	axis := paper.NewAxis((h.from-zero)*scale, (h.to-zero)*scale, 6)
	for i := range axis.Ticks {
		axis.Ticks[i].At = zero + axis.Ticks[i].At/scale
	}
	axis.From, axis.To = h.from, h.to
	panel := paper.Panel{Box: paper.Rect{Left: left, Right: right}, Time: axis}

	// The events in words, with their numbers and gaps, on two lines.
	const line = 31.0
	y := 84.0
	page.Text(strongFont, paper.Point{X: left, Y: y}, paper.FromLeft, fmt.Sprintf("%s, %s after %s", h.name, name, words.Event(h.moments[0].Event)))
	var pins, wanted []float64
	for _, m := range h.moments {
		wanted = append(wanted, panel.X(m.T))
	}
	const radius = 15.0
	pins = paper.Spread(wanted, 2*radius+3, left-radius, right)
	marks := []paper.Mark{}
	for i, m := range h.moments {
		marks = append(marks, paper.Mark{At: m.T, Pen: eventPen})
		at := paper.Point{X: pins[i], Y: pressureTop - 44}
		page.Line(eventPen, paper.Point{X: at.X, Y: at.Y + radius}, paper.Point{X: wanted[i], Y: pressureTop})
		page.Badge(at, radius, fmt.Sprint(words.EventLink(m.Event)))
	}
	_ = line
	st.draw(page, left, right, axis, sc, marks, false)
}
