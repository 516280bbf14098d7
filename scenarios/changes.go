package scenarios

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/model/unit"
)

// happening is an action with the place in the file that is to blame if it does
// not fit.
type happening struct {
	Action
	at        place
	key, text string
}

// readChanges reads faults, open and hidden, commands, and what a log has, and
// applies them in the order of time to see that every plant they lead to is a
// sound one.
func (s *Scenario) readChanges(root *node, did []*node) error {
	faults, err := root.listOf("faults")
	if err != nil {
		return err
	}
	for _, n := range faults {
		if err := s.readFault("faults", n, s.Until); err != nil {
			return err
		}
	}
	if err := s.readHidden(root); err != nil {
		return err
	}
	commands, err := root.listOf("commands")
	if err != nil {
		return err
	}
	read := map[Command]place{} // when and what, without the value
	for _, n := range commands {
		done, err := s.readCommands(n)
		if err != nil {
			return err
		}
		for _, c := range done {
			at := Command{At: c.At, Path: c.Path}
			if first, ok := read[at]; ok {
				found := fmt.Sprintf("%s a second time at %s (first on line %d)", quote(c.Path), unit.Format(c.At, unit.Time), first.line)
				key := "set"
				if n.entry["do"] != nil {
					key = "do"
				}
				return n.entry[key].at.wrong("commands."+key, found, "one value at a time")
			}
			read[at] = n.start()
		}
	}
	if s.Log != nil {
		start := *s
		start.Log, start.happenings = nil, nil
		start.Faults, start.Commands = slices.Clip(s.Faults), slices.Clone(s.Commands)
		slices.SortStableFunc(start.Commands, byTime)
		s.Log.Start = &start
	}
	for _, n := range did {
		if err := s.readDid(n); err != nil {
			return err
		}
	}
	slices.SortStableFunc(s.Commands, byTime)
	return s.tryChanges()
}

func byTime(a, b Command) int { return cmp.Compare(a.At, b.At) }

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
func readTime(path string, n *node, end float64) (float64, error) {
	return n.needNumber(path, "at", plant.Param{Dim: unit.Time, Range: plant.Range{Lo: 0, Hi: end}})
}

// faultKeys are the keys of a fault.
var faultKeys = []string{"fault", "severity", "at", "on"}

