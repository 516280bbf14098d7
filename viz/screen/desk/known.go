package desk

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
)

// known is what is done in a scenario and is no secret, in order of time; of
// equal times the faults first.
func known(sc *scenarios.Scenario) []scenarios.Action {
	var out []scenarios.Action
	for i := range sc.Faults {
		out = append(out, scenarios.Action{Fault: &sc.Faults[i]})
	}
	if sc.Hidden != nil && sc.Hidden.Revealed {
		for i := range sc.Hidden.Faults {
			out = append(out, scenarios.Action{Fault: &sc.Hidden.Faults[i], Hidden: true})
		}
	}
	for i := range sc.Commands {
		out = append(out, scenarios.Action{Command: &sc.Commands[i]})
	}
	slices.SortStableFunc(out, func(a, b scenarios.Action) int { return cmp.Compare(a.At(), b.At()) })
	return out
}

func applied(p *plant.Plant, a scenarios.Action) (*plant.Plant, error) {
	if a.Command != nil {
		return p.With(a.Command.Path, a.Command.Value)
	}
	q, _, err := fault.Apply(p, *a.Fault)
	return q, err
}

// spoken writes a word of the files for reading: "bleed-plugged" as "bleed
// plugged", "valve.bleed.area" as "valve bleed area".
func spoken(word string) string {
	return strings.NewReplacer("-", " ", ".", " ").Replace(word)
}

// sentence makes a sentence of an error.
func sentence(err error) string {
	s := strings.TrimSpace(err.Error())
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return "It failed, and does not say why."
	}
	s = string(unicode.ToUpper(r)) + s[n:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
