package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/unit"
)

// readChanges reads faults and commands, and applies them in the order of
// time to see that every plant they lead to is a sound one.
func (s *Scenario) readChanges(root *node) error {
	faults, err := root.listOf("faults")
	if err != nil {
		return err
	}
	for _, n := range faults {
		if err := s.readFault(n); err != nil {
			return err
		}
		if err := fault.Conflicts(s.Plant, s.Faults); err != nil {
			return n.entry["fault"].at.explain("faults.fault", n.entry["fault"].text, err)
		}
	}
	commands, err := root.listOf("commands")
	if err != nil {
		return err
	}
	var read []placed
	for _, n := range commands {
		c, err := s.readCommand(n)
		if err != nil {
			return err
		}
		for _, other := range read {
			if other.At == c.At && other.Path == c.Path {
				found := fmt.Sprintf("%s a second time at %s (first on line %d)", quote(c.Path), unit.Format(c.At, unit.Time), other.node.start().line)
				return n.entry["set"].at.wrong("commands.set", found, "one value at a time")
			}
		}
		read = append(read, placed{c, n})
	}
	slices.SortStableFunc(read, func(a, b placed) int { return cmp.Compare(a.At, b.At) })
	for _, c := range read {
		s.Commands = append(s.Commands, c.Command)
	}
	return s.tryChanges(faults, read)
}

// placed is a command with its place in the file.
type placed struct {
	Command
	node *node
}

// listOf returns the groups of a list that may be absent.
func (n *node) listOf(key string) ([]*node, error) {
	v, ok := n.entry[key]
	if !ok {
		return nil, nil
	}
	if v.kind != list {
		return nil, v.at.wrong(key, v.describe(), "a list, each item after a hyphen")
	}
	return v.items, nil
}

// readTime reads when a change happens: within the run.
func (s *Scenario) readTime(path string, n *node) (float64, error) {
	return n.needNumber(path, "at", plant.Param{Dim: unit.Time, Range: plant.Range{Lo: 0, Hi: s.Until}})
}

func (s *Scenario) readFault(n *node) error {
	const path = "faults"
	if err := n.needMapping(path, []string{"fault", "severity", "at", "on"}); err != nil {
		return err
	}
	name, err := n.needScalar(path, "fault", "the name of a fault")
	if err != nil {
		return err
	}
	var names []string
	for _, f := range fault.All() {
		names = append(names, f.Name)
	}
	if err := name.wordOf("faults.fault", names); err != nil {
		return err
	}
	e := fault.Entry{Name: name.text}
	at := name
	if _, ok := n.entry["on"]; ok {
		if at, err = n.needScalar(path, "on", "the name of a part"); err != nil {
			return err
		}
		e.Part = at.text
	}
	if err := fault.Conflicts(s.Plant, []fault.Entry{e}); err != nil { // the part is there, and has what the fault sets
		return at.at.explain("faults."+keyOf(n, at), at.text, err)
	}
	if _, ok := n.entry["at"]; ok { // left out, it is there from the start
		if e.At, err = s.readTime(path, n); err != nil {
			return err
		}
	}
	if _, ok := n.entry["severity"]; ok { // left out, the catalogue's typical value holds
		v, err := n.needNumber(path, "severity", s.severity(e))
		if err != nil {
			return err
		}
		e.Severity = &v
	}
	s.Faults = append(s.Faults, e)
	return nil
}

// severity is the parameter that the severity of a fault is the new value of.
func (s *Scenario) severity(e fault.Entry) plant.Param {
	f, _ := fault.Find(e.Name)
	for _, part := range s.Plant.OfKind(f.Part) {
		if e.Part != "" && e.Part != part.Name {
			continue
		}
		if prm, err := s.Plant.Get(part.Name + "." + f.Param); err == nil {
			return prm
		}
	}
	return plant.Param{Dim: f.Dim()}
}

// keyOf returns the key that a value stands behind.
func keyOf(n, value *node) string {
	for _, key := range n.keys {
		if n.entry[key] == value {
			return key
		}
	}
	return ""
}

// atStart are the parameters, by kind of part, that say how a run begins: a
// command on one would change nothing.
var atStart = map[string][]string{
	"vessel": {"pressure", "temperature"},
}

func (s *Scenario) readCommand(n *node) (Command, error) {
	const path = "commands"
	if err := n.needMapping(path, []string{"at", "set", "to"}); err != nil {
		return Command{}, err
	}
	at, err := s.readTime(path, n)
	if err != nil {
		return Command{}, err
	}
	set, err := n.needScalar(path, "set", "the path of a parameter, such as inflow.mass-flow")
	if err != nil {
		return Command{}, err
	}
	prm, err := s.Plant.Get(set.text)
	if err != nil {
		return Command{}, set.at.explain("commands.set", set.text, err)
	}
	part, key, _ := strings.Cut(prm.Path, ".")
	q, _ := s.Plant.Find(part)
	switch {
	case prm.Ref != nil:
		return Command{}, set.at.wrong("commands.set", quote(set.text)+" (which says how the parts are joined)", "a parameter that can change during a run")
	case slices.Contains(atStart[q.Kind], key):
		return Command{}, set.at.wrong("commands.set", quote(set.text)+" (which only says how the run starts)", "a parameter that can change during a run")
	}
	to, err := n.needScalar(path, "to", wantOf(prm))
	if err != nil {
		return Command{}, err
	}
	val, err := to.value("commands.to", prm)
	return Command{At: at, Path: prm.Path, Value: val}, err
}

// tryChanges walks the run, and puts the place in the file to what fails.
func (s *Scenario) tryChanges(faults []*node, commands []placed) error {
	p := s.Plant
	for _, c := range s.changes() {
		next, _, err := s.apply(p, c)
		if err != nil {
			key, n := "faults.fault", (*node)(nil)
			if c.command >= 0 {
				key, n = "commands.to", commands[c.command].node.entry["to"]
			} else if n = faults[c.fault].entry["severity"]; n != nil {
				key = "faults.severity"
			} else {
				n = faults[c.fault].entry["fault"]
			}
			return n.at.explain(key, n.text, err)
		}
		p = next
	}
	return nil
}