// readFault reads a fault that sets in before the end.
func (s *Scenario) readFault(path string, n *node, end float64) error {
	if err := n.needMapping(path, faultKeys); err != nil {
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
	if err := name.wordOf(path+".fault", names); err != nil {
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
		return at.at.explain(path+"."+keyOf(n, at), at.text, err)
	}
	if _, ok := n.entry["at"]; ok { // left out, it is there from the start
		if e.At, err = readTime(path, n, end); err != nil {
			return err
		}
	}
	blame := name
	if _, ok := n.entry["severity"]; ok { // left out, the catalogue's typical value holds
		prm := s.severity(e)
		if blame, err = n.needScalar(path, "severity", wantOf(prm)); err != nil {
			return err
		}
		v, err := blame.value(path+".severity", prm)
		if err != nil {
			return err
		}
		e = e.With(prm, v)
	}
	s.Faults = append(s.Faults, e)
	if err := fault.Conflicts(s.Plant, s.Faults); err != nil {
		return name.at.explain(path+".fault", name.text, err)
	}
	s.happenings = append(s.happenings, happening{Action{Fault: &e}, blame.at, path + "." + keyOf(n, blame), blame.text})
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
	return plant.Param{Dim: f.Dim(), Enum: f.Words()}
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
	"drum":   {"pressure", "water-share", "superheat"},
	"line":   {"run.cells"},

	"piloted-valve": {"chamber.condensate.share"},
	"spring-valve":  {"inlet.cells"},
}

// procedureKeys are the keys of a command that stands for several.
var procedureKeys = []string{"at", "do", "on"}

// readCommands reads one item of the commands: a setting, or a procedure, which
// is several.
func (s *Scenario) readCommands(n *node) ([]Command, error) {
	const path = "commands"
	if n.kind != mapping || n.entry["do"] == nil {
		c, err := s.readCommand(path, n, s.Until)
		return []Command{c}, err
	}
	if err := n.onlyKeys(path, procedureKeys); err != nil {
		return nil, err
	}
	at, err := readTime(path, n, s.Until)
	if err != nil {
		return nil, err
	}
	do, err := n.needScalar(path, "do", "the name of a procedure")
	if err != nil {
		return nil, err
	}
	if err := do.wordOf(path+".do", procedure.Names()); err != nil {
		return nil, err
	}
	valve, blame := "", do
	if n.entry["on"] != nil {
		if blame, err = n.needScalar(path, "on", "the name of a valve"); err != nil {
			return nil, err
		}
		valve = blame.text
	}
	d, _ := procedure.Find(do.text)
	settings, err := d.On(s.Plant, valve, at)
	if wrong := new(procedure.Error); errors.As(err, &wrong) {
		return nil, blame.at.wrong(path+"."+keyOf(n, blame), wrong.Found, wrong.Want)
	}
	var out []Command
	for _, set := range settings {
		if set.At > s.Until {
			found := fmt.Sprintf("%s, which goes on to %s", quote(d.Name), unit.Format(settings[len(settings)-1].At, unit.Time))
			return nil, do.at.wrong(path+".do", found, "one that ends within the run, which lasts "+unit.Format(s.Until, unit.Time))
		}
		c := Command{At: set.At, Path: set.Path, Value: set.Value}
		out = append(out, c)
		s.Commands = append(s.Commands, c)
		s.happenings = append(s.happenings, happening{Action{Command: &c}, do.at, path + ".do", do.text})
	}
	return out, nil
}

// commandKeys are the keys of a command.
var commandKeys = []string{"at", "set", "to"}

// readCommand reads a command that acts before the end.
func (s *Scenario) readCommand(path string, n *node, end float64) (Command, error) {
	if err := n.needMapping(path, commandKeys); err != nil {
		return Command{}, err
	}
	at, err := readTime(path, n, end)
	if err != nil {
		return Command{}, err
	}
	set, err := n.needScalar(path, "set", "the path of a parameter, such as inflow.mass-flow")
	if err != nil {
		return Command{}, err
	}
	prm, err := s.Plant.Get(set.text)
	if err != nil {
		return Command{}, set.at.explain(path+".set", set.text, err)
	}
	part, key, _ := strings.Cut(prm.Path, ".")
	q, _ := s.Plant.Find(part)
	switch {
	case prm.Ref != nil:
		return Command{}, set.at.wrong(path+".set", quote(set.text)+" (which says how the parts are joined)", "a parameter that can change during a run")
	case slices.Contains(atStart[q.Kind], key):
		return Command{}, set.at.wrong(path+".set", quote(set.text)+" (which only says how the run starts)", "a parameter that can change during a run")
	}
	to, err := n.needScalar(path, "to", wantOf(prm))
	if err != nil {
		return Command{}, err
	}
	val, err := to.value(path+".to", prm)
	if err != nil {
		return Command{}, err
	}
	c := Command{At: at, Path: prm.Path, Value: val}
	s.Commands = append(s.Commands, c)
	s.happenings = append(s.happenings, happening{Action{Command: &c}, to.at, path + ".to", to.text})
	return c, nil
}

// tryChanges walks the run, and puts the place in the file to what fails. First
// it walks without the hidden faults, so that nothing that is said comes from
// them.
func (s *Scenario) tryChanges() error {
	class := func(a Action) int {
		switch {
		case a.Command != nil:
			return 2
		case a.Hidden:
			return 1
		}
		return 0
	}
	all := s.happenings
	s.happenings = nil
	slices.SortStableFunc(all, func(a, b happening) int {
		return cmp.Or(cmp.Compare(a.At(), b.At()), cmp.Compare(class(a.Action), class(b.Action)))
	})
	p := s.Plant
	var first *happening // hidden
	for i := range all {
		h := &all[i]
		if h.Hidden {
			first = cmp.Or(first, h)
			continue
		}
		next, _, err := apply(p, h.Action)
		if err != nil {
			return h.at.explain(h.key, h.text, err)
		}
		p = next
	}
	if first == nil {
		return nil
	}
	if err := fault.Conflicts(s.Plant, slices.Concat(s.Faults, s.Hidden.Faults)); err != nil {
		return first.at.misfit()
	}
	p = s.Plant
	for i := range all {
		next, _, err := apply(p, all[i].Action)
		if err != nil {
			return first.at.misfit()
		}
		p = next
	}
	return nil
}
