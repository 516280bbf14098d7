package scenarios

import (
	"slices"

	"underdisc/model/fault"
)

// misfit is all that is said of hidden faults that do not fit.
func (p place) misfit() error {
	return p.wrong("hidden", "a fault that does not fit the rest of this file", "a text that was made for this plant")
}

// readHidden reads the hidden faults of a file.
func (s *Scenario) readHidden(root *node) error {
	n, ok := root.entry["hidden"]
	if !ok {
		return nil
	}
	items := []*node{n}
	if n.kind == list {
		items = n.items
	}
	for _, item := range items {
		if err := s.readSealed("hidden", item, s.Until); err != nil {
			return err
		}
	}
	return nil
}

// readSealed reads a text that hides faults, and holds them against what open
// ones are held against. What is wrong with them is not said.
func (s *Scenario) readSealed(path string, n *node, end float64) error {
	const want = "a text that underdisc hide has made"
	if n.kind != scalar {
		return n.at.wrong(path, n.describe(), want)
	}
	faults, l, err := uncover(n.text)
	if err != nil {
		return causedBy(n.at.wrong(path, quote(n.text)+" ("+err.Error()+")", want), err)
	}
	for _, e := range faults {
		if _, ok := fault.Find(e.Name); !ok || fault.Conflicts(s.Plant, []fault.Entry{e}) != nil || !(e.At >= 0 && e.At <= end) {
			return n.at.misfit()
		}
		switch prm := s.severity(e); {
		case e.Severity != nil && !(prm.Numeric() && prm.Range.Contains(*e.Severity)),
			e.Word != "" && !slices.Contains(prm.Enum, e.Word):
			return n.at.misfit()
		}
	}
	s.Hidden = s.Hidden.with(faults, l)
	for i := range faults {
		s.happenings = append(s.happenings, happening{Action{Fault: &faults[i], Hidden: true, seal: &l}, n.at, path, ""})
	}
	return nil
}
