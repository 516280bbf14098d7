package scenarios

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
)

var (
	showsKeys = []string{"lifts", "state-at-end", "link-at-end", "seated-at-end", "valves", "never", "order", "first", "final"}
	countKeys = []string{"at-least", "at-most", "exactly"}
	firstKeys = []string{"event", "after", "before"}
	finalKeys = []string{"quantity", "at-least", "at-most"}
)

// readShows reads what the run must show.
func (s *Scenario) readShows(root *node) error {
	n, ok := root.entry["shows"]
	if !ok {
		return nil
	}
	if err := n.needMapping("shows", showsKeys); err != nil {
		return err
	}
	if len(n.keys) == 0 {
		return n.at.wrong("shows", "nothing", oneOf(showsKeys))
	}
	s.Shows = &Shows{}
	for _, key := range n.keys {
		if err := s.readShow(join("shows", key), key, n); err != nil {
			return err
		}
	}
	return s.Shows.agrees(n)
}

func (s *Scenario) readShow(path, key string, n *node) (err error) {
	v, out := n.entry[key], s.Shows
	switch key {
	case "lifts":
		out.Lifts, err = v.count(path)
	case "state-at-end":
		out.StateAtEnd, err = v.words(path, slices.Concat(States(), SpringStates()))
	case "link-at-end":
		out.LinkAtEnd, err = n.needWord("shows", key, Links())
	case "seated-at-end":
		out.SeatedAtEnd, err = n.needTruth("shows", key)
	case "valves":
		err = s.each(n, key, s.readOfValve)
	case "never":
		out.Never, err = v.wordsThat(path, s.isEvent)
	case "order":
		out.Order, err = v.wordsThat(path, s.isEvent)
		if err == nil && len(out.Order) < 2 {
			err = v.at.wrong(path, "one event", "two or more, in the order in which they first happen")
		}
	case "first":
		err = s.each(n, key, s.readFirst)
	case "final":
		err = s.each(n, key, s.readFinal)
	}
	return err
}

// each reads the items of a list that must not be empty.
func (s *Scenario) each(n *node, key string, read func(path string, item *node) error) error {
	items, err := n.listOf(key)
	if err != nil {
		return err
	}
	path := join("shows", key)
	if len(items) == 0 {
		return n.entry[key].at.wrong(path, "an empty list", "one item or more")
	}
	for _, item := range items {
		if err := read(path, item); err != nil {
			return err
		}
	}
	return nil
}

func (s *Scenario) readFirst(path string, n *node) error {
	if err := n.needMapping(path, firstKeys); err != nil {
		return err
	}
	word, err := n.needScalar(path, "event", oneOf(Events()))
	if err != nil {
		return err
	}
	if err := s.isEvent(word, join(path, "event")); err != nil {
		return err
	}
	event := word.text
	within := plant.Param{Dim: unit.Time, Range: plant.Range{Lo: 0, Hi: s.Until}}
	first := FirstEvent{Event: event}
	first.After, first.Before, err = n.bounds(path, "after", "before", within)
	s.Shows.First = append(s.Shows.First, first)
	return err
}

func (s *Scenario) readFinal(path string, n *node) error {
	if err := n.needMapping(path, finalKeys); err != nil {
		return err
	}
	const want = "the path of a quantity, such as vessel.pressure"
	quantity, err := n.needScalar(path, "quantity", want)
	if err != nil {
		return err
	}
	words := strings.Split(quantity.text, ".")
	if len(words) < 2 || slices.ContainsFunc(words, func(w string) bool { return !isWord(w) }) {
		return quantity.at.wrong(join(path, "quantity"), quantity.describe(), want)
	}
	dim, err := n.dimension(path)
	if err != nil {
		return err
	}
	bound := Bound{Quantity: quantity.text, Dim: dim}
	bound.AtLeast, bound.AtMost, err = n.bounds(path, "at-least", "at-most", plant.Param{Dim: dim, Range: anyNumber})
	s.Shows.Final = append(s.Shows.Final, bound)
	return err
}

