package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/unit"
)

const logIntro = `# The log of a run: the whole plant as it was at the start, and at the end of
# the file what was done, each with its time, and how far the run had come. As
# a scenario file it is run, printed and opened, and gives the same run again.
`

// LogHead is a log in which nothing has been done yet: the scenario as it stands,
// and the relative tolerance of a step, 0 for the usual one.
func (s *Scenario) LogHead(relTol float64) string {
	head := logIntro + s.Text() + fmt.Sprintf("\nlog:\n  format: %d\n", LogFormat)
	if relTol != 0 {
		head += "  tolerance: " + unit.Exact(relTol, unit.Ratio) + "\n"
	}
	return head + "\n" + didKey + "\n"
}

// LogLine is an action as a line of a log that has begun with this scenario, its
// faults so far included. It is an error if reading the line would not give the
// same action.
func (s *Scenario) LogLine(a Action) (string, error) {
	var line string
	switch {
	case a.Command != nil:
		line = s.commandText(*a.Command)
	case a.Hidden:
		text, err := conceal(a.sealed(), []fault.Entry{*a.Fault})
		if err != nil {
			return "", err
		}
		line = "hidden: " + inQuotes(text)
	default:
		line = s.faultText(*a.Fault)
	}
	line = fmt.Sprintf("  - {%s}\n", line)
	n, err := readLine("", 1, strings.TrimRight(line, "\n"))
	if err != nil {
		return "", err
	}
	own := *s
	own.Log, own.Faults, own.happenings = &Log{}, slices.Clip(s.Faults), nil
	if err := own.readDid(n); err != nil {
		if a.Hidden {
			err = errHidden
		}
		return "", fmt.Errorf("what was done cannot be written down: %w", err)
	}
	if len(own.Log.Did) != 1 || !a.same(own.Log.Did[0]) {
		return "", errors.New("what was done cannot be written down")
	}
	return line, nil
}

// ReachedLine says in a log how far the run has come, s.
func ReachedLine(t float64) string { return fmt.Sprintf("  - {reached: %s}\n", second(t)) }

// same tells whether two actions do the same, to the last bit.
func (a Action) same(b Action) bool {
	if a.Command != nil && b.Command != nil {
		return *a.Command == *b.Command
	}
	if a.Fault == nil || b.Fault == nil || a.Hidden != b.Hidden {
		return false
	}
	e, f := *a.Fault, *b.Fault
	if (e.Severity == nil) != (f.Severity == nil) || e.Severity != nil && *e.Severity != *f.Severity {
		return false
	}
	return e.Name == f.Name && e.Word == f.Word && e.Part == f.Part && e.At == f.At
}
