package report

import (
	"bytes"
	"fmt"
	"math"

	"underdisc/model/unit"
	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/words"
)

// writeSpringValves writes the sections of the spring-loaded valves.
func (rec *Record) writeSpringValves(b *bytes.Buffer) {
	for i := range rec.Springs {
		v := &rec.Springs[i]
		name := ""
		if len(rec.Valves)+len(rec.Springs) > 1 {
			name = v.Name + ": "
		}
		section(b, name+"in short")
		paragraph(b, "", rec.springShort(v))
		section(b, name+"what happened, in order")
		writeSpringCycles(b, rec.springCycles(v.Index), rec.setIn())
		section(b, name+"lifts (pressures at its inlet, bar gauge)")
		rec.writeSpringLifts(b, v)
		section(b, name+"what held it")
		rec.writeSpringInstants(b, v)
	}
	if len(rec.Springs) > 0 {
		section(b, "wear of the seats")
		rec.writeWear(b)
	}
}

// springShort says a valve's run in a few sentences.
func (rec *Record) springShort(v *SpringRecord) string {
	over := unit.Format(rec.Until(), unit.Time)
	u := rec.gauge(v.Index)
	f := rec.explainSpring(rec.Run.Present(), rec.Run.Now(), v.Index)
	end := fmt.Sprintf(" At the end it is %s.", words.SpringState(f.State))
	if len(v.Lifts) == 0 {
		out := fmt.Sprintf("The valve did not lift in %s.", over)
		if time, wear := v.simmering(); time > 0 {
			out += fmt.Sprintf(" It simmered for %s, which cost its seat %.2f of the relative wear.", words.Gap(time), wear)
		}
		return out + end
	}
	when := "The first time it"
	if len(v.Lifts) == 1 {
		when = "It"
	}
	return fmt.Sprintf("The valve lifted %s in %s. %s", words.Times(len(v.Lifts)), over, springLifted(when, &v.Lifts[0], u)) + end
}

func springLifted(when string, l *live.SpringLift, u scene.Units) string {
	p := func(x float64) string { return u.PressureOf(x) + " " + u.PressureName() }
	out := fmt.Sprintf("%s popped at %s", when, p(l.Pop))
	if l.Gradual {
		out = fmt.Sprintf("%s began to open at %s", when, p(l.Simmer))
	}
	if l.Hand {
		out = fmt.Sprintf("%s was lifted by hand at %s", when, p(l.Pop))
	}
	switch percent, ok := l.Blowdown(); {
	case ok:
		return out + fmt.Sprintf(" and reseated at %s: blowdown %s.", p(l.Reseat), percents(percent))
	case l.Reseated:
		return out + fmt.Sprintf(" and reseated at %s.", p(l.Reseat))
	}
	return out + " and has not reseated."
}

// mostLifts is how many lines of lifts are printed.
const mostLifts = 16

// writeSpringLifts writes a line for every lift, those that read alike as one.
func (rec *Record) writeSpringLifts(b *bytes.Buffer, v *SpringRecord) {
	time, wear := v.simmering()
	if len(v.Lifts) == 0 {
		fmt.Fprintln(b, "  none")
	} else {
		const form = "  %-7s %10s %8s %8s %9s %6s %8s %8s %8s %8s %6s %7s"
		head := fmt.Sprintf(form, "lift", "at", "simmers", "pops", "highest", "full", "accumu-", "reseats", "blow-", "open", "wear", "impact")
		fmt.Fprintln(b, head)
		fmt.Fprintf(b, form+"\n", "", "s", "from", "at", "lift, mm", "lift", "lation", "at", "down", "s", "", "J")
		type line struct {
			first, last int
			at          float64
			cells       []any
		}
		var lines []line
		for i := range v.Lifts {
			l := &v.Lifts[i]
			cells := springCells(l, rec.Until())
			if k := len(lines) - 1; k >= 0 && fmt.Sprint(lines[k].cells...) == fmt.Sprint(cells...) {
				lines[k].last = i
				continue
			}
			lines = append(lines, line{i, i, l.PopAt, cells})
		}
		for i, l := range lines {
			if i == mostLifts && len(lines) > mostLifts+1 {
				fmt.Fprintf(b, "  lifts %d to %d differ a little from these; summary.json has them (run with --out)\n", l.first+1, len(v.Lifts))
				break
			}
			number := fmt.Sprint(l.first + 1)
			if l.last > l.first {
				number = fmt.Sprintf("%d-%d", l.first+1, l.last+1)
			}
			fmt.Fprintf(b, form+"\n", append([]any{number, fmt.Sprintf("%.3f", l.at)}, l.cells...)...)
		}
		paragraph(b, "", "Accumulation and blowdown are in percent of the pressure at which it popped, gauge. The impact is the hardest of the lift on the seat. "+
			"In a lift by hand neither applies.")
	}
	if time > 0 {
		paragraph(b, "", fmt.Sprintf("It simmered for %s without a lift after it, which cost its seat %.2f of the relative wear.", words.Gap(time), wear))
	}
}

