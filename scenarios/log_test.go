package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

// logHead is the head of a small log; the list begins behind its last line.
const logHead = "name: mine\ntitle: My own\ninclude: gas-bench-plus\nuntil: 30 s\nlog:\n  format: 1\ndid:\n"

func parseLog(text string) (*Scenario, error) { return Parse("my.log", []byte(text), openEmbeddedOnly) }

func TestLog(t *testing.T) {
	s, err := parseLog(strings.Replace(logHead, "format: 1", "format: 1\n  tolerance: 1e-8", 1) + `
  # a comment, and an empty line above
  - {at: 1.5 s, set: inflow.mass-flow, to: 1.25 kg/s}
  - {reached: 3.5 s}
  - {at: 4 s, fault: pilot-leaks, severity: 6 mm2, on: valve}
  - {at: 4.0000001 s, fault: spring-weak}
- {at: 35 s, set: inflow.mass-flow, to: 0 kg/s}
`)
	require.NoError(t, err)
	assert.Equal(t, 35.0, s.Until, "as far as the last action")
	assert.Equal(t, &Log{Planned: 30, Reached: 35, RelTol: 1e-8, Did: s.Log.Did, Start: s.Log.Start}, s.Log)
	require.Len(t, s.Log.Did, 4)
	assert.Empty(t, s.Log.Start.Faults)
	assert.Empty(t, s.Log.Start.Commands)
	assert.Equal(t, 30.0, s.Log.Start.Until)
	assert.Equal(t, 6e-6, *s.Log.Did[1].Fault.Severity)
	assert.Equal(t, []fault.Entry{*s.Log.Did[1].Fault, *s.Log.Did[2].Fault}, s.Faults)
	assert.Equal(t, []Command{
		{At: 1.5, Path: "inflow.mass-flow", Value: plant.Value{Number: 1.25}},
		{At: 35, Path: "inflow.mass-flow"},
	}, s.Commands)

	s, err = parseLog(logHead)
	require.NoError(t, err, "nothing done, nowhere come")
	assert.Equal(t, &Log{Planned: 30, Start: s.Log.Start}, s.Log)
	assert.Equal(t, shortestLog, s.Until)
	s, err = parseLog(strings.TrimRight(logHead, "\n"))
	require.NoError(t, err)
	assert.Empty(t, s.Log.Did)
	s, err = parseLog(strings.ReplaceAll(logHead+"  - {reached: 2 s}\n  - {reached: 1 s}\n", "\n", "\r\n"))
	require.NoError(t, err, "lines that end otherwise")
	assert.Equal(t, 2.0, s.Until)
}

// However a log is cut, what is whole is read and what is not is dropped, but
// only the last line, and only in a log.
func TestCutLog(t *testing.T) {
	const lines = "  - {at: 1.5 s, set: inflow.mass-flow, to: 1.25 kg/s}\n  - {reached: 3.5 s}\n"
	for n := range len(lines) {
		s, err := parseLog(logHead + lines[:n])
		require.NoError(t, err, "%q", lines[:n])
		assert.Len(t, s.Commands, strings.Count(lines[:n], "kg/s}\n"))
	}
	s, err := parseLog(logHead + lines + strings.Repeat("\x00", 700))
	require.NoError(t, err, "as a machine that lost power leaves it")
	assert.Equal(t, 3.5, s.Until)
	_, err = parseLog(logHead + "  - {reached: 3.\n" + lines)
	require.Error(t, err, "a line in the middle")
	_, err = parseLog(strings.Replace(logHead, "log:\n  format: 1\n", "", 1) + "  - {rea")
	assert.ErrorContains(t, err, "in a file that is no log")
	_, err = parseLog(goodRest + "commands:\n  - {at: 1.5 s, set: inflow.mass-fl")
	assert.Error(t, err, "no log")
}

const goodRest = "name: mine\ntitle: My own\ninclude: gas-bench-plus\n"

