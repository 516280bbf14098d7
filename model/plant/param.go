package plant

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/unit"
)

// Field describes one tagged field of a part's structure (kinds.go): a
// parameter, or a block of parameters.
type Field struct {
	Key, Doc string
	Dim      unit.Dimension // of a number; "" for words and blocks
	Enum     []string       // words allowed
	Ref      []string       // kinds of part that a name may refer to
	Range    Range          // of a number
	Optional bool           // a block that a plant may lack (a pointer)
	Block    []Field        // the fields inside a block; nil for a parameter
	Index    []int          // for reflect's FieldByIndex on the structure that holds the field
}

// Range is an interval in SI; the open sides exclude their end.
type Range struct {
	Lo, Hi         float64
	OpenLo, OpenHi bool
}

// Value is the value of a parameter: Word for an enum or a reference, Number
// [SI] otherwise.
type Value struct {
	Number float64
	Word   string
}

// Param is one parameter of a plant with its value.
type Param struct {
	Path  string // part, blocks and key, joined by points: valve.bleed.area
	Doc   string
	Key   string
	Dim   unit.Dimension
	Enum  []string
	Ref   []string
	Range Range
	Value Value
}

// Numeric tells a number from a word.
func (prm Param) Numeric() bool { return prm.Enum == nil && prm.Ref == nil }

// PathError says why a path leads to no parameter of this plant.
type PathError struct {
	Path  string
	Found string
	Want  string
}

func (e *PathError) Error() string {
	path := e.Path
	if q := strconv.Quote(path); q != `"`+path+`"` || path == "" { // keeps the message on one line
		path = q
	}
	return path + ": " + e.Found + "; want " + e.Want
}

// ValueError says why a parameter may not take a value.
type ValueError struct {
	Path  string
	Found string
	Want  string
}

func (e *ValueError) Error() string { return e.Path + ": " + e.Found + "; want " + e.Want }

// FieldsOf lists the fields of a part's structure, or of a pointer to one, in
// the order of kinds.go. It panics on a structure with malformed tags: that
// is a mistake in the program, not in a file.
func FieldsOf(t reflect.Type) []Field {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	out := make([]Field, 0, t.NumField())
	for i := range t.NumField() {
		f, err := fieldOf(t.Field(i))
		if err != nil {
			panic(fmt.Sprintf("plant: %s.%s: %v", t.Name(), t.Field(i).Name, err))
		}
		out = append(out, f)
	}
	return out
}

func fieldOf(sf reflect.StructField) (Field, error) {
	f := Field{
		Key:   sf.Tag.Get("key"),
		Doc:   sf.Tag.Get("doc"),
		Dim:   unit.Dimension(sf.Tag.Get("dim")),
		Enum:  words(sf.Tag.Get("enum")),
		Ref:   words(sf.Tag.Get("ref")),
		Index: sf.Index,
	}
	if !kebab(f.Key) {
		return f, fmt.Errorf("key %q is no word in kebab case", f.Key)
	}
	if f.Doc == "" {
		return f, fmt.Errorf("no doc")
	}
	switch t := sf.Type; {
	case t.Kind() == reflect.Struct:
		f.Block = FieldsOf(t)
	case t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct:
		f.Block, f.Optional = FieldsOf(t), true
	case t.Kind() == reflect.String:
		if (f.Enum == nil) == (f.Ref == nil) {
			return f, fmt.Errorf("a word needs either enum or ref")
		}
	case t.Kind() == reflect.Float64:
		if !unit.Known(f.Dim) {
			return f, fmt.Errorf("dimension %q is not known", f.Dim)
		}
		var err error
		if f.Range, err = parseRange(sf.Tag.Get("range")); err != nil {
			return f, err
		}
	default:
		return f, fmt.Errorf("type %s cannot be a parameter", t)
	}
	return f, nil
}

func words(tag string) []string {
	if tag == "" {
		return nil
	}
	return strings.Split(tag, "|")
}

// parseRange reads the form of the range tags: "(0,inf)", "[-1,1]".
func parseRange(s string) (Range, error) {
	bad := fmt.Errorf("range %q is not of the form (0,inf) or [0,1]", s)
	if len(s) < 5 || !strings.ContainsAny(s[:1], "([") || !strings.ContainsAny(s[len(s)-1:], ")]") {
		return Range{}, bad
	}
	lo, hi, ok := strings.Cut(s[1:len(s)-1], ",")
	if !ok {
		return Range{}, bad
	}
	r := Range{OpenLo: s[0] == '(', OpenHi: s[len(s)-1] == ')'}
	var err1, err2 error
	r.Lo, err1 = strconv.ParseFloat(lo, 64)
	r.Hi, err2 = strconv.ParseFloat(hi, 64)
	if err1 != nil || err2 != nil || !(r.Lo < r.Hi) ||
		math.IsInf(r.Lo, 0) && !r.OpenLo || math.IsInf(r.Hi, 0) && !r.OpenHi {
		return Range{}, bad
	}
	return r, nil
}

