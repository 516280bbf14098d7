package desk

import (
	"fmt"
	"strings"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/viz/scene"
)

// faultPanel puts a fault of the catalogue into the plant.
type faultPanel struct {
	elsewhere bool // in a second run
	picked    string
	part      string
	severity  string // as typed; empty: the typical one
	delay     string
	hidden    bool
	code      string
	wrong     map[string]string
}

func (p *faultPanel) Title() string {
	if p.elsewhere {
		return "What if something fails"
	}
	return "Faults"
}

func names(fs []fault.Fault) []string {
	var out []string
	for _, f := range fs {
		out = append(out, spoken(f.Name))
	}
	return out
}

func (p *faultPanel) Items(d *Desk) []Item {
	pl := d.plant()
	fs := fault.Possible(pl)
	items := []Item{{Kind: Caution, Text: CautionLine}}
	list := Item{Kind: List, Name: "fault", Options: names(fs), Picked: -1}
	var f *fault.Fault
	for i := range fs {
		if fs[i].Name == p.picked {
			list.Picked, f = i, &fs[i]
		}
	}
	list.Pick = func(i int) {
		if p.picked == fs[i].Name {
			return
		}
		p.picked, p.part, p.severity, p.wrong = fs[i].Name, "", "", nil
		d.changes++
		d.out.Status(spoken(fs[i].Name) + ". " + fs[i].About)
	}
	items = append(items, list)
	if f == nil {
		return append(items, Item{Kind: Words, Text: "Choose a fault."}, closing(d))
	}
	items = append(items, Item{Kind: Words, Text: f.About})
	parts := f.Befalls(pl)
	if !contains(parts, p.part) {
		p.part = parts[0]
	}
	if len(parts) > 1 {
		items = append(items, Item{Kind: Choice, Name: "part", Text: "Where", Options: parts, Picked: index(parts, p.part),
			Pick: func(i int) { p.part, p.severity = parts[i], ""; d.changes++ }})
	}
	items = append(items, p.severityItem(d, pl, f), p.delayItem(d), p.openness(d))
	if p.hides(d) {
		items = append(items, Item{Kind: Field, Name: "code", Text: "Code", Value: p.code, Wrong: p.wrong["code"], Beside: "who knows it can reveal the fault",
			Type: func(s string) { p.code = s }, Do: func() { p.set(d, f) }})
	}
	return append(items, place(d, &p.elsewhere),
		Item{Kind: Press, Name: "set", Text: "Set it", Wrong: p.wrong["set"], Strong: true, Do: func() { p.set(d, f) }}, closing(d))
}

// severityItem is the value that the fault gives its parameter.
func (p *faultPanel) severityItem(d *Desk, pl *plant.Plant, f *fault.Fault) Item {
	prm, _ := pl.Get(p.part + "." + f.Param)
	if words := prm.Enum; words != nil {
		return p.wordItem(d, words, prm.Value.Word, f)
	}
	typical := shown(f.Typical, prm.Dim, d.Units)
	it := Item{Kind: Field, Name: "severity", Text: spoken(f.Param), Value: p.severity, Wrong: p.wrong["severity"],
		Beside: "now " + shown(prm.Value.Number, prm.Dim, d.Units) + ", typical " + typical}
	if it.Value == "" {
		it.Value = typical
	}
	it.Type = func(s string) { p.severity = s }
	it.Step = func(n int) {
		text := p.severity
		if text == "" {
			text = typical
		}
		p.severity = stepped(text, prm, n, f.Typical, d.Units)
		d.changes++
	}
	it.Do = func() { p.set(d, f) }
	return it
}

// wordItem is the same for a parameter that is a word.
func (p *faultPanel) wordItem(d *Desk, words []string, now string, f *fault.Fault) Item {
	var said []string
	for _, w := range words {
		said = append(said, spoken(w))
	}
	picked := p.severity
	if picked == "" {
		picked = f.Word
	}
	return Item{Kind: Choice, Name: "severity", Text: spoken(f.Param), Options: said, Picked: index(words, picked), Wrong: p.wrong["severity"],
		Beside: "now " + spoken(now) + ", typical " + spoken(f.Word), Pick: func(i int) { p.severity = words[i]; d.changes++ }}
}

