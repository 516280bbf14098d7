package scenarios

import (
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// OfValve is what one valve must show. Pops, Blowdown and Accumulation are of a
// spring-loaded valve, and hold for each of the lifts that no hand brought about;
// there must be one.
type OfValve struct {
	Valve       string
	Lifts       *Count
	StateAtEnd  []string
	SeatedAtEnd *bool
	// Pops is the pressure at the inlet at which it pops, Pa absolute; Blowdown and
	// Accumulation are shares of that, gauge.
	Pops, Blowdown, Accumulation *Bounds
}

// Bounds of a number, in SI; what is nil is not bounded.
type Bounds struct{ AtLeast, AtMost *float64 }

var (
	ofValveKeys = []string{"valve", "lifts", "state-at-end", "seated-at-end", "pops", "blowdown", "accumulation"}
	boundKeys   = []string{"at-least", "at-most"}
)

// valveKinds are the kinds of part that can lift.
var valveKinds = []string{"piloted-valve", "spring-valve"}

func (s *Scenario) readOfValve(path string, n *node) (err error) {
	if err := n.needMapping(path, ofValveKeys); err != nil {
		return err
	}
	var names, springs []string
	for _, q := range s.Plant.Parts {
		if slices.Contains(valveKinds, q.Kind) {
			names = append(names, q.Name)
		}
		if q.Kind == "spring-valve" {
			springs = append(springs, q.Name)
		}
	}
	out := OfValve{}
	if out.Valve, err = n.needWord(path, "valve", names); err != nil {
		return err
	}
	spring := slices.Contains(springs, out.Valve)
	for _, key := range n.keys {
		v, at := n.entry[key], join(path, key)
		switch key {
		case "lifts":
			out.Lifts, err = v.count(at)
		case "state-at-end":
			words := States()
			if spring {
				words = SpringStates()
			}
			out.StateAtEnd, err = v.words(at, words)
		case "seated-at-end":
			out.SeatedAtEnd, err = n.needTruth(path, key)
		case "pops", "blowdown", "accumulation":
			if !spring {
				return v.at.wrong(at, key+" of "+out.Valve+", which is no spring-loaded valve", "it of a spring-loaded valve")
			}
			switch key {
			case "pops":
				out.Pops, err = v.boundsOf(at, unit.Pressure)
			case "blowdown":
				out.Blowdown, err = v.boundsOf(at, unit.Ratio)
			default:
				out.Accumulation, err = v.boundsOf(at, unit.Ratio)
			}
		}
		if err != nil {
			return err
		}
	}
	if len(n.keys) < 2 {
		return n.start().wrong(path, "a valve, and nothing that it must show", oneOf(ofValveKeys[1:]))
	}
	s.Shows.Valves = append(s.Shows.Valves, out)
	return nil
}

func (n *node) boundsOf(path string, dim unit.Dimension) (*Bounds, error) {
	if err := n.needMapping(path, boundKeys); err != nil {
		return nil, err
	}
	out := &Bounds{}
	var err error
	out.AtLeast, out.AtMost, err = n.bounds(path, "at-least", "at-most", plant.Param{Dim: dim, Range: anyNumber})
	return out, err
}

// needTruth reads true or false.
func (n *node) needTruth(path, key string) (*bool, error) {
	word, err := n.needWord(path, key, []string{"true", "false"})
	if err != nil {
		return nil, err
	}
	truth := word == "true"
	return &truth, nil
}

// EventOf takes the word for an event apart: its name, and the part that it must
// happen to; empty for any. "pop:safety-1" is the pop of safety-1.
func EventOf(word string) (name, part string) {
	name, part, _ = strings.Cut(word, ":")
	return name, part
}

// isEvent refuses a text that is neither an event nor an event of a part.
func (s *Scenario) isEvent(n *node, path string) error {
	if n.kind != scalar {
		return n.at.wrong(path, n.describe(), oneOf(Events()))
	}
	name, part := EventOf(n.text)
	if !slices.Contains(Events(), name) {
		return n.at.wrong(path, n.describe(), wantNear(name, Events()))
	}
	if name == n.text {
		return nil
	}
	var parts []string
	for _, q := range s.Plant.Parts {
		parts = append(parts, q.Name)
	}
	if !slices.Contains(parts, part) {
		return n.at.wrong(path, n.describe(), "after the colon "+wantNear(part, parts))
	}
	return nil
}