// dimension tells what the bounds of a quantity measure, by their unit. Where
// a unit serves two dimensions, as K does, it is the first of unit.Dimensions.
func (n *node) dimension(path string) (unit.Dimension, error) {
	for _, key := range []string{"at-least", "at-most"} {
		v, ok := n.entry[key]
		if !ok {
			continue
		}
		const want = "a number with its unit, such as 11.0 bar abs"
		if v.kind != scalar {
			return "", v.at.wrong(join(path, key), v.describe(), want)
		}
		for _, dim := range unit.Dimensions() {
			if _, err := unit.Parse(v.text, dim); err == nil {
				return dim, nil
			}
		}
		return "", v.at.wrong(join(path, key), v.describe(), want)
	}
	return "", n.start().wrong(path, "no bound", "at-least, at-most or both")
}

// bounds reads a lower and an upper bound, of which one may be absent.
func (n *node) bounds(path, low, high string, prm plant.Param) (lo, hi *float64, err error) {
	read := func(key string) (*float64, error) {
		if _, ok := n.entry[key]; !ok {
			return nil, nil
		}
		v, err := n.needNumber(path, key, prm)
		return &v, err
	}
	if lo, err = read(low); err != nil {
		return nil, nil, err
	}
	if hi, err = read(high); err != nil {
		return nil, nil, err
	}
	switch {
	case lo == nil && hi == nil:
		return nil, nil, n.start().wrong(path, "no bound", low+", "+high+" or both")
	case lo != nil && hi != nil && *lo > *hi:
		v := n.entry[high]
		return nil, nil, v.at.wrong(join(path, high), v.describe(), fmt.Sprintf("no less than %s, which is %s", low, n.entry[low].text))
	}
	return lo, hi, nil
}

// count reads bounds on a number of times.
func (n *node) count(path string) (*Count, error) {
	if err := n.needMapping(path, countKeys); err != nil {
		return nil, err
	}
	c := &Count{}
	for _, key := range n.keys {
		v := n.entry[key]
		i, err := strconv.Atoi(v.text)
		if v.kind != scalar || err != nil || i < 0 {
			return nil, v.at.wrong(join(path, key), v.describe(), "a whole number, 0 or more")
		}
		switch key {
		case "at-least":
			c.AtLeast = &i
		case "at-most":
			c.AtMost = &i
		case "exactly":
			c.Exactly = &i
		}
	}
	switch {
	case len(n.keys) == 0:
		return nil, n.at.wrong(path, "no bound", oneOf(countKeys))
	case c.Exactly != nil && len(n.keys) > 1:
		return nil, n.start().wrong(path, "exactly beside another bound", "exactly alone")
	case c.AtLeast != nil && c.AtMost != nil && *c.AtLeast > *c.AtMost:
		v := n.entry["at-most"]
		return nil, v.at.wrong(join(path, "at-most"), v.describe(), fmt.Sprintf("no less than at-least, which is %d", *c.AtLeast))
	}
	return c, nil
}

// words reads a list of different words.
func (n *node) words(path string, among []string) ([]string, error) {
	if n.kind != list || len(n.items) == 0 {
		return nil, n.at.wrong(path, n.describe(), "a list of one or more of "+strings.Join(among, ", "))
	}
	return n.wordsThat(path, func(item *node, path string) error { return item.wordOf(path, among) })
}

// wordsThat reads a list of different words that pass the check.
func (n *node) wordsThat(path string, check func(item *node, path string) error) ([]string, error) {
	if n.kind != list || len(n.items) == 0 {
		return nil, n.at.wrong(path, n.describe(), "a list of one or more of "+strings.Join(Events(), ", "))
	}
	var out []string
	for _, item := range n.items {
		if err := check(item, path); err != nil {
			return nil, err
		}
		if slices.Contains(out, item.text) {
			return nil, item.at.wrong(path, quote(item.text)+" a second time", "each word once")
		}
		out = append(out, item.text)
	}
	return out, nil
}

// agrees refuses an event that must never happen and must happen.
func (w *Shows) agrees(n *node) error {
	for i, event := range w.Never {
		asked := func(word string) bool {
			name, _ := EventOf(word)
			return word == event || name == event // an event of a part is one of any
		}
		must := slices.ContainsFunc(w.Order, asked) ||
			slices.ContainsFunc(w.First, func(f FirstEvent) bool { return asked(f.Event) })
		if must {
			return n.entry["never"].items[i].at.wrong("shows.never", quote(event)+", which order or first ask for", "an event that is not asked for elsewhere")
		}
	}
	return nil
}