func (p *faultPanel) delayItem(d *Desk) Item {
	it := Item{Kind: Field, Name: "delay", Text: "Sets in after", Value: p.delay, Wrong: p.wrong["delay"], Beside: "0 s: now"}
	if it.Value == "" {
		it.Value = "0 s"
	}
	it.Type = func(s string) { p.delay = s }
	it.Step = func(n int) {
		v, err := seconds(it.Value)
		if err != nil {
			v = 0
		}
		p.delay = fmt.Sprintf("%g s", max(v+float64(n), 0))
		d.changes++
	}
	return it
}

func (p *faultPanel) openness(d *Desk) Item {
	it := Item{Kind: Choice, Name: "hidden", Text: "How", Options: []string{"openly", "hidden"}}
	if d.Sealed() {
		it.Options, it.Beside = []string{"hidden"}, "until the other is revealed"
		return it
	}
	if p.hidden {
		it.Picked = 1
	}
	it.Pick = func(i int) { p.hidden = i == 1; d.changes++ }
	return it
}

// action is what the panel says, or which item is wrong and why.
func (p *faultPanel) action(d *Desk, f *fault.Fault) (a scenarios.Action, item string, err error) {
	e := fault.Entry{Name: f.Name, Part: p.part, At: d.Session.T()}
	if p.severity != "" {
		prm, err := d.plant().Get(p.part + "." + f.Param)
		if err != nil {
			return a, "severity", err
		}
		prm.Value = plant.Value{Number: f.Typical, Word: f.Word} // the unit that a bare number is in
		v, err := value(p.severity, prm, d.Units)
		if err != nil {
			return a, "severity", err
		}
		e = e.With(prm, v)
	}
	if p.delay != "" {
		after, err := seconds(p.delay)
		switch {
		case err != nil:
			return a, "delay", err
		case after < 0:
			return a, "delay", fmt.Errorf("found %q, want a time of 0 s or later", p.delay)
		}
		e.At += after
	}
	if p.hides(d) && strings.TrimSpace(p.code) == "" {
		return a, "code", fmt.Errorf("found no code, want a word or number to reveal it by")
	}
	return scenarios.Action{Fault: &e, Hidden: p.hides(d), Code: p.codeOf(d)}, "", nil
}

func (p *faultPanel) set(d *Desk, f *fault.Fault) {
	p.wrong = nil
	a, item, err := p.action(d, f)
	if err != nil {
		p.wrong = map[string]string{item: sentence(err)}
		d.out.Status(sentence(err))
		d.changes++
		return
	}
	if err := d.perform(p.elsewhere, a); !d.done(err) {
		p.wrong = map[string]string{"set": sentence(err)}
		return
	}
	if a.Hidden {
		d.Say("A fault is set and hidden" + d.where(p.elsewhere) + ".")
		*p = faultPanel{} // nothing of it is left to be read here
	} else {
		when := "now"
		if dt := a.Fault.At - d.Session.T(); dt > 0 {
			when = "in " + scene.Span(dt)
		}
		d.Say(fmt.Sprintf("%s, %s%s.", upper(spoken(f.Name)), when, d.where(p.elsewhere)))
		p.elsewhere = false
	}
	d.Close()
}

// hides tells whether the fault is to be hidden: while another one is, it is.
func (p *faultPanel) hides(d *Desk) bool { return p.hidden || d.Sealed() }

// codeOf is the code of a hidden fault.
func (p *faultPanel) codeOf(d *Desk) string {
	if !p.hides(d) {
		return ""
	}
	return strings.TrimSpace(p.code)
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func contains(list []string, s string) bool { return index(list, s) >= 0 }

func index(list []string, s string) int {
	for i, x := range list {
		if x == s {
			return i
		}
	}
	return -1
}
