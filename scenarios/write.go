package scenarios

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
)

// Text is the scenario as a file that includes nothing: the whole plant, with
// numbers that read back to the very same ones, faults, commands, and what is
// hidden, still hidden. What the run must show is left out. It has no comments;
// spaces and line breaks of title and description may differ.
func (s *Scenario) Text() string {
	var b strings.Builder
	title := onOneLine(s.Title)
	if title == "" {
		title = s.Name
	}
	fmt.Fprintf(&b, "name: %s\ntitle: %s\n", asWord(s.Name), inQuotes(title))
	if about := onOneLine(s.About); about != "" {
		b.WriteString("about: >\n")
		folded(&b, "  ", about)
	}
	fmt.Fprintf(&b, "until: %s\n\nplant:\n", second(s.end()))
	for i, part := range s.Plant.Parts {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "  %s:\n    kind: %s\n", asWord(part.Name), part.Kind)
		v := reflect.Indirect(reflect.ValueOf(part.Spec))
		writeBlock(&b, "    ", plant.FieldsOf(v.Type()), v)
	}
	if len(s.Faults) > 0 {
		b.WriteString("\nfaults:\n")
		for _, e := range s.Faults {
			fmt.Fprintf(&b, "  - {%s}\n", s.faultText(e))
		}
	}
	if len(s.Commands) > 0 {
		b.WriteString("\ncommands:\n")
		for i, c := range s.Commands {
			// Of two for one parameter at one moment, as a log may have, the last counts.
			if slices.ContainsFunc(s.Commands[i+1:], func(later Command) bool { return later.At == c.At && later.Path == c.Path }) {
				continue
			}
			fmt.Fprintf(&b, "  - {%s}\n", s.commandText(c))
		}
	}
	if texts := s.Hidden.texts(); len(texts) > 0 {
		b.WriteString("\nhidden:\n")
		for _, text := range texts {
			fmt.Fprintf(&b, "  - %s\n", inQuotes(text))
		}
	}
	return b.String()
}

// end is the end of the run, or what happens after it if that is later: a file
// has nothing beyond its end.
func (s *Scenario) end() float64 {
	end := s.Until
	if s.Log != nil {
		end = max(end, s.Log.Planned)
	}
	for _, a := range s.Actions() {
		end = max(end, a.At())
	}
	return end
}

// folded writes a text in lines of moderate length.
func folded(b *strings.Builder, indent, text string) {
	const width = 78
	line := indent
	for _, word := range strings.Fields(text) {
		if len(line)+len(word) >= width && line != indent {
			b.WriteString(line + "\n")
			line = indent
		}
		if line != indent {
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
}

// writeBlock writes the fields of a part or of a block in it; blocks that the
// plant lacks are left out.
func writeBlock(b *strings.Builder, indent string, fields []plant.Field, v reflect.Value) {
	for _, f := range fields {
		fv := v.FieldByIndex(f.Index)
		switch {
		case f.Optional && fv.IsNil():
		case f.Block != nil:
			fmt.Fprintf(b, "%s%s:\n", indent, f.Key)
			writeBlock(b, indent+"  ", f.Block, reflect.Indirect(fv))
		case fv.Kind() == reflect.String:
			fmt.Fprintf(b, "%s%s: %s\n", indent, f.Key, asWord(fv.String()))
		default:
			fmt.Fprintf(b, "%s%s: %s\n", indent, f.Key, exactly(fv.Float(), f.Dim))
		}
	}
}

// faultText is a fault as an entry of a list.
func (s *Scenario) faultText(e fault.Entry) string {
	out := ""
	if e.At != 0 {
		out = "at: " + second(e.At) + ", "
	}
	out += "fault: " + asWord(e.Name)
	switch {
	case e.Severity != nil:
		out += ", severity: " + exactly(*e.Severity, s.severity(e).Dim)
	case e.Word != "":
		out += ", severity: " + asWord(e.Word)
	}
	if e.Part != "" {
		out += ", on: " + asWord(e.Part)
	}
	return out
}

// commandText is a command as an entry of a list.
func (s *Scenario) commandText(c Command) string {
	value := asWord(c.Value.Word)
	if prm, err := s.Plant.Get(c.Path); err == nil {
		value = exactValue(prm, c.Value)
	} else if c.Value.Word == "" {
		value = exactly(c.Value.Number, unit.Ratio)
	}
	return fmt.Sprintf("at: %s, set: %s, to: %s", second(c.At), c.Path, value)
}
