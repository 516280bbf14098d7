package report

import (
	"fmt"
	"math"

	"underdisc/viz/paper"
)

// wholeRun is the picture of the run from start to end.
func (rec *Record) wholeRun(valve int) *picture {
	return rec.overview(valve, span{0, rec.Until()})
}

// lastLifts is the picture of the last lifts of a run that has so many that in
// the picture of the whole they run into each other.
func (rec *Record) lastLifts(valve int) (*picture, bool) {
	const many, last = 40, 12
	lifts := rec.Valves[valve].Lifts
	if len(lifts) <= many {
		return nil, false
	}
	return rec.overview(valve, span{lifts[len(lifts)-last-1].T, rec.Until()}), true
}

func (rec *Record) overview(valve int, s span) *picture {
	const columns = 1200
	return &picture{valve: valve, strips: []*strip{newStrip(s, columns)}, compose: (*picture).composeOverview}
}

func (p *picture) composeOverview(rec *Record) *paper.Page {
	st, v := p.strips[0], &rec.Valves[p.valve]
	page := &paper.Page{}
	heading(page, rec.title(v), rec.caption(v))
	panel := paper.Panel{Box: paper.Rect{Left: 96, Top: pressureTop, Right: 1288, Bottom: pressureBottom}, Time: paper.NewAxis(st.from, st.to, 10)}
	marks := append(countLifts(page, &panel, v.Lifts), rec.changes(page, &panel)...)
	st.draw(page, panel.Box, panel.Time, scalesOf(st), marks, layout{labels: true, thresholds: true, raised: secondLine})
	clock := paper.Font{Size: 23, Color: paper.Faded}
	beside := panel.Box.Right + 24
	for _, k := range panel.Time.Ticks {
		beside = max(beside, panel.X(k.At)+paper.TextWidth(clock, k.Text)/2+12)
	}
	page.Text(clock, paper.Point{X: beside, Y: clockLine}, paper.FromLeft, "s after the start")
	if _, many := rec.lastLifts(p.valve); many && st.from == 0 {
		for i, line := range []string{"The lifts run together", "here; the last ones are", "drawn by themselves", "in last-lifts."} {
			page.Text(markFont, paper.Point{X: panel.Box.Right + 24, Y: pressureBottom + 72 + 30*float64(i)}, paper.FromLeft, line)
		}
	}
	return page
}

// clockLine is the base line of the times below the lowest chart.
const clockLine = pressureBottom + 3*(smallGap+smallHeight) + 30.6

// countLifts marks the lifts and writes their numbers above the charts, as
// many as there is room for.
func countLifts(page *paper.Page, n *paper.Panel, lifts []Lift) []paper.Mark {
	var marks []paper.Mark
	const apart = 18.0
	free := math.Inf(-1)
	for i, l := range lifts {
		x, half := n.X(l.T), paper.TextWidth(markFont, fmt.Sprint(i+1))/2
		if x < n.Box.Left || x-half < free {
			continue
		}
		free = x + half + apart
		marks = append(marks, paper.Mark{At: l.T, Pen: eventPen})
		page.Text(markFont, paper.Point{X: x, Y: n.Box.Top - 10}, paper.Centred, fmt.Sprint(i+1))
	}
	if len(marks) > 0 {
		page.Text(markFont, paper.Point{X: max(free, n.Box.Right+24), Y: n.Box.Top - 10}, paper.FromLeft, "number of the lift")
	}
	return marks
}

// changes marks what set in during the run: faults and commands. The words
// stand in the line of the heading, right of it.
func (rec *Record) changes(page *paper.Page, n *paper.Panel) []paper.Mark {
	var out []paper.Mark
	free := n.Box.Left + paper.TextWidth(strongFont, pressureHeading) + 40
	for _, c := range rec.setIn() {
		if c.at < n.Time.From {
			continue
		}
		out = append(out, paper.Mark{At: c.at, Pen: changePen})
		x, width := n.X(c.at), paper.TextWidth(strongFont, c.text)
		start := max(free, min(x-width/2, paper.Width-20-width))
		if start+width > paper.Width {
			continue // no room; the report has it
		}
		free = start + width + 20
		page.Text(strongFont, paper.Point{X: start, Y: pressureTop - 10 - secondLine}, paper.FromLeft, c.text)
		page.Line(changePen, paper.Point{X: x, Y: pressureTop - secondLine}, paper.Point{X: x, Y: pressureTop})
	}
	return out
}

// secondLine is how far above the first line over the charts the second one
// stands.
const secondLine = 32.0

const pressureHeading = "Pressure, bar abs"