// Contains tells whether v lies in the interval; a NaN never does.
func (r Range) Contains(v float64) bool {
	above := v > r.Lo || !r.OpenLo && v == r.Lo
	below := v < r.Hi || !r.OpenHi && v == r.Hi
	return above && below
}

// String writes the interval in the form of the range tags, in SI.
func (r Range) String() string {
	open, shut := "[", "]"
	if r.OpenLo {
		open = "("
	}
	if r.OpenHi {
		shut = ")"
	}
	end := func(v float64) string {
		if math.IsInf(v, 0) {
			return strings.TrimPrefix(strings.ToLower(strconv.FormatFloat(v, 'g', -1, 64)), "+")
		}
		return unit.Exact(v, unit.Ratio)
	}
	return open + end(r.Lo) + "," + end(r.Hi) + shut
}

// In says the interval to people, in units of dim: "more than 0 mm2 and at
// most 1 m2".
func (r Range) In(dim unit.Dimension) string {
	var parts []string
	if !math.IsInf(r.Lo, -1) {
		word := "at least "
		if r.OpenLo {
			word = "more than "
		}
		parts = append(parts, word+unit.Format(r.Lo, dim))
	}
	if !math.IsInf(r.Hi, 1) {
		word := "at most "
		if r.OpenHi {
			word = "less than "
		}
		parts = append(parts, word+unit.Format(r.Hi, dim))
	}
	if parts == nil {
		return "any value"
	}
	return strings.Join(parts, " and ")
}

// Param gives a parameter as the field describes it, at the given path and
// without a value, for ParseValue.
func (f Field) Param(path string) Param {
	return Param{Path: path, Doc: f.Doc, Key: f.Key, Dim: f.Dim, Enum: f.Enum, Ref: f.Ref, Range: f.Range}
}

// Params lists every parameter of the plant in the order of its parts and of
// kinds.go. Blocks that the plant lacks are left out.
func (p *Plant) Params() []Param {
	var out []Param
	for _, q := range p.Parts {
		v, ok := structure(q)
		if !ok {
			continue // Check reports it
		}
		out = appendParams(out, q.Name, v)
	}
	return out
}

func appendParams(out []Param, path string, v reflect.Value) []Param {
	for _, f := range FieldsOf(v.Type()) {
		at, fv := path+"."+f.Key, v.FieldByIndex(f.Index)
		switch {
		case f.Optional && fv.IsNil():
		case f.Block != nil:
			out = appendParams(out, at, reflect.Indirect(fv))
		default:
			prm := f.Param(at)
			prm.Value = valueOf(fv)
			out = append(out, prm)
		}
	}
	return out
}

func valueOf(fv reflect.Value) Value {
	if fv.Kind() == reflect.String {
		return Value{Word: fv.String()}
	}
	return Value{Number: fv.Float()}
}

// Get returns the parameter at a path. The error is a *PathError: it suggests
// paths that are spelt alike, or says which block this plant lacks.
func (p *Plant) Get(path string) (Param, error) {
	_, prm, err := p.locate(path)
	return prm, err
}

// locate follows a path. trail holds, for each step inside the part's
// structure, the index of the field taken.
func (p *Plant) locate(path string) (trail [][]int, prm Param, err error) {
	keys := strings.Split(path, ".")
	part, ok := p.Find(keys[0])
	if !ok {
		return nil, prm, p.noPart(path, keys[0])
	}
	v, ok := structure(part)
	if !ok {
		return nil, prm, &PathError{path, "the part is not of its kind, " + part.Kind, "a part built for its kind"}
	}
	at := part.Name
	for _, key := range keys[1:] {
		fields := FieldsOf(v.Type())
		i := slices.IndexFunc(fields, func(f Field) bool { return f.Key == key })
		if i < 0 {
			return nil, prm, p.noKey(path, at, key, fields)
		}
		f := fields[i]
		trail = append(trail, f.Index)
		at += "." + key
		fv := v.FieldByIndex(f.Index)
		if f.Block == nil {
			if at != path {
				return nil, prm, &PathError{path, at + " is a parameter and holds nothing", at}
			}
			prm = f.Param(path)
			prm.Value = valueOf(fv)
			return trail, prm, nil
		}
		if f.Optional && fv.IsNil() {
			return nil, prm, &PathError{path, part.Name + " has no " + strings.TrimPrefix(at, part.Name+".") + " in this plant", "a plant whose " + part.Name + " has one"}
		}
		v = reflect.Indirect(fv)
	}
	return nil, prm, &PathError{path, "not one parameter but several", "one of " + list(at+".", keysOf(FieldsOf(v.Type())))}
}

