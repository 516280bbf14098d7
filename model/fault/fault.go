package fault

import (
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
	Typical float64   // severity when none is given [SI], where that is a number
	Word    string    // the same where the parameter is a word: "welded"
	Also    []Setting // other parameters that it sets
	Needs   []string  // parameters that the part must have, which it leaves alone
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
	Severity *float64 // [SI]; nil takes the typical value, or Word
	Word     string   // severity of a fault that sets a word; "" takes the typical one
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

// Dim is the dimension of the fault's severity; "" where that is a word.
func (f Fault) Dim() unit.Dimension {
	field, _ := f.field(f.Param)
	return field.Dim
}

// Words lists the words that the fault's severity may be; nil where that is a
// number.
func (f Fault) Words() []string {
	field, _ := f.field(f.Param)
	return field.Enum
}

// TypicalValue is the severity when none is given, for people: the word, or the
// number in the usual unit.
func (f Fault) TypicalValue() string {
	if f.Word != "" {
		return f.Word
	}
	return unit.Format(f.Typical, f.Dim())
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
