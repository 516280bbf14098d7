package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"underdisc/viz/words"
)

// writeSteam says what a valve holds at the end, and how warm its walls were.
func (rec *Record) writeSteam(b *bytes.Buffer, v *ValveRecord) {
	m := rec.Run.Present()
	now := &rec.Run.Now().Valves[v.Index]
	fmt.Fprintf(b, "  %-10s %14s  %s\n", "", "at the end", "what it holds then")
	airy := false
	for _, c := range volumesOf(m, v.Index) {
		h := c.holds(now)
		t := words.Degrees(h.Temperature)
		if !words.Warm(h) {
			t, airy = "-", true
		}
		fmt.Fprintf(b, "  %-10s %14s  %s\n", c.said, t, words.Filling(h))
	}
	if airy {
		paragraph(b, "", "-: no temperature is given where there is air. The balances take what fills a pipe for steam and "+
			"water, whose temperature is not that of a mixture with air; the wall's is good.")
	}
	rec.writeHot(b, v)
	rec.writeWalls(b, v)
}

// writeHot explains steam in the chamber that is hotter than what it comes from.
func (rec *Record) writeHot(b *bytes.Buffer, v *ValveRecord) {
	h := v.watched.hot
	if h.t == 0 {
		return
	}
	cools := "The metal then cools it."
	if !math.IsNaN(h.half) {
		cools = fmt.Sprintf("The metal then cools it, half of the way in %.1f s.", h.half)
	}
	fmt.Fprintln(b)
	paragraph(b, "", fmt.Sprintf("At %.1f s, with the disc shut, the steam in the chamber is at %s, hotter than the %s of what it comes "+
		"from: what flows into an emptied chamber presses together what is there, and that work heats it. %s",
		h.at, words.Degrees(h.t), words.Degrees(h.vessel), cools))
}

func (rec *Record) writeWalls(b *bytes.Buffer, v *ValveRecord) {
	walls := v.watched.walls
	if len(walls) == 0 {
		return
	}
	at := func(t, when float64) string { return fmt.Sprintf("%s at %.1f s", words.Degrees(t), when) }
	fmt.Fprintf(b, "\n  %-10s %14s  %-22s %s\n", "wall of", "at the end", "coldest", "warmest")
	now := &rec.Run.Now().Valves[v.Index]
	for _, w := range walls {
		fmt.Fprintf(b, "  %-10s %14s  %-22s %s\n", w.said, words.Degrees(w.wall(now).T), at(w.low, w.lowAt), at(w.high, w.highAt))
	}
	if n := len(v.Lifts); n > 0 {
		first, last := "just before the lift", "peak after the reseat"
		if n > 1 {
			first, last = "just before lift 1", fmt.Sprintf("peak after lift %d", n)
		}
		fmt.Fprintf(b, "\n  %-10s %20s  %22s  %s\n", "wall of", first, last, "how long after")
		for _, w := range walls {
			peak, after := "-", "it has not reseated"
			switch since := w.peakAt - v.Lifts[n-1].Seated; {
			case math.IsNaN(w.peak):
			case w.rising:
				peak, after = words.Degrees(w.peak), "at the end, and still rising"
			case since < 0.05:
				peak, after = words.Degrees(w.peak), "at the reseat"
			default:
				peak, after = words.Degrees(w.peak), fmt.Sprintf("%.1f s", since)
			}
			fmt.Fprintf(b, "  %-10s %20s  %22s  %s\n", w.said, words.Degrees(w.before), peak, after)
		}
	}
	paragraph(b, "", rec.lesson(walls))
}

// lesson says what the walls of dump line and tailpipe tell, and how long one has to
// wait for it. A wall left to itself cools by exp(-t/tau), where tau is its heat
// capacity over the conductance outwards.
func (rec *Record) lesson(walls []wallWatch) string {
	var slow []string
	for _, w := range walls {
		q := &rec.Run.Present().Net.Walls[w.at]
		if (w.name == "dump" || w.name == "tailpipe") && q.Outside > 0 && q.Beyond == 0 {
			slow = append(slow, fmt.Sprintf("%.0f min for the %s", q.HeatCapacity/q.Outside/60, w.said))
		}
	}
	out := ""
	if len(slow) > 0 {
		out = "The walls of dump line and tailpipe tell from outside what passes the shut pilot and the shut seat, but not at " +
			"once. Any lift heats them, and for the first minute or so after it they may still grow warmer. Then those of a tight " +
			"valve cool, by two thirds of the way to the air in " + strings.Join(slow, " and ") + " (heat capacity over what " +
			"each gives off by degree); those of a valve that leaks level out hot. So wait, and compare the trend; each further lift " +
			"heats them again, and hides what is looked for. "
	}
	return out + "Metal at these temperatures burns: it is measured, not touched."
}
