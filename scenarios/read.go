package scenarios

import (
	"math"
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

// longest is the longest run that a file may ask for [s]: it catches a wrong
// unit, not a wish.
const longest = 1e7

// anyNumber is the range of what is not bounded.
var anyNumber = plant.Range{Lo: math.Inf(-1), Hi: math.Inf(1), OpenLo: true, OpenHi: true}

// topKeys are the keys of a file.
var topKeys = []string{"name", "title", "about", "include", "until", "plant", "faults", "hidden", "commands", "shows", "log", "did"}

// Parse reads a scenario from the bytes of a file. open finds what the file
// includes: it is called with the name of an embedded scenario as written, or
// with a path that has been joined to the folder of the including file, and
// returns a name for messages, which is also how a circle is noticed. It may
// be nil where includes are not allowed. The error is an *Error.
func Parse(file string, data []byte, open func(name string) (file string, data []byte, err error)) (*Scenario, error) {
	head, tail := splitLog(data)
	root, files, err := readFile(file, head, open, nil)
	if err != nil {
		return nil, err
	}
	if err := root.onlyKeys("", topKeys); err != nil {
		return nil, err
	}
	s := &Scenario{Files: files}
	steps := []func(*node) error{
		s.readHead, s.readPlant,
		func(root *node) error { return s.readRun(root, file, tail) },
		s.readShows,
	}
	for _, step := range steps {
		if err := step(root); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func (s *Scenario) readHead(root *node) error {
	var err error
	if s.Name, err = root.needText("", "name", "a name such as gas-bench"); err != nil {
		return err
	}
	if !isWord(s.Name) {
		return root.entry["name"].at.wrong("name", quote(s.Name), "lower-case words joined by hyphens, such as gas-bench")
	}
	if s.Title, err = root.needText("", "title", "a title in a few words"); err != nil {
		return err
	}
	if _, ok := root.entry["about"]; ok {
		if s.About, err = root.needText("", "about", "a few sentences"); err != nil {
			return err
		}
	}
	until := plant.Param{Dim: unit.Time, Range: plant.Range{Lo: 0, Hi: longest, OpenLo: true}}
	s.Until, err = root.needNumber("", "until", until)
	return err
}

// onlyKeys refuses a key that is not known.
func (n *node) onlyKeys(path string, known []string) error {
	for _, key := range n.keys {
		if !slices.Contains(known, key) {
			return n.entry[key].keyAt.wrong(join(path, key), "the unknown key "+quote(key), wantNear(key, known))
		}
	}
	return nil
}

// needMapping returns an error unless the value is a group of keys.
func (n *node) needMapping(path string, keys []string) error {
	if n.kind != mapping {
		return n.at.wrong(path, n.describe(), "a group of keys: "+strings.Join(keys, ", "))
	}
	return n.onlyKeys(path, keys)
}

// need returns the value of a key that must be there.
func (n *node) need(path, key, want string) (*node, error) {
	v, ok := n.entry[key]
	if !ok {
		return nil, n.start().wrong(join(path, key), "nothing", want)
	}
	return v, nil
}

// needScalar returns the value of a key that must be there and be a word or a
// number.
func (n *node) needScalar(path, key, want string) (*node, error) {
	v, err := n.need(path, key, want)
	if err != nil {
		return nil, err
	}
	if v.kind != scalar {
		return nil, v.at.wrong(join(path, key), v.describe(), want)
	}
	return v, nil
}

// needText returns a text that must be there and not be blank.
func (n *node) needText(path, key, want string) (string, error) {
	v, err := n.needScalar(path, key, want)
	if err != nil {
		return "", err
	}
	text := strings.TrimSpace(v.text)
	if text == "" {
		return "", v.at.wrong(join(path, key), v.describe(), want)
	}
	return text, nil
}

// needWord returns a text that must be one of the words.
func (n *node) needWord(path, key string, words []string) (string, error) {
	v, err := n.needScalar(path, key, oneOf(words))
	if err != nil {
		return "", err
	}
	return v.text, v.wordOf(join(path, key), words)
}

// wordOf refuses a text that is not one of the words.
func (n *node) wordOf(path string, words []string) error {
	if n.kind != scalar || !slices.Contains(words, n.text) {
		return n.at.wrong(path, n.describe(), wantNear(n.text, words))
	}
	return nil
}

// needNumber returns a quantity that must be there.
func (n *node) needNumber(path, key string, prm plant.Param) (float64, error) {
	v, err := n.needScalar(path, key, wantOf(prm))
	if err != nil {
		return 0, err
	}
	val, err := v.value(join(path, key), prm)
	return val.Number, err
}

// value reads a scalar as a value of the parameter.
func (n *node) value(path string, prm plant.Param) (plant.Value, error) {
	val, err := plant.ParseValue(prm, n.text)
	if err == nil {
		return val, nil
	}
	if prm.Numeric() {
		if v, parseErr := unit.Parse(n.text, prm.Dim); parseErr == nil && !prm.Range.Contains(v) {
			return val, causedBy(n.at.wrong(path, quote(n.text), rangeLike(prm, n.text)), err)
		}
	} else if prm.Enum != nil {
		return val, causedBy(n.at.wrong(path, quote(n.text), wantNear(n.text, prm.Enum)), err)
	}
	return val, n.at.explain(path, n.text, err)
}

// rangeLike says the allowed range in the unit that the text uses.
func rangeLike(prm plant.Param, text string) string {
	for i := range len(text) + 1 {
		name := strings.TrimSpace(text[i:])
		lo, ok := unit.In(prm.Range.Lo, prm.Dim, name)
		if !ok {
			continue
		}
		hi, _ := unit.In(prm.Range.Hi, prm.Dim, name)
		low, high := "at least ", "at most "
		if prm.Range.OpenLo {
			low = "more than "
		}
		if prm.Range.OpenHi {
			high = "less than "
		}
		return low + lo + " and " + high + hi
	}
	return prm.Range.In(prm.Dim)
}

// wantOf says what a parameter takes.
func wantOf(prm plant.Param) string {
	switch {
	case prm.Enum != nil:
		return oneOf(prm.Enum)
	case prm.Ref != nil:
		return "the name of a " + strings.Join(prm.Ref, " or ")
	}
	return unit.Noun(prm.Dim) + " such as " + unit.Example(prm.Dim)
}

// start is where a value begins: at its key, if it has one.
func (n *node) start() place {
	if n.keyAt.line > 0 {
		return n.keyAt
	}
	return n.at
}

// isWord tells lower-case words joined by single hyphens.
func isWord(s string) bool {
	hyphen := true // one may not come first
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && i > 0:
			hyphen = false
		case r == '-' && !hyphen:
			hyphen = true
		default:
			return false
		}
	}
	return !hyphen
}