func TestBadLogs(t *testing.T) {
	for _, b := range []bad{
		{name: "no list", text: strings.Replace(logHead, "did:\n", "", 1), line: 5, col: 1, key: "log", found: "without its list", want: "did as the last one"},
		{name: "list on the line", text: strings.Replace(logHead, "did:", "did: []", 1), line: 7, col: 1, key: "did", found: "a list", want: "a line of its own"},
		{name: "no log", text: goodRest + "did:\n", line: 4, col: 1, key: "did", found: "no log"},
		{name: "format missing", text: strings.Replace(logHead, "format: 1", "tolerance: 1e-6", 1), line: 5, col: 1, key: "log.format", found: "nothing", want: "1"},
		{name: "format of the future", text: strings.Replace(logHead, "format: 1", "format: 2", 1), line: 6, col: 11, key: "log.format", found: `"2"`, want: "the only one"},
		{name: "tolerance", text: strings.Replace(logHead, "format: 1", "format: 1\n  tolerance: 2", 1), line: 7, col: 14, key: "log.tolerance", found: `"2"`},
		{name: "unknown key of log", text: strings.Replace(logHead, "format: 1", "formt: 1", 1), line: 6, col: 3, key: "log.formt", want: "format"},
		{name: "something behind the list", text: logHead + "  - {reached: 1 s}\nuntil: 5 s\n", line: 9, col: 1, key: "did", found: "until: 5 s", want: "after a hyphen"},
		{name: "an item over two lines", text: logHead + "  - {reached: 1 s,\n    x: 2}\n", line: 8, col: 18, found: "YAML"},
		{name: "two items on a line", text: logHead + "  - {reached: 1 s} - {reached: 2 s}\n", line: 8, col: 20, found: "YAML"},
		{name: "control character", text: logHead + "\n  - {reached: 1 \x01s}\n", line: 9, col: 17, found: "U+0001"},
		{name: "nothing done", text: logHead + "  - {at: 1 s}\n", line: 8, col: 5, key: "did", found: "nothing that is done", want: "set, fault, hidden, reached"},
		{name: "unknown key", text: logHead + "  - {at: 1 s, sett: inflow.mass-flow}\n", line: 8, col: 15, key: "did.sett", want: "nearest is set"},
		{name: "key of another item", text: logHead + "  - {reached: 1 s, set: inflow.mass-flow}\n", line: 8, col: 20, key: "did.set", want: "reached"},
		{name: "no unit", text: logHead + "  - {reached: 1}\n", line: 8, col: 15, key: "did.reached", found: "no unit"},
		{name: "unknown path", text: logHead + "  - {at: 1 s, set: inflow.massflow, to: 1 kg/s}\n", line: 8, col: 20, key: "did.set", want: "inflow.mass-flow"},
		{name: "how it starts", text: logHead + "  - {at: 1 s, set: vessel.pressure, to: 1 bar abs}\n", line: 8, col: 20, key: "did.set", found: "starts"},
		{name: "value", text: logHead + "\n\n  - {at: 1 s, set: inflow.mass-flow, to: 1 kg}\n", line: 10, col: 42, key: "did.to", found: "a mass"},
		{name: "value against the plant", text: logHead + "  - {at: 1 s, set: switch.reset, to: 12.5 bar abs}\n", line: 8, col: 38, key: "did.to", found: "then switch.reset is 12.5 bar abs", want: "less than 12 bar abs"},
		{name: "unknown fault", text: logHead + "  - {at: 1 s, fault: pilot-leeks}\n", line: 8, col: 22, key: "did.fault", want: "nearest is pilot-leaks"},
		{name: "two faults on one parameter", text: logHead + "  - {at: 1 s, fault: bleed-plugged}\n  - {at: 2 s, fault: bleed-enlarged}\n", line: 9, col: 22, key: "did.fault", found: "as bleed-plugged does"},
		{name: "damaged hidden fault", text: logHead + "  - {hidden: AbC}\n", line: 8, col: 14, key: "did.hidden", found: `"AbC" (is not what hides a fault, or is damaged)`, want: "hide"},
		{name: "before the run", text: logHead + "  - {at: -1 s, fault: pilot-leaks}\n", line: 8, col: 10, key: "did.at", found: `"-1 s"`},
	} {
		t.Run(b.name, b.check)
	}
	_, err := Parse("over.yaml", []byte("name: over\ntitle: t\ninclude: ./my.log.yaml\n"), func(name string) (string, []byte, error) {
		if isPath(name) {
			return name, []byte(logHead), nil
		}
		return openEmbedded(name)
	})
	assert.ErrorContains(t, err, `over.yaml:3:10: include: found "./my.log.yaml", which is the log of a run (my.log.yaml:5), want a scenario`)
}

// A long log is read in little time, and a hostile one is refused.
func TestLongLog(t *testing.T) {
	var b strings.Builder
	b.WriteString(logHead)
	for i := range 30000 { // eight hours
		b.WriteString(ReachedLine(float64(i) + 0.123456789))
	}
	s, err := parseLog(b.String())
	require.NoError(t, err)
	assert.Equal(t, 29999.123456789, s.Until)
	_, err = parseLog(logHead + strings.Repeat("# filling\n", maxLogBytes/10+10))
	assert.ErrorContains(t, err, "a smaller file")
}

// What cannot be read back is not written.
func TestLogLine(t *testing.T) {
	s, err := Load("gas-bench-plus")
	require.NoError(t, err)
	six := 6e-6
	for want, a := range map[string]Action{
		"  - {at: 3 s, set: inflow.mass-flow, to: 1.5 kg/s}\n":                     {Command: &Command{3, "inflow.mass-flow", plant.Value{Number: 1.5}}},
		"  - {at: 0.1 s, set: relay.selector.position, to: \"off\"}\n":             {Command: &Command{0.1, "relay.selector.position", plant.Value{Word: "off"}}},
		"  - {at: 1e-9 s, fault: pilot-leaks, severity: 6 mm2, on: valve}\n":       {Fault: &fault.Entry{Name: "pilot-leaks", Severity: &six, Part: "valve", At: 1e-9}},
		"  - {at: 2.0000000000000004 s, set: line.block-valve.opening, to: 0.1}\n": {Command: &Command{math.Nextafter(2, 3), "line.block-valve.opening", plant.Value{Number: 0.1}}},
		"  - {at: 7 s, set: valve.bleed.area, to: 3.3000000000000007 mm2}\n":       {Command: &Command{7, "valve.bleed.area", plant.Value{Number: math.Nextafter(3.3e-6, 1)}}},
		"  - {fault: coil-open}\n":                                                 {Fault: &fault.Entry{Name: "coil-open"}},
	} {
		got, err := s.LogLine(a)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for name, a := range map[string]Action{
		"how it starts": {Command: &Command{3, "vessel.pressure", plant.Value{Number: 1e5}}},
		"no such path":  {Command: &Command{3, "vessel.presure", plant.Value{Number: 1e5}}},
		"out of range":  {Command: &Command{3, "inflow.mass-flow", plant.Value{Number: -1}}},
		"not a number":  {Command: &Command{3, "inflow.mass-flow", plant.Value{Number: math.NaN()}}},
		"no time":       {Command: &Command{math.NaN(), "inflow.mass-flow", plant.Value{Number: 1}}},
		"no such fault": {Fault: &fault.Entry{Name: "pilot-leeks", At: 1}},
		"no such word":  {Command: &Command{3, "relay.selector.position", plant.Value{Word: "shut"}}},
	} {
		_, err := s.LogLine(a)
		assert.ErrorContains(t, err, "cannot be written down", name)
	}
}
