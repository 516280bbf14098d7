package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// Log is what the log of a run has beside the scenario: what was done is among
// the scenario's faults, hidden faults and commands, and the scenario's end is
// how far the run came.
type Log struct {
	Planned float64  // the end that the scenario had, s
	Reached float64  // how far the run had come, s; 0 if it is not known to have moved
	RelTol  float64  // relative tolerance of a step; 0: the usual one
	Did     []Action // what was done, in the order in which it was done
	// Start is the scenario before anything was done.
	Start *Scenario
}

// LogFormat is the number of the form in which logs are written.
const LogFormat = 1

// A log is an ordinary scenario file whose last key is "did", a list with an
// item on each line below it. That part is read line by line: it grows long,
// and the last line may have been cut off.
const (
	maxLogBytes = 1 << 24
	maxActions  = 20000
	didKey      = "did:"
)

// toleranceRange and timesOfLog are what a log may say.
var (
	toleranceRange = plant.Range{Lo: 1e-12, Hi: 0.1}
	timesOfLog     = plant.Range{Lo: 0, Hi: longest}
)

// shortestLog is the end of a log that is not known to have come anywhere, s:
// a run has some length.
const shortestLog = 1e-3

// splitLog cuts a file behind the line that begins the list. A file without
// one is all head. A last line that does not end is dropped: a log that was
// being written when the program was killed may have one.
func splitLog(data []byte) (head, tail []byte) {
	for at := 0; at < len(data); {
		end := len(data)
		if n := bytes.IndexByte(data[at:], '\n'); n >= 0 {
			end = at + n + 1
		}
		line, _, _ := bytes.Cut(data[at:end], []byte("#"))
		if string(bytes.TrimRight(line, " \t\r\n")) == didKey {
			return data[:end], data[end : end+1+bytes.LastIndexByte(data[end:], '\n')]
		}
		at = end
	}
	return data, nil
}

// readRun reads what happens to the plant. tail is the list of a log.
func (s *Scenario) readRun(root *node, file string, tail []byte) error {
	did, err := s.readLog(root, file, tail)
	if err != nil {
		return err
	}
	if err := s.readChanges(root, did); err != nil {
		return err
	}
	if s.Log != nil {
		s.Until = max(s.Log.Reached, shortestLog)
	}
	return nil
}

// readLog reads what makes a file the log of a run, and returns what was done.
func (s *Scenario) readLog(root *node, file string, tail []byte) ([]*node, error) {
	head, isLog := root.entry["log"]
	did, has := root.entry["did"]
	switch {
	case !isLog && !has:
		return nil, nil
	case !isLog:
		return nil, did.start().wrong("did", "what was done, in a file that is no log", "the key log above, or commands and faults")
	case !has:
		return nil, head.start().wrong("log", "a log without its list", "the key did as the last one, on a line of its own")
	case did.kind != empty || did.keyAt.file != file:
		return nil, did.start().wrong("did", did.describe(), "each item on a line of its own below the key, the last one of the file")
	}
	if err := head.needMapping("log", []string{"format", "tolerance"}); err != nil {
		return nil, err
	}
	format, err := head.needScalar("log", "format", fmt.Sprint(LogFormat))
	if err != nil {
		return nil, err
	}
	if format.text != fmt.Sprint(LogFormat) {
		return nil, format.at.wrong("log.format", quote(format.text), fmt.Sprintf("%d, the only one that this program knows", LogFormat))
	}
	s.Log = &Log{Planned: s.Until}
	if _, ok := head.entry["tolerance"]; ok {
		tol := plant.Param{Dim: unit.Ratio, Range: toleranceRange}
		if s.Log.RelTol, err = head.needNumber("log", "tolerance", tol); err != nil {
			return nil, err
		}
	}
	return s.readLines(file, did.keyAt.line, tail)
}

// readLines reads the lines below the list's key, which stands on the line
// given. How far the run has come is taken at once.
func (s *Scenario) readLines(file string, above int, tail []byte) ([]*node, error) {
	if len(tail) > maxLogBytes {
		return nil, &Error{File: file, Found: fmt.Sprintf("more than %d bytes", maxLogBytes), Want: "a smaller file"}
	}
	var out []*node
	line := above
	for text := range strings.Lines(string(tail)) {
		line++
		text = strings.TrimRight(text, " \t\r\n")
		if bare := strings.TrimLeft(text, " "); bare == "" || bare[0] == '#' {
			continue
		}
		n, err := readLine(file, line, text)
		if err != nil {
			return nil, err
		}
		if n.entry["reached"] != nil {
			if err := n.onlyKeys("did", []string{"reached"}); err != nil {
				return nil, err
			}
			t, err := n.needNumber("did", "reached", plant.Param{Dim: unit.Time, Range: timesOfLog})
			if err != nil {
				return nil, err
			}
			s.Log.Reached = max(s.Log.Reached, t)
			continue
		}
		if out = append(out, n); len(out) > maxActions {
			return nil, n.at.wrong("did", fmt.Sprintf("more than %d things done", maxActions), "a smaller file")
		}
	}
	return out, nil
}

// readLine reads one item of the list, a group of keys.
func readLine(file string, line int, text string) (*node, error) {
	root, err := parseSource(file, []byte(text))
	if err == nil && (root.kind != list || len(root.items) != 1 || root.items[0].kind != mapping) {
		err = place{file, 1, 1}.wrong("did", quote(strings.TrimSpace(text)), "an item in braces after a hyphen, such as \"- {reached: 3 s}\"")
	}
	if err != nil {
		var e *Error
		if errors.As(err, &e) && e.Line > 0 {
			e.Line += line - 1
		}
		return nil, err
	}
	root.items[0].lower(line - 1)
	return root.items[0], nil
}

// lower moves the places of a value down by some lines.
func (n *node) lower(by int) {
	n.at.line += by
	if n.keyAt.line > 0 {
		n.keyAt.line += by
	}
	for _, v := range n.entry {
		v.lower(by)
	}
	for _, v := range n.items {
		v.lower(by)
	}
}

// readDid reads one thing that was done.
func (s *Scenario) readDid(n *node) error {
	const path = "did"
	var err error
	before := len(s.happenings)
	switch {
	case n.entry["hidden"] != nil:
		if err = n.onlyKeys(path, []string{"hidden"}); err == nil {
			err = s.readSealed(path+".hidden", n.entry["hidden"], longest)
		}
	case n.entry["fault"] != nil:
		err = s.readFault(path, n, longest)
	case n.entry["set"] != nil:
		_, err = s.readCommand(path, n, longest)
	default:
		known := slices.Concat(commandKeys, faultKeys, []string{"hidden", "reached"})
		if err = n.onlyKeys(path, known); err == nil {
			err = n.at.wrong(path, "nothing that is done", "one of set, fault, hidden, reached among the keys")
		}
	}
	if err != nil {
		return err
	}
	for _, h := range s.happenings[before:] { // a hidden item may hide several
		s.Log.Did = append(s.Log.Did, h.Action)
		s.Log.Reached = max(s.Log.Reached, h.At())
	}
	return nil
}
