package fault

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// Fault is one entry of the catalogue.
type Fault struct {
	Name    string    // a word in kebab case
	About   string    // for a mechanic, one sentence: what has gone wrong
	Part    string    // the kind of part it befalls, as in plant.Kinds
	Param   string    // the parameter that its severity sets, relative to the part: "bleed.area"
	Typical float64   // severity when none is given [SI]
	Also    []Setting // other parameters that it sets
	Source  string    // publication, or common practice; and how the typical value was chosen
	Sign    string    // what must be seen, one sentence
}

// Setting is a further parameter of the same part and the value a fault gives
// it.
type Setting struct {
	Param   string  // relative to the part
	Number  float64 // [SI], for a number
	Word    string  // for a word
	Follows bool    // takes the severity as its value, in place of Number
}

// Entry is one use of a fault in a run.
type Entry struct {
	Name     string
	Severity *float64 // [SI]; nil takes the typical value
	Part     string   // name of the part; "" when the plant has just one that it can befall
	At       float64  // time at which it sets in [s]
}

// Change is one parameter that an entry changes.
type Change struct {
	Fault    string
	Path     string
	Dim      unit.Dimension // "" for a word
	From, To plant.Value
	Typical  bool // To is the catalogue's value, not one given by the entry
	At       float64
}

// Error says why a fault cannot be used as asked.
type Error struct {
	Fault string // as given
	Found string
	Want  string
}

func (e *Error) Error() string { return "fault " + e.Fault + ": " + e.Found + "; want " + e.Want }

// ConflictError names two faults that would set one parameter.
type ConflictError struct {
	First, Second string // names of the faults; the same when one is given twice
	Path          string // the parameter
}

func (e *ConflictError) Error() string {
	if e.First == e.Second {
		return "fault " + e.First + " is given twice for " + e.Path + "; want one fault for each parameter"
	}
	return "faults " + e.First + " and " + e.Second + " both set " + e.Path + "; want one fault for each parameter"
}

// All returns the catalogue, sorted by name.
func All() []Fault {
	out := slices.Clone(catalogue)
	slices.SortFunc(out, func(a, b Fault) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Find returns the fault of that name.
func Find(name string) (Fault, bool) {
	for _, f := range catalogue {
		if f.Name == name {
			return f, true
		}
	}
	return Fault{}, false
}

// Dim is the dimension of the fault's severity.
func (f Fault) Dim() unit.Dimension {
	field, _ := f.field(f.Param)
	return field.Dim
}

// field looks a parameter up in the structure of the kind of part.
func (f Fault) field(param string) (plant.Field, bool) {
	for _, k := range plant.Kinds() {
		if k.Name != f.Part {
			continue
		}
		fields := plant.FieldsOf(reflect.TypeOf(k.New()))
		keys := strings.Split(param, ".")
		for n, key := range keys {
			i := slices.IndexFunc(fields, func(g plant.Field) bool { return g.Key == key })
			if i < 0 {
				return plant.Field{}, false
			}
			if n == len(keys)-1 {
				return fields[i], fields[i].Block == nil
			}
			fields = fields[i].Block
		}
	}
	return plant.Field{}, false
}

// sets lists every parameter that the fault sets, the severity's first.
func (f Fault) sets() []Setting {
	return append([]Setting{{Param: f.Param, Follows: true}}, f.Also...)
}

// lookUp is Find with an error that suggests names.
func lookUp(name string) (Fault, error) {
	if f, ok := Find(name); ok {
		return f, nil
	}
	names := make([]string, 0, len(catalogue))
	for _, f := range All() {
		names = append(names, f.Name)
	}
	want := "one of " + strings.Join(names, ", ")
	if near := plant.Near(name, names); near != nil {
		want = strings.Join(near, " or ")
	}
	return Fault{}, &Error{strconv.Quote(name), "the catalogue has no such fault", want}
}

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
	var able []string
	var lacks error
	for _, q := range of {
		if err := f.has(p, q.Name); err != nil {
			lacks = err
			continue
		}
		able = append(able, q.Name)
	}
	switch len(able) {
	case 0:
		return "", lacks
	case 1:
		return able[0], nil
	}
	return "", &Error{f.Name, "this plant has several parts that it can befall", "the name of one: " + strings.Join(able, ", ")}
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
	for _, s := range f.sets() {
		if _, err := p.Get(part + "." + s.Param); err != nil {
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
	severity, typical := f.Typical, true
	if e.Severity != nil {
		severity, typical = *e.Severity, false
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
			c.To, c.Typical = plant.Value{Number: severity}, typical
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

// ParseEntry reads name[:part][=severity][@time], as on the command line:
// "pilot-leaks", "pilot-leaks=6mm2@2s", "bleed-plugged:north-valve@10 s".
// The severity is the new value of the parameter that the fault sets, in a
// unit of its dimension and within its range; the time is when it sets in.
func ParseEntry(p *plant.Plant, text string) (Entry, error) {
	name, at, timed := text, "", false
	if i := strings.LastIndexByte(text, '@'); i >= 0 {
		name, at, timed = text[:i], text[i+1:], true
	}
	name, severity, severe := strings.Cut(name, "=")
	name, part, parted := strings.Cut(name, ":")
	e := Entry{Name: strings.TrimSpace(name), Part: strings.TrimSpace(part)}
	f, err := lookUp(e.Name)
	if err != nil {
		return Entry{}, err
	}
	if parted && e.Part == "" {
		return Entry{}, &Error{f.Name, "no part follows the colon", f.candidates(p)}
	}
	on, err := f.befalls(p, e.Part)
	if err != nil {
		return Entry{}, err
	}
	if severe {
		prm, err := p.Get(on + "." + f.Param)
		if err != nil {
			return Entry{}, err
		}
		val, err := plant.ParseValue(prm, severity)
		if err != nil {
			return Entry{}, f.blame("severity", err)
		}
		e.Severity = &val.Number
	}
	if timed {
		if e.At, err = unit.Parse(at, unit.Time); err != nil {
			return Entry{}, f.blame("time", err)
		}
		if e.At < 0 {
			return Entry{}, &Error{f.Name, "it sets in at " + unit.Format(e.At, unit.Time), "a time of 0 s or later"}
		}
	}
	return e, nil
}

// blame turns an error about a value into one about the fault's entry.
func (f Fault) blame(what string, err error) error {
	var quantity *unit.Error
	var value *plant.ValueError
	switch {
	case errors.As(err, &quantity):
		return &Error{f.Name, what + " " + quantity.Found, quantity.Want}
	case errors.As(err, &value):
		return &Error{f.Name, what + " " + value.Found + " is out of range", value.Want}
	}
	return fmt.Errorf("fault %s: %s: %w", f.Name, what, err)
}
