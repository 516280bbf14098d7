package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/viz/words"
)

// width of the report in characters.
const width = 96

// caution is in every report and summary.
const caution = "This comes from a computed model of an invented plant. It teaches and explains. It never replaces the " +
	"plant's procedure, the manufacturer's instructions, local code or licensed practice. Before anyone touches a " +
	"real valve: tell the operators; keep clear of the exhaust path; wear what the job asks for; isolate, vent and " +
	"drain, tag, and prove zero energy, again if it can build up again. One shut block valve is no proof, and a " +
	"valve that is shut off relieves nothing. Never gag a valve, never move a spring or a ring to hide a leak, never " +
	"keep lifting a valve that leaks."

// Text writes the report that a person reads.
func (rec *Record) Text(w io.Writer) error {
	if rec.Run.Scenario.Sealed() {
		return rec.sealedText(w)
	}
	var b bytes.Buffer
	rec.writeHead(&b)
	section(&b, "settings, faults and commands")
	rec.writeChanges(&b)
	for i := range rec.Valves {
		v := &rec.Valves[i]
		name := ""
		if len(rec.Valves)+len(rec.Springs) > 1 {
			name = v.Name + ": "
		}
		section(&b, name+"in short")
		paragraph(&b, "", rec.inShort(v))
		v.writeLeaks(&b)
		section(&b, name+"what happened, in order")
		writeCycles(&b, v.Cycles, rec.setIn())
		section(&b, name+"lift and reseat (pressure in the vessel)")
		writeLifts(&b, v.Lifts)
		section(&b, name+"what held it, and by what margin")
		paragraph(&b, "", "This disc opens downward: its lift is counted down from the seat.")
		rec.writeInstants(&b, v)
		if rec.steam() {
			section(&b, name+"steam, water and metal")
			rec.writeSteam(&b, v)
		}
	}
	rec.writeSpringValves(&b)
	rec.writeUnmet(&b)
	if err := rec.writeBoiler(&b, false); err != nil {
		return err
	}
	section(&b, "caution")
	paragraph(&b, "", caution)
	section(&b, "ledger (worst residual over the parts, as a share of the part's size)")
	rec.writeLedger(&b)
	section(&b, "solver")
	rec.writeSolver(&b)
	_, err := b.WriteTo(w)
	return err
}

// writeHead writes what the run is, and what its scenario says of itself.
func (rec *Record) writeHead(b *bytes.Buffer) {
	sc := rec.Run.Scenario
	about := "what is meant to happen"
	if rec.Altered {
		fmt.Fprintf(b, "Scenario %s with changes of its own for this run\n", sc.Name)
		about = "what the unchanged scenario does"
	} else {
		fmt.Fprintf(b, "%s\n", sc.Title)
	}
	fmt.Fprintf(b, "scenario %s, %s\n", sc.Name, unit.Format(rec.Until(), unit.Time))
	if sc.About != "" {
		section(b, about)
		paragraph(b, "", strings.Join(strings.Fields(sc.About), " "))
	}
}

func section(b *bytes.Buffer, name string) {
	fmt.Fprintf(b, "\n%s\n", strings.ToUpper(name))
}

