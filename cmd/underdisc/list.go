package main

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/model/unit"
	"underdisc/scenarios"
)

type listCmd struct {
	What     string `arg:"" optional:"" name:"WHAT" help:"scenarios, faults, procedures or paths; all of them if left out."`
	Scenario string `arg:"" optional:"" name:"SCENARIO" help:"Whose paths to list; ${scenario} if left out."`
}

// lists are what list can list, in its order.
var lists = []struct {
	name  string
	print func(*bytes.Buffer, *scenarios.Scenario) error
}{
	{"scenarios", func(b *bytes.Buffer, _ *scenarios.Scenario) error { return listScenarios(b) }},
	{"faults", func(b *bytes.Buffer, _ *scenarios.Scenario) error { return listFaults(b) }},
	{"procedures", func(b *bytes.Buffer, _ *scenarios.Scenario) error { return listProcedures(b) }},
	{"paths", listPaths},
}

// Run prints the lists that are asked for.
func (c *listCmd) Run(p *program) error {
	name := c.Scenario
	if name == "" {
		name = defaultScenario
	}
	sc, err := scenarios.Load(name)
	if err != nil {
		return badInput{err}
	}
	var b bytes.Buffer
	found := false
	for _, l := range lists {
		if c.What != "" && c.What != l.name {
			continue
		}
		if found {
			b.WriteByte('\n')
		}
		found = true
		if err := l.print(&b, sc); err != nil {
			return err
		}
	}
	switch {
	case !found:
		return bad("list %s: found %q, want scenarios, faults, procedures or paths", c.What, c.What)
	case c.Scenario != "" && c.What != "paths":
		return bad("list %s %s: found a scenario, which only paths takes; want list paths %s", c.What, c.Scenario, c.Scenario)
	}
	_, err = b.WriteTo(p.out)
	return err
}

func columns(b *bytes.Buffer, rows func(*tabwriter.Writer)) error {
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	rows(w)
	return w.Flush()
}

// groups are the headings below which scenarios are listed: each goes below the
// first that takes it.
var groups = []struct {
	title string
	takes func(sc *scenarios.Scenario) bool
}{
	{"Valves on a bench", func(sc *scenarios.Scenario) bool { return !plantful(sc) && !faulty(sc) }},
	{"What the boiler plant does", func(sc *scenarios.Scenario) bool { return plantful(sc) && !faulty(sc) }},
	{"Faults on a bench", func(sc *scenarios.Scenario) bool { return !plantful(sc) }},
	{"Faults and mistakes on the boiler plant", func(*scenarios.Scenario) bool { return true }},
}

// plantful tells whether a boiler works for a load.
func plantful(sc *scenarios.Scenario) bool { return len(sc.Plant.OfKind("load")) > 0 }

// faulty tells whether something is wrong in a scenario: a fault, or a setting or a
// hand of which its name says it.
func faulty(sc *scenarios.Scenario) bool {
	return len(sc.Faults) > 0 || strings.HasPrefix(sc.Name, "plant-") || strings.HasPrefix(sc.Name, "fault-")
}

func listScenarios(b *bytes.Buffer) error {
	b.WriteString("Scenarios, for run NAME:\n")
	below := make([][]*scenarios.Scenario, len(groups))
	for _, name := range scenarios.Names() {
		sc, err := scenarios.Load(name)
		if err != nil {
			return err
		}
		i := 0
		for !groups[i].takes(sc) {
			i++
		}
		below[i] = append(below[i], sc)
	}
	var table bytes.Buffer // of all, so that the columns stand below each other
	err := columns(&table, func(w *tabwriter.Writer) {
		for _, scs := range below {
			for _, sc := range scs {
				fmt.Fprintf(w, "    %s\t%s\t%s\n", sc.Name, unit.Format(sc.Until, unit.Time), sc.Title)
			}
		}
	})
	for i, scs := range below {
		fmt.Fprintf(b, "\n  %s\n", groups[i].title)
		for range scs {
			line, _ := table.ReadString('\n')
			b.WriteString(line)
		}
	}
	return err
}

func listFaults(b *bytes.Buffer) error {
	b.WriteString("Faults, for --fault NAME[:PART][=SEVERITY][@TIME]. The severity is the new value of the\n" +
		"parameter that the fault sets, in any unit of its kind; left out, it is the typical one:\n")
	// The sentence about each fault goes below its line, so the columns are
	// laid out first and the sentences put between.
	var table bytes.Buffer
	err := columns(&table, func(w *tabwriter.Writer) {
		for _, f := range fault.All() {
			fmt.Fprintf(w, "  %s\tsets %s of a %s\ttypically %s\t%s\n", f.Name, f.Param, f.Part, f.TypicalValue(), kindOf(f))
		}
	})
	for _, f := range fault.All() {
		line, _ := table.ReadString('\n')
		fmt.Fprintf(b, "%s      %s\n", line, f.About)
	}
	return err
}

func listProcedures(b *bytes.Buffer) error {
	b.WriteString("Procedures, for --do NAME[:VALVE]@TIME. They show what the model does; at a real valve the plant's own\n" +
		"procedure, local code and licensed practice hold:\n")
	for _, d := range procedure.All() {
		fmt.Fprintf(b, "  %s\n", d.Name)
		indented(b, d.About)
		indented(b, "Caution: "+d.Caution)
	}
	return nil
}

// indented writes a text on lines of their own.
func indented(b *bytes.Buffer, text string) {
	const width = 96
	line := "     "
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > width {
			fmt.Fprintln(b, line)
			line = "     "
		}
		line += " " + word
	}
	fmt.Fprintln(b, line)
}

func listPaths(b *bytes.Buffer, sc *scenarios.Scenario) error {
	fmt.Fprintf(b, "Paths of %s, for --set PATH=VALUE, with what they stand at:\n", sc.Name)
	return columns(b, func(w *tabwriter.Writer) {
		for _, prm := range sc.Plant.Params() {
			value := plant.FormatValue(prm)
			switch {
			case prm.Enum != nil:
				value += " (" + strings.Join(prm.Enum, ", ") + ")"
			case prm.Ref != nil:
				value += " (name of a " + strings.Join(prm.Ref, " or ") + ")"
			}
			fmt.Fprintf(w, "  %s\t%s\t%s\n", prm.Path, value, prm.Doc)
		}
	})
}

// kindOf says what the severity of a fault is: a quantity, or some words.
func kindOf(f fault.Fault) string {
	if words := f.Words(); words != nil {
		return strings.Join(words, ", ")
	}
	return unit.Noun(f.Dim())
}
