package report

import (
	"fmt"
	"slices"

	"underdisc/model/explain"
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
		// A tenth before, to see what was; a quarter after, to see it rest. A
		// disc that has not arrived is followed for longer.
		width, after := max(to-from, 0.05), 0.25
		if !moves.has(disc[1]) {
			after = 4
		}
		out = append(out, half{name: h.name, moments: found,
			span: span{max(0, from-0.1*width), min(rec.Until(), to+after*width)}})
	}
	return out
}

// Where the parts of the close-up stand.
const (
	closeTop  = 268.0 // of the pressure chart
	pinLine   = closeTop - 58
	pinRadius = 16.0
	listTop   = 92.0 // base line of a half's name
	listLine  = 29.0
)

func (p *picture) composeClose(rec *Record) *paper.Page {
	const left, right, between = 80.0, 1288.0, 88.0
	v := &rec.Valves[p.valve]
	halves := rec.halves(v)
	page := &paper.Page{}
	heading(page, "First lift: "+rec.title(v), "")
	sc := scalesOf(p.strips...)
	width := (right - left - between*float64(len(halves)-1)) / float64(len(halves))
	for i, h := range halves {
		x := left + float64(i)*(width+between)
		frame := paper.Rect{Left: x, Top: closeTop, Right: x + width, Bottom: pressureBottom}
		h.draw(page, p.strips[i], frame, sc, i == len(halves)-1)
		rec.writeThreshold(page, p, h, frame, sc)
	}
	return page
}

// draw puts one half on the page: its events in words, its pins with the
// numbers of the links, and its charts over the time since its first event.
func (h half) draw(page *paper.Page, st *strip, frame paper.Rect, sc scales, labels bool) {
	axis, unit := h.axis()
	first := h.moments[0]
	page.Text(strongFont, paper.Point{X: frame.Left, Y: listTop}, paper.FromLeft,
		fmt.Sprintf("%s: %s after %s", h.name, unit, words.Event(first.Event)))
	panel := paper.Panel{Box: frame, Time: axis}
	var wanted []float64
	var marks []paper.Mark
	for i, m := range h.moments {
		text := fmt.Sprintf("%d  %s", words.EventLink(m.Event), words.Event(m.Event))
		if i > 0 {
			text += "  +" + words.Gap(m.T-h.moments[i-1].T)
		}
		// Two columns, read down first.
		rows := (len(h.moments) + 1) / 2
		at := paper.Point{X: frame.Left + float64(i/rows)*0.5*(frame.Right-frame.Left), Y: listTop + listLine*float64(1+i%rows)}
		page.Text(markFont, at, paper.FromLeft, text)
		marks = append(marks, paper.Mark{At: m.T, Pen: eventPen})
		wanted = append(wanted, panel.X(m.T))
	}
	for i, x := range paper.Spread(wanted, 2*pinRadius+2, frame.Left, frame.Right) {
		page.Line(eventPen, paper.Point{X: x, Y: pinLine + pinRadius}, paper.Point{X: wanted[i], Y: frame.Top})
		page.Badge(paper.Point{X: x, Y: pinLine}, pinRadius, fmt.Sprint(words.EventLink(h.moments[i].Event)))
	}
	st.draw(page, frame, axis, sc, marks, layout{labels: labels})
}

// axis counts the time from the first event of the half, in ms or s.
func (h half) axis() (a paper.Axis, unit string) {
	zero, scale, unit := h.moments[0].T, 1e3, "ms"
	if h.to-h.from > 5 {
		scale, unit = 1, "s"
	}
	a = paper.NewAxis((h.from-zero)*scale, (h.to-zero)*scale, 6)
	for i := range a.Ticks {
		a.Ticks[i].At = zero + a.Ticks[i].At/scale
	}
	a.From, a.To = h.from, h.to
	return a, unit
}

// writeThreshold writes into the pressure chart what the disc waits for, with
// its value when the disc goes: on the side of the dashed line on which the
// chamber's pressure is not.
func (rec *Record) writeThreshold(page *paper.Page, p *picture, h half, frame paper.Rect, sc scales) {
	v := &rec.Valves[p.valve]
	i, ok := v.Lifts[0].turns[leavesSeat]
	if h.name == "Closing" {
		i, ok = v.Lifts[0].turns[leavesStop]
	}
	if !ok {
		return
	}
	_, s := rec.Run.AtEvent(&rec.Run.Sim.Events()[i])
	th := explain.ThresholdsOf(&s.Valves[v.Index])
	name, value := "lifts below", th.LiftBelow
	if h.name == "Closing" {
		name, value = "shuts above", th.DropAbove
	}
	panel := paper.Panel{Box: frame, Value: sc.pressure}
	st := p.strips[slices.IndexFunc(p.strips, func(st *strip) bool { return st.span == h.span })]
	below, _ := st.below.First()
	outlet, _ := st.outlet.First()
	const textRoom = 36.0
	y := panel.Y(value * bar)
	if onTop := panel.Y(min(outlet, below)) - y; below < value*bar || onTop < textRoom {
		y -= 12
	} else {
		y += 28
	}
	page.Text(saidFont, paper.Point{X: frame.Left + 10, Y: y}, paper.FromLeft, fmt.Sprintf("%s %s", name, words.Bar(value)))
}
