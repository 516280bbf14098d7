package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"underdisc/model/unit"
	"underdisc/viz/words"
)

// How many groups of rounds are printed in full: these from the start, and
// these at the end. Between them the table of events has them all.
const (
	groupsAtStart = 4
	groupsAtEnd   = 2
)

// writeCycles writes a valve's rounds, those that go alike as one, and between
// them what set in.
func writeCycles(b *bytes.Buffer, cycles []Cycle, changes []happening) {
	if len(cycles) == 0 {
		fmt.Fprintln(b, "  nothing: no switch, coil, pilot or disc changed over")
	}
	all := groups(cycles)
	for i, g := range all {
		changes = writeUpTo(b, changes, g.Cycles[0].Moments[0].T)
		if hidden := len(all) - groupsAtStart - groupsAtEnd; hidden > 0 && i >= groupsAtStart && i < groupsAtStart+hidden {
			if i == groupsAtStart {
				next := all[i+hidden].First
				fmt.Fprintf(b, "\n  cycles %d to %d are not alike and not printed; events.csv has them (run with --out)\n", g.First+1, next)
			}
			continue
		}
		if i > 0 {
			fmt.Fprintln(b)
		}
		changes = writeGroup(b, g, changes)
	}
	for _, c := range changes {
		writeChange(b, c)
	}
}

// writeUpTo writes what set in up to a moment, and returns what is left.
func writeUpTo(b *bytes.Buffer, changes []happening, t float64) []happening {
	for len(changes) > 0 && changes[0].at <= t {
		writeChange(b, changes[0])
		changes = changes[1:]
	}
	return changes
}

func writeChange(b *bytes.Buffer, c happening) {
	fmt.Fprintf(b, "  -- at %s: %s\n", unit.Format(c.at, unit.Time), c.text)
}

// writeGroup writes rounds that go alike, the first in full, with what set in during
// that one between its rows. It returns what set in later.
func writeGroup(b *bytes.Buffer, g Group, changes []happening) []happening {
	rest := g.Cycles[1:]
	name, gap, others := fmt.Sprintf("cycle %d", g.First+1), "since the line above", ""
	if len(rest) > 0 {
		others = alikeName(g)
	}
	row := func(cells ...string) {
		text := fmt.Sprintf("  %-30s %14s  %20s  %s", cells[0], cells[1], cells[2], cells[3])
		fmt.Fprintln(b, strings.TrimRight(text, " "))
	}
	row(name, "at", gap, others)
	first := g.Cycles[0]
	for i, m := range first.Moments {
		changes = writeUpTo(b, changes, m.T)
		since, like := "", ""
		if i > 0 {
			since = words.Gap(first.gap(i))
			if len(rest) > 0 {
				like = words.Gaps(gapRange(rest, i))
			}
		}
		text := words.Event(m.Event)
		if k := words.EventLink(m.Event); k > 0 {
			text = fmt.Sprintf("%d  %s", k, text)
		}
		if m.Bounces > 0 {
			text += ", " + words.Count(m.Bounces, "bounce", "bounces")
		}
		row(text, words.Clock(m.T), since, like)
	}
	if len(rest) > 0 {
		fmt.Fprintf(b, "  The other %s alike, one every %s.\n", goes(len(rest)), words.Gaps(periods(g.Cycles)))
	}
	return changes
}

func goes(n int) string {
	if n == 1 {
		return "one goes"
	}
	return fmt.Sprintf("%d go", n)
}

func alikeName(g Group) string {
	last := g.First + len(g.Cycles)
	if len(g.Cycles) == 2 {
		return fmt.Sprintf("in cycle %d", last)
	}
	return fmt.Sprintf("in cycles %d to %d", g.First+2, last)
}

// periods are the shortest and the longest time from one round to the next.
func periods(cycles []Cycle) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for i := 1; i < len(cycles); i++ {
		d := cycles[i].Moments[0].T - cycles[i-1].Moments[0].T
		least, most = min(least, d), max(most, d)
	}
	return least, most
}

// writeLifts writes the pressures of each lift, those that read alike as one.
func writeLifts(b *bytes.Buffer, lifts []Lift) {
	if len(lifts) == 0 {
		fmt.Fprintln(b, "  none")
		return
	}
	type line struct {
		first, last int
		lift        Lift
		text        string
	}
	var lines []line
	for i, l := range lifts {
		text := pressures(l)
		if l.Hand != nil {
			text += "\n" + strings.Repeat(" ", 12) + l.Hand.words(&l) + "; blowdown does not apply"
		}
		if k := len(lines) - 1; k >= 0 && lines[k].text == text {
			lines[k].last = i
			continue
		}
		lines = append(lines, line{i, i, l, text})
	}
	fmt.Fprintf(b, "  %-9s %14s  %-32s %-32s %s\n", "lift", "at", "lifts at", "reseats at", "blowdown")
	const most = 12
	for i, l := range lines {
		if i == most && len(lines) > most+1 {
			fmt.Fprintf(b, "  lifts %d to %d differ a little from these; summary.json has them (run with --out)\n", l.first+1, len(lifts))
			break
		}
		number := fmt.Sprint(l.first + 1)
		if l.last > l.first {
			number = fmt.Sprintf("%d to %d", l.first+1, l.last+1)
		}
		fmt.Fprintf(b, "  %-9s %14s  %s\n", number, words.Clock(l.lift.T), l.text)
	}
	paragraph(b, "", "Blowdown is in percent of the opening pressure, gauge, counted from the pressure of the surroundings.")
}

func pressures(l Lift) string {
	reseat, blowdown := "has not reseated", "-"
	if l.Reseated {
		reseat = words.Pressure(l.Reseat)
	}
	if percent, ok := l.Blowdown(); ok {
		blowdown = percents(percent)
	}
	return fmt.Sprintf("%-32s %-32s %s", words.Pressure(l.Pressure), reseat, blowdown)
}
