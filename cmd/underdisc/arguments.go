package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/scenarios"
)

// helped turns "help" and "help COMMAND" into the flag that prints the help.
func helped(args []string) []string {
	if args[0] != "help" {
		return args
	}
	return append(slices.Clone(args[1:]), "--help")
}

// joined puts a value that begins with a sign and a digit, such as -1s, to the flag
// before it: it is a value, and would be taken for a flag.
func joined(args []string) []string {
	var out []string
	for _, a := range args {
		if k := len(out) - 1; k >= 0 && negative(a) && strings.HasPrefix(out[k], "--") && !strings.Contains(out[k], "=") {
			out[k] += "=" + a
			continue
		}
		out = append(out, a)
	}
	return out
}

func negative(word string) bool {
	return len(word) > 1 && word[0] == '-' && strings.ContainsRune(".0123456789", rune(word[1]))
}

// known refuses a first word that is no command, and says which was likely meant.
func known(parser *kong.Kong, args []string) error {
	if args[0] == "" || args[0][0] == '-' {
		return nil
	}
	var names []string
	for _, c := range parser.Model.Children {
		names = append(names, c.Name)
	}
	if slices.Contains(names, args[0]) {
		return nil
	}
	if slices.Contains(scenarios.Names(), args[0]) {
		return bad("%s: found a scenario and no command, want for instance run %s or show %s", args[0], args[0], args[0])
	}
	want := "one of " + strings.Join(names, ", ")
	if near := plant.Near(args[0], names); near != nil {
		want += "; nearest is " + near[0]
	}
	return bad("%s: found no such command, want %s (underdisc --help says what each does)", args[0], want)
}

// noteEnd says on the error output that a moment lies past the end of what a
// scenario tells.
func (p *program) noteEnd(scenario string, t float64) {
	sc, err := scenarios.Load(scenario)
	if err != nil || t <= sc.Until {
		return
	}
	fmt.Fprintf(p.err, "underdisc: %s ends at %s; up to %s it goes on with nothing more done to it\n",
		sc.Name, unit.Format(sc.Until, unit.Time), unit.Format(t, unit.Time))
}
