package fault

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// befalls finds the part of the plant that an entry is about.
func (f Fault) befalls(p *plant.Plant, part string) (string, error) {
	if part != "" {
		q, ok := p.Find(part)
		switch {
		case !ok:
			return "", &Error{f.Name, "no part is named " + strconv.Quote(part), f.candidates(p)}
		case q.Kind != f.Part:
			return "", &Error{f.Name, part + " is a " + q.Kind, f.candidates(p)}
		}
		return part, f.has(p, part)
	}
	of := p.OfKind(f.Part)
	if len(of) == 0 {
		return "", &Error{f.Name, "this plant has no " + f.Part, "a plant that has one"}
	}
	switch able := f.Befalls(p); len(able) {
	case 0:
		return "", f.has(p, of[0].Name)
	case 1:
		return able[0], nil
	default:
		return "", &Error{f.Name, "this plant has several parts that it can befall", "the name of one: " + strings.Join(able, ", ")}
	}
}

// Befalls lists the parts of a plant that the fault can befall: those of its
// kind that have everything that it sets and needs.
func (f Fault) Befalls(p *plant.Plant) []string {
	var out []string
	for _, q := range p.OfKind(f.Part) {
		if f.has(p, q.Name) == nil {
			out = append(out, q.Name)
		}
	}
	return out
}

// Possible lists the faults of the catalogue that a plant can have, sorted by
// name.
func Possible(p *plant.Plant) []Fault {
	var out []Fault
	for _, f := range All() {
		if len(f.Befalls(p)) > 0 {
			out = append(out, f)
		}
	}
	return out
}

func (f Fault) candidates(p *plant.Plant) string {
	var names []string
	for _, q := range p.OfKind(f.Part) {
		names = append(names, q.Name)
	}
	if names == nil {
		return "a plant that has a " + f.Part
	}
	return "the name of a " + f.Part + ": " + strings.Join(names, ", ")
}

// has tells whether the part carries everything that the fault sets.
func (f Fault) has(p *plant.Plant, part string) error {
	needed := slices.Clone(f.Needs)
	for _, s := range f.sets() {
		needed = append(needed, s.Param)
	}
	for _, param := range needed {
		if _, err := p.Get(part + "." + param); err != nil {
			var lost *plant.PathError
			if errors.As(err, &lost) {
				return &Error{f.Name, lost.Found, lost.Want}
			}
			return err
		}
	}
	return nil
}

// Apply returns the plant with the fault in it, and what changed: the
// parameter that the severity sets first. p is left as it was. It is an error
// when the fault is unknown, when the plant lacks what it befalls, when the
// severity is out of range, and when the changed plant contradicts itself
// (Plant.Check) where p did not.
func Apply(p *plant.Plant, e Entry) (*plant.Plant, []Change, error) {
	f, err := lookUp(e.Name)
	if err != nil {
		return nil, nil, err
	}
	if !(e.At >= 0) {
		return nil, nil, &Error{f.Name, "it sets in at " + unit.Format(e.At, unit.Time), "a time of 0 s or later"}
	}
	part, err := f.befalls(p, e.Part)
	if err != nil {
		return nil, nil, err
	}
	severity, typical, err := f.severity(p, part, e)
	if err != nil {
		return nil, nil, err
	}
	out := p
	var changes []Change
	for _, s := range f.sets() {
		path := part + "." + s.Param
		before, err := out.Get(path)
		if err != nil {
			return nil, nil, err
		}
		c := Change{Fault: f.Name, Path: path, Dim: before.Dim, From: before.Value, At: e.At, Typical: true}
		c.To = plant.Value{Number: s.Number, Word: s.Word}
		if s.Follows {
			c.To, c.Typical = severity, typical
		}
		if out, err = out.With(path, c.To); err != nil {
			return nil, nil, fmt.Errorf("fault %s: %w", f.Name, err)
		}
		changes = append(changes, c)
	}
	if err := f.sound(p, out, e.At); err != nil {
		return nil, nil, err
	}
	return out, changes, nil
}

// severity is the value that an entry gives the fault's parameter, and whether
// it is the catalogue's. A number for a word, or a word for a number, is an
// error.
func (f Fault) severity(p *plant.Plant, part string, e Entry) (plant.Value, bool, error) {
	path := part + "." + f.Param
	prm, err := p.Get(path)
	switch {
	case err != nil:
		return plant.Value{}, false, err
	case prm.Numeric() && e.Word != "":
		return plant.Value{}, false, &Error{f.Name, "its severity " + strconv.Quote(e.Word) + " is a word, and " + path + " a number", unit.Noun(prm.Dim)}
	case !prm.Numeric() && e.Severity != nil:
		return plant.Value{}, false, &Error{f.Name, "its severity " + strconv.FormatFloat(*e.Severity, 'g', -1, 64) + " is a number, and " + path + " a word",
			"one of " + strings.Join(prm.Enum, ", ") + ", or no severity"}
	case e.Severity != nil:
		return plant.Value{Number: *e.Severity}, false, nil
	case e.Word != "":
		return plant.Value{Word: e.Word}, false, nil
	}
	return plant.Value{Number: f.Typical, Word: f.Word}, true, nil
}

// sound refuses a change that makes a plant contradict itself.
func (f Fault) sound(before, after *plant.Plant, at float64) error {
	check := (*plant.Plant).Check
	if at > 0 {
		check = (*plant.Plant).CheckRunning // the start is past
	}
	old := check(before)
	for _, issue := range check(after) {
		if !slices.Contains(old, issue) {
			return &Error{f.Name, "then " + issue.Path + " is " + issue.Found, issue.Want}
		}
	}
	return nil
}

// Conflicts returns a *ConflictError for the first two entries that set one
// parameter, at whatever times; and the error that Apply would give for an
// entry whose fault or part is not there.
func Conflicts(p *plant.Plant, es []Entry) error {
	taken := map[string]string{}
	for _, e := range es {
		f, err := lookUp(e.Name)
		if err != nil {
			return err
		}
		part, err := f.befalls(p, e.Part)
		if err != nil {
			return err
		}
		for _, s := range f.sets() {
			path := part + "." + s.Param
			if first, ok := taken[path]; ok {
				return &ConflictError{First: first, Second: f.Name, Path: path}
			}
			taken[path] = f.Name
		}
	}
	return nil
}
