package scenarios

import (
	"errors"
	"slices"
	"strings"

	"underdisc/model/fault"
)

// Hidden are faults that are in the plant and stay unsaid: whatever shows a run
// with hidden faults says nothing that only the inside of the valve gives, until
// they are revealed, by the code that they were hidden with or by naming them
// all.
type Hidden struct {
	Faults   []fault.Entry
	Revealed bool

	seals []seal   // of the first of Faults, in their order
	said  []string // right answers so far
}

// seal is what some faults were hidden with.
type seal struct {
	text   string // as it stands in a file
	faults int
	check  string // of the code; empty: there is none
	salt   []byte
	open   bool
}

// Sealed tells whether the scenario has faults that are still hidden.
func (s *Scenario) Sealed() bool { return s.Hidden != nil && !s.Hidden.Revealed }

// Hide adds faults to those that are hidden, behind a code; without a code, only
// naming them reveals them. Copies of the scenario that were made before are
// left as they were.
func (s *Scenario) Hide(code string, faults ...fault.Entry) error {
	return s.hide(newSeal(code), faults...)
}

func (s *Scenario) hide(l seal, faults ...fault.Entry) error {
	text, err := conceal(l, faults)
	if err != nil {
		return err
	}
	more, l, err := uncover(text)
	if err != nil {
		return err
	}
	s.Hidden = s.Hidden.with(more, l)
	return nil
}

// with is a copy with more faults in it, under a seal of their own.
func (h *Hidden) with(faults []fault.Entry, l seal) *Hidden {
	out := &Hidden{}
	if h != nil {
		h.complete()
		*out = *h
	}
	out.Faults = append(slices.Clone(out.Faults), faults...)
	out.seals = slices.Clone(out.seals)
	for i := range out.seals {
		out.seals[i].open = out.seals[i].open || out.Revealed
	}
	out.seals = append(out.seals, l)
	out.Revealed = false
	return out
}

// complete gives a seal without a code to faults that have none.
func (h *Hidden) complete() {
	n := 0
	for _, l := range h.seals {
		n += l.faults
	}
	if n >= len(h.Faults) {
		return
	}
	l := newSeal("")
	if text, err := conceal(l, h.Faults[n:]); err == nil {
		l.text, l.faults = text, len(h.Faults)-n
		h.seals = append(slices.Clip(h.seals), l)
	}
}

// texts are the seals as a file holds them.
func (h *Hidden) texts() []string {
	if h == nil {
		return nil
	}
	h.complete()
	var out []string
	for _, l := range h.seals {
		out = append(out, l.text)
	}
	return out
}

// Reveal tells whether the code is one that faults were hidden with, and reveals
// those, together with faults that were hidden without a code. Capitals and
// spaces around it do not count.
func (h *Hidden) Reveal(code string) bool {
	if h == nil || plainCode(code) == "" {
		return false
	}
	h.complete()
	right := false
	for i := range h.seals {
		l := &h.seals[i]
		if l.check != "" && l.check == checkOf(l.salt, code) {
			l.open, right = true, true
		}
	}
	if right {
		h.Revealed = !slices.ContainsFunc(h.seals, func(l seal) bool { return !l.open && l.check != "" })
	}
	return right
}

// Answer tells whether a fault of that name is among the hidden ones; once all
// have been named they are revealed.
func (h *Hidden) Answer(name string) bool {
	if h == nil {
		return false
	}
	name = strings.TrimSpace(name)
	among := slices.ContainsFunc(h.Faults, func(e fault.Entry) bool { return e.Name == name })
	if among && !slices.Contains(h.said, name) {
		h.said = append(slices.Clip(h.said), name)
	}
	unsaid := func(e fault.Entry) bool { return !slices.Contains(h.said, e.Name) }
	if among && !slices.ContainsFunc(h.Faults, unsaid) {
		h.Revealed = true
	}
	return among
}

// byHand are the parameters, by kind of part, that a person at the plant sets
// without opening anything.
var byHand = map[string][]string{
	"inflow": {"mass-flow"},
	"line":   {"block-valve.opening", "block-valve.motion.travel-time"},
	"relay":  {"selector.position", "circuit.fuse.state"},

	"piloted-valve": {"body-drain.opening"},
	"spring-valve":  {"lever.pull", "gag.leaves-lift"},
	"load":          {"opening"},
	"heat-input":    {"power", "control.mode", "control.hold"},
	"operators":     {"told"},
}

// errSealed says what is not done while a fault is hidden, whatever it is and
// whatever is asked for.
var errSealed = errors.New("found a change to a plant with a hidden fault, want only what a hand at the plant sets " +
	"(feed, fire, load, block valve, drain, selector, fuse, lever, gag) changed until the fault is revealed")

// Allows is an error if the action could be used to find out what is hidden: it
// would be refused where it clashes. While a fault is hidden, what can be changed
// is what a hand at the plant changes: inflow, block valve, selector. More
// faults may be hidden, but none added openly.
func (s *Scenario) Allows(a Action) error {
	if !s.Sealed() || a.Hidden {
		return nil
	}
	if a.Command != nil && s.ByHand(a.Command.Path) {
		return nil
	}
	return errSealed
}

// ByHand tells whether a person at the plant sets the parameter without opening
// anything.
func (s *Scenario) ByHand(path string) bool {
	part, key, _ := strings.Cut(path, ".")
	q, ok := s.Plant.Find(part)
	return ok && slices.Contains(byHand[q.Kind], key)
}
