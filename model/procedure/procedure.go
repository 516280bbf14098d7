// Package procedure holds the work that people do at a valve as lists of timed
// settings: isolation, return to service and a stroke of a piloted valve, the
// lift by hand of a spring-loaded one. Each is a file.
//
// A procedure here is what the model does, for teaching. At a real plant the
// plant's own procedure, local code and licensed practice hold, and every job
// carries the caution that its text ends with.
package procedure

import (
	"fmt"
	"slices"
	"strings"

	"underdisc/model/plant"
)

// Procedure is one entry of the list.
type Procedure struct {
	Name    string // a word in kebab case
	Kind    string // the kind of valve that it is for, as in plant.Kinds
	About   string // one sentence: what is done
	Caution string // one sentence: what it is done with care for
	steps   []step
}

// step is one setting, some time after the one before.
type step struct {
	wait   float64 // s
	travel bool    // and the time that the block valve or the hand at the lever takes on top
	part   role
	param  string
	number float64
	word   string
	ifAny  bool // left out where the plant has no such part
}

// role is a part that belongs to a valve, or people who have to do with it.
type role int

const (
	theValve role = iota
	theLine
	theRelay
	theOperators
)

// Setting is a parameter that is set at a time.
type Setting struct {
	At    float64 // s
	Path  string
	Value plant.Value
}

// Error says why a procedure cannot be done as asked.
type Error struct {
	Procedure   string
	Found, Want string
}

func (e *Error) Error() string {
	return "procedure " + e.Procedure + ": " + e.Found + "; want " + e.Want
}

// All returns the procedures, in the order in which they are done.
func All() []Procedure { return slices.Clone(all) }

// Names lists their names.
func Names() []string {
	var out []string
	for _, p := range all {
		out = append(out, p.Name)
	}
	return out
}

// Find returns the procedure of that name.
func Find(name string) (Procedure, bool) {
	for _, p := range all {
		if p.Name == name {
			return p, true
		}
	}
	return Procedure{}, false
}

// On lists the settings that the procedure consists of, on the valve of that
// name ("" if the plant has just one of its kind), begun at a time. It is an
// *Error where the plant lacks what is worked on.
func (d Procedure) On(p *plant.Plant, valve string, at float64) ([]Setting, error) {
	valve, err := d.valve(p, valve)
	if err != nil {
		return nil, err
	}
	parts, travel := around(p, valve)
	var out []Setting
	for _, s := range d.steps {
		at += s.wait
		if s.travel {
			at += travel
		}
		name, ok := parts[s.part]
		switch {
		case !ok && s.ifAny:
			continue
		case !ok:
			return nil, &Error{d.Name, valve + " has no relay", "a valve whose coil a relay feeds"}
		}
		prm, err := p.Get(name + "." + s.param)
		if err != nil {
			return nil, &Error{d.Name, name + " has no " + s.param, "a plant that has it, such as " + exampleOf[d.Kind]}
		}
		out = append(out, Setting{at, prm.Path, plant.Value{Number: s.number, Word: s.word}})
	}
	return out, nil
}

// around finds the parts that belong to a valve, and how long its block valve or
// the hand at its lever takes, s.
func around(p *plant.Plant, valve string) (parts map[role]string, travel float64) {
	parts = map[role]string{theValve: valve}
	if v, ok := plant.Spec[plant.SpringValve](p, valve); ok && v.Lever != nil {
		travel = v.Lever.Time
	}
	for _, q := range p.Parts {
		switch s := q.Spec.(type) {
		case *plant.Line:
			if s.To == valve {
				parts[theLine] = q.Name
				if s.BlockValve != nil && s.BlockValve.Motion != nil {
					travel = s.BlockValve.Motion.TravelTime
				}
			}
		case *plant.Relay:
			if s.Valve == valve {
				parts[theRelay] = q.Name
			}
		case *plant.Operators:
			parts[theOperators] = q.Name
		}
	}
	return parts, travel
}

// Lasts is how long the procedure takes on that valve, s: to its last setting,
// and the travel of the block valve or of the lever after it.
func (d Procedure) Lasts(p *plant.Plant, valve string) (float64, error) {
	s, err := d.On(p, valve, 0)
	if err != nil || len(s) == 0 {
		return 0, err
	}
	last := s[len(s)-1]
	if name, ok := strings.CutSuffix(last.Path, ".block-valve.opening"); ok {
		if l, ok := plant.Spec[plant.Line](p, name); ok && l.BlockValve.Motion != nil {
			return last.At + l.BlockValve.Motion.TravelTime, nil
		}
	}
	if name, ok := strings.CutSuffix(last.Path, ".lever.pull"); ok {
		if v, ok := plant.Spec[plant.SpringValve](p, name); ok {
			return last.At + v.Lever.Time, nil
		}
	}
	return last.At, nil
}

// Valves names the valves of a plant that have everything that the procedure
// works on.
func (d Procedure) Valves(p *plant.Plant) []string {
	var out []string
	for _, q := range p.OfKind(d.Kind) {
		if _, err := d.On(p, q.Name, 0); err == nil {
			out = append(out, q.Name)
		}
	}
	return out
}

// called are the kinds of valve in words, and exampleOf a scenario that has one
// with everything.
var (
	called    = map[string]string{piloted: "piloted valve", sprung: "spring-loaded valve"}
	exampleOf = map[string]string{piloted: "boiler-plant", sprung: "boiler-plant-safeties"}
)

// The kinds of valve.
const piloted, sprung = "piloted-valve", "spring-valve"

func (d Procedure) valve(p *plant.Plant, name string) (string, error) {
	var names []string
	for _, q := range p.OfKind(d.Kind) {
		names = append(names, q.Name)
	}
	kind := called[d.Kind]
	want := "the name of a " + kind + ": " + strings.Join(names, ", ")
	switch {
	case len(names) == 0:
		return "", &Error{d.Name, "this plant has no " + kind, "a plant that has one"}
	case name == "" && len(names) == 1:
		return names[0], nil
	case name == "":
		return "", &Error{d.Name, "this plant has several " + kind + "s", want}
	case !slices.Contains(names, name):
		return "", &Error{d.Name, fmt.Sprintf("%q, which is none of them", name), want}
	}
	return name, nil
}

// Parse reads name[:valve], as on the command line, and says what is wrong.
func Parse(text string) (d Procedure, valve string, err error) {
	name, valve, _ := strings.Cut(text, ":")
	name, valve = strings.TrimSpace(name), strings.TrimSpace(valve)
	d, ok := Find(name)
	if !ok {
		want := "one of " + strings.Join(Names(), ", ")
		if near := plant.Near(name, Names()); near != nil {
			want = strings.Join(near, " or ")
		}
		return d, valve, &Error{name, "there is no such procedure", want}
	}
	return d, valve, nil
}

// all names every procedure; each stands in the file of its name.
var all = []Procedure{stroke, isolate, pullFuse, putFuse, drain, returnSlowly, returnFast, handLift, gag, ungag}