func (p *Plant) noPart(path, name string) error {
	names := make([]string, len(p.Parts))
	for i, q := range p.Parts {
		names[i] = q.Name
	}
	if near := Near(name, names); near != nil {
		for i := range near {
			meant := near[i] + strings.TrimPrefix(path, name)
			if _, _, err := p.locate(meant); err == nil {
				near[i] = meant
			}
		}
		return &PathError{path, "no part is named " + strconv.Quote(name), list("", near)}
	}
	return &PathError{path, "no part is named " + strconv.Quote(name), "one of the parts " + list("", names)}
}

func (p *Plant) noKey(path, at, key string, fields []Field) error {
	found := at + " has no " + strconv.Quote(key)
	keys := keysOf(fields)
	if near := Near(key, keys); near != nil {
		return &PathError{path, found, list(at+".", near)}
	}
	// A word that is right one block deeper: valve.area for valve.bleed.area.
	var deeper []string
	for _, prm := range p.Params() {
		if strings.HasPrefix(prm.Path, at+".") && prm.Key == key {
			deeper = append(deeper, prm.Path)
		}
	}
	if deeper != nil {
		return &PathError{path, found, list("", deeper)}
	}
	return &PathError{path, found, "one of " + list(at+".", keys)}
}

func keysOf(fields []Field) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.Key
	}
	return out
}

// list joins words for a sentence: "a, b or c", each after the prefix.
func list(prefix string, words []string) string {
	out := ""
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			out += " or "
		default:
			out += ", "
		}
		out += prefix + w
	}
	return out
}

// With returns a plant in which one parameter has a new value. Only the
// touched part is copied; p and every other plant that shares its parts keep
// their values. The error is a *PathError, or a *ValueError when the value
// lies outside the parameter's range, words or parts.
func (p *Plant) With(path string, val Value) (*Plant, error) {
	trail, prm, err := p.locate(path)
	if err != nil {
		return nil, err
	}
	if err := p.allow(prm, val); err != nil {
		return nil, err
	}
	name, _, _ := strings.Cut(path, ".")
	out := &Plant{Parts: slices.Clone(p.Parts)}
	i := slices.IndexFunc(out.Parts, func(q Part) bool { return q.Name == name })
	fresh := reflect.New(reflect.TypeOf(out.Parts[i].Spec).Elem())
	fresh.Elem().Set(reflect.ValueOf(out.Parts[i].Spec).Elem())
	v := fresh.Elem()
	for _, index := range trail {
		v = v.FieldByIndex(index)
		if v.Kind() == reflect.Pointer { // a block of its own, still shared
			block := reflect.New(v.Type().Elem())
			block.Elem().Set(v.Elem())
			v.Set(block)
			v = block.Elem()
		}
	}
	if prm.Numeric() {
		v.SetFloat(val.Number)
	} else {
		v.SetString(val.Word)
	}
	out.Parts[i].Spec = fresh.Interface()
	return out, nil
}

// ParseValue reads a value for the parameter: a quantity with its unit, one
// of its words, or the name of a part. It checks the range but not whether
// the named part exists, which only a plant knows (With, Check). The error is
// a *unit.Error for a text that is no quantity of the right dimension, and a
// *ValueError otherwise.
func ParseValue(prm Param, text string) (Value, error) {
	var val Value
	if prm.Numeric() {
		v, err := unit.Parse(text, prm.Dim)
		if err != nil {
			return Value{}, err
		}
		val.Number = v
	} else {
		val.Word = strings.TrimSpace(text)
	}
	if err := fits(prm, val); err != nil {
		return Value{}, err
	}
	return val, nil
}

// FormatValue writes the parameter's value for people: the word, or the
// number with the usual unit.
func FormatValue(prm Param) string {
	if prm.Numeric() {
		return unit.Format(prm.Value.Number, prm.Dim)
	}
	return prm.Value.Word
}

// Near returns those of the words that are spelt nearly like word, nearest
// first, at most three; nil when none is. Near means an edit distance of at
// most a third of the longer word, or that one is the beginning of the other.
func Near(word string, among []string) []string {
	type match struct {
		word string
		far  int
	}
	var found []match
	for _, w := range among {
		d := distance(word, w)
		begins := len(word) >= 3 && strings.HasPrefix(w, word) || len(word) <= 2*len(w) && strings.HasPrefix(word, w)
		if begins || 3*d <= max(len(w), len(word)) {
			found = append(found, match{w, d})
		}
	}
	slices.SortStableFunc(found, func(a, b match) int { return a.far - b.far })
	var out []string
	for _, m := range found[:min(len(found), 3)] {
		out = append(out, m.word)
	}
	return out
}

// distance counts the letters to insert, delete, replace, or swap with a
// neighbour to get from a to b (optimal string alignment).
func distance(a, b string) int {
	if len(a) > 64 || len(b) > 64 {
		return max(len(a), len(b)) // no word of ours is as long
	}
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}