// springCells are the cells of a lift behind its number and time.
func springCells(l *live.SpringLift, until float64) []any {
	g := func(p float64) string {
		if math.IsNaN(p) {
			return "-"
		}
		return fmt.Sprintf("%.2f", (p-l.Surroundings)*bar)
	}
	full := "no"
	if !math.IsNaN(l.FullAt) {
		full = "yes"
	}
	pop := g(l.Pop)
	switch {
	case l.Hand:
		pop = "by hand"
	case l.Gradual:
		pop = "gradual"
	}
	acc, blow, impact := "-", "-", "-"
	if x, ok := l.Accumulation(); ok {
		acc = percents(x)
	}
	if x, ok := l.Blowdown(); ok {
		blow = percents(x)
	}
	if !math.IsNaN(l.SeatImpact) {
		impact = fmt.Sprintf("%.2f", l.SeatImpact)
	}
	return []any{g(l.Simmer), pop, fmt.Sprintf("%.2f", l.Lift*milli), full, acc, g(l.Reseat), blow, fmt.Sprintf("%.2f", l.Open(until)), fmt.Sprintf("%.2f", l.Wear), impact}
}

// writeSpringInstants explains the valve where its first lift turns, and at the end.
func (rec *Record) writeSpringInstants(b *bytes.Buffer, v *SpringRecord) {
	u := rec.gauge(v.Index)
	say := func(title string, t float64) {
		s, m, err := rec.Run.At(t)
		if err != nil {
			return // the run that was recorded holds every moment of its own
		}
		f := rec.explainSpring(m, s, v.Index)
		fmt.Fprintf(b, "  %s (%s): %s\n", title, words.Clock(t), words.SpringState(f.State))
		for _, sentence := range words.SpringAnswer(&f, u) {
			paragraph(b, "  ", sentence)
		}
	}
	if len(v.Lifts) > 0 {
		l := &v.Lifts[0]
		if d := l.PopAt - l.SimmerAt; d > 0 {
			say("Lift 1, half way from simmer to pop", l.SimmerAt+d/2)
		}
		if !math.IsNaN(l.FullAt) && l.Reseated {
			say("Lift 1, half way from full lift to reseat", 0.5*(l.FullAt+l.ReseatAt))
		}
	}
	say("At the end", rec.Until())
}

// wearNote is said wherever wear is shown.
const wearNote = "The wear is a relative index, so that one way of using a valve can be held against another: about one for a spring-loaded valve that is lifted by hand for 2.5 s. " +
	"It counts what passes a seat, most where it is hardly open, and the energy of impacts, which weigh most on a large disc. Its constants are assumed; it is no loss of metal."

// writeWear sets the valves side by side.
func (rec *Record) writeWear(b *bytes.Buffer) {
	fmt.Fprintf(b, "  %-24s %8s %10s %12s %12s %8s\n", "", "lifts", "open, s", "simmering, s", "worst lift", "wear")
	for i := range rec.Valves {
		v := &rec.Valves[i]
		open, worst := rec.pilotedWear(v)
		row := fmt.Sprintf("  %-24s %8d %10.2f %12s %12s %8.2f", v.Name+" (piloted)", len(v.Lifts), open, "-", worst, noSign(rec.Run.Now().Valves[v.Index].Wear))
		fmt.Fprintln(b, row)
	}
	for i := range rec.Springs {
		v := &rec.Springs[i]
		time := 0.0
		for _, s := range v.Simmers {
			time += s.Until - s.From
		}
		worst := "-"
		if n := len(v.Lifts); n > 0 {
			most := 0.0
			for k := range v.Lifts {
				most = math.Max(most, v.Lifts[k].Wear)
			}
			worst = fmt.Sprintf("%.2f", most)
		}
		fmt.Fprintf(b, "  %-24s %8d %10.2f %12.2f %12s %8.2f\n", v.Name, len(v.Lifts), v.open(rec.Until()), time, worst, noSign(v.Wear))
	}
	paragraph(b, "", wearNote)
}

// pilotedWear is how long a piloted valve was off its seat, s, and what its worst
// lift cost.
func (rec *Record) pilotedWear(v *ValveRecord) (open float64, worst string) {
	worst = "-"
	most := math.Inf(-1)
	for i := range v.Lifts {
		l := &v.Lifts[i]
		from := &rec.Run.Sim.Events()[l.turns[leavesSeat]]
		was, _ := rec.Run.AtEvent(from)
		end := rec.Until()
		now := rec.Run.Now()
		if l.Reseated {
			end = l.Seated
			s, _, err := rec.Run.At(end)
			if err != nil {
				continue
			}
			now = s
		}
		open += end - l.T
		most = math.Max(most, now.Valves[v.Index].Wear-was.Valves[v.Index].Wear)
	}
	if !math.IsInf(most, -1) {
		worst = fmt.Sprintf("%.2f", most)
	}
	return open, worst
}

// noSign is a wear without the sign that rounding gives to nothing.
func noSign(wear float64) float64 {
	if math.Abs(wear) < 0.005 {
		return 0
	}
	return wear
}