// paragraph writes a text broken into lines, the first after the lead, the
// others indented as far.
func paragraph(b *bytes.Buffer, lead, text string) {
	indent := "  " + strings.Repeat(" ", len(lead))
	line := "  " + lead
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && len(line)+1+len(word) > width {
			fmt.Fprintln(b, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(b, line)
}

// inShort says a valve's run in a few sentences.
func (rec *Record) inShort(v *ValveRecord) string {
	over := unit.Format(rec.Until(), unit.Time)
	if len(v.Lifts) == 0 {
		return fmt.Sprintf("The valve did not lift in %s. At the end it is %s.", over, rec.stateAtEnd(v))
	}
	when := "The first time it"
	if len(v.Lifts) == 1 {
		when = "It"
	}
	asked := rec.explain(rec.Run.Present(), rec.Run.Now(), v).Asked
	out := fmt.Sprintf("The valve lifted %s in %s. %s", words.Times(len(v.Lifts)), over, lifted(when, v.Lifts[0], asked))
	if last := v.Lifts[len(v.Lifts)-1]; otherwise(v.Lifts[0], last) {
		out += " " + lifted("The last time it", last, asked)
	}
	return out + fmt.Sprintf(" At the end it is %s.", rec.stateAtEnd(v))
}

// lifted says one lift; asked tells whether the valve is still asked to be open
// at the end.
func lifted(when string, l Lift, asked bool) string {
	out := fmt.Sprintf("%s lifted at %s", when, words.Pressure(l.Pressure))
	if l.Hand != nil {
		out += ", " + l.Hand.words(&l)
		if !l.Reseated {
			return out + ", and has not reseated."
		}
		return out + fmt.Sprintf(", and reseated at %s; blowdown does not apply.", words.Pressure(l.Reseat))
	}
	switch percent, ok := l.Blowdown(); {
	case ok:
		return out + fmt.Sprintf(" and reseated at %s: blowdown %s.", words.Pressure(l.Reseat), percents(percent))
	case l.Reseated:
		return out + fmt.Sprintf(" and reseated at %s.", words.Pressure(l.Reseat))
	}
	if asked {
		return out + " and is still asked to be open."
	}
	return out + " and has not reseated."
}

// writeUnmet says what was meant to be seen and was not.
func (rec *Record) writeUnmet(b *bytes.Buffer) {
	if len(rec.Unmet) == 0 {
		return
	}
	section(b, "meant to be seen, and was not")
	for _, u := range rec.Unmet {
		paragraph(b, "- ", u)
	}
}

// percents writes a blowdown; one that rounds to zero has no sign.
func percents(x float64) string {
	if math.Abs(x) < 0.05 {
		x = 0
	}
	return fmt.Sprintf("%.1f %%", x)
}

// otherwise tells whether a lift ended otherwise than the first.
func otherwise(first, last Lift) bool {
	a, okA := first.Blowdown()
	b, okB := last.Blowdown()
	return okA != okB || math.Abs(a-b) > changed
}

func (rec *Record) stateAtEnd(v *ValveRecord) string {
	f := rec.explain(rec.Run.Present(), rec.Run.Now(), v)
	if f.State == explain.Leaking {
		if f.Why.Link == explain.Pilot {
			return "shut, its pilot leaking"
		}
		if f.Why.Link == explain.Disc {
			return "shut, its seat leaking"
		}
	}
	return words.State(f.State)
}

// happening is a change of the plant during the run.
type happening struct {
	at   float64
	text string
}

// happened lists faults and commands, each in a few words.
func (rec *Record) happened() []happening {
	var out []happening
	for _, f := range rec.Faults {
		out = append(out, happening{f.At, f.kind() + f.Name})
	}
	for _, c := range rec.Run.Scenario.Commands {
		out = append(out, happening{c.At, c.Path + " " + rec.commandValue(c.Path, c.Value)})
	}
	return out
}

// setIn is what set in after the start and before the end, in order of time.
func (rec *Record) setIn() []happening {
	out := slices.DeleteFunc(rec.happened(), func(h happening) bool { return h.at <= 0 || h.at > rec.Until() })
	slices.SortStableFunc(out, func(a, b happening) int { return cmp.Compare(a.at, b.at) })
	return out
}

func (rec *Record) commandValue(path string, v plant.Value) string {
	prm, err := rec.Run.Scenario.Plant.Get(path)
	if err != nil {
		return v.Word
	}
	prm.Value = v
	return plant.FormatValue(prm)
}

func (rec *Record) writeChanges(b *bytes.Buffer) {
	none := true
	for _, set := range rec.Sets {
		none = false
		paragraph(b, "set ", fmt.Sprintf("from the start: %s %s (was %s)", set.Path, set.To, set.From))
	}
	for _, f := range rec.Faults {
		none = false
		when := "from the start"
		if f.At > 0 {
			when = "from " + unit.Format(f.At, unit.Time)
		}
		if !f.SetIn {
			when += ", which the run did not reach"
		}
		var sets []string
		for _, c := range f.Changes {
			from, to := c.From.Word, c.To.Word
			if c.Dim != "" || c.To.Word == "" {
				from, to = unit.Format(c.From.Number, c.Dim), unit.Format(c.To.Number, c.Dim)
			}
			sets = append(sets, fmt.Sprintf("%s %s (was %s)", c.Path, to, from))
		}
		text := when + ": " + strings.Join(sets, "; ")
		if f.Typical {
			text += "; typical value taken, since no severity was given"
		}
		paragraph(b, f.kind()+f.Name+" ", text)
	}
	for _, c := range rec.Run.Scenario.Commands {
		none = false
		paragraph(b, "command ", fmt.Sprintf("at %s: %s set to %s", unit.Format(c.At, unit.Time), c.Path, rec.commandValue(c.Path, c.Value)))
	}
	if none {
		fmt.Fprintln(b, "  none")
	}
}
