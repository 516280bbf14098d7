package desk

import (
	"fmt"
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/viz/scene"
)

// actPanel is for what the people of a plant do: feed it, throw a selector, turn
// a hand wheel.
type actPanel struct {
	elsewhere bool // in a second run
	page      int
	typed     map[string]string
	wrong     map[string]string
	procedure procedureChoice
}

func (p *actPanel) Title() string {
	if p.elsewhere {
		return "What if someone acts"
	}
	return "Act"
}

// handled are the parameters that a person at the plant sets by hand.
func handled(sc *scenarios.Scenario, pl *plant.Plant) []plant.Param {
	var out []plant.Param
	for _, prm := range pl.Params() {
		if sc.ByHand(prm.Path) {
			out = append(out, prm)
		}
	}
	return out
}

// Openings that a hand wheel is turned to at one press.
var openings = []float64{0, 0.25, 0.5, 0.75, 1}
var openingWords = []string{"shut", "1/4", "1/2", "3/4", "open"}

func (p *actPanel) Items(d *Desk) []Item {
	items := []Item{{Kind: Caution, Text: CautionLine}, place(d, &p.elsewhere)}
	pl := d.plant()
	pages := p.pages(d, pl)
	if len(pages) == 0 {
		return append(items, Item{Kind: Words, Text: "This plant has nothing that people work."}, closing(d))
	}
	if len(pages) > 1 {
		it := Item{Kind: Choice, Name: "page", Text: "What", Picked: min(p.page, len(pages)-1), Pick: func(i int) { p.page, p.wrong = i, nil; d.changes++ }}
		for _, g := range pages {
			it.Options = append(it.Options, g.name)
		}
		items = append(items, it)
	}
	shown := pages[min(p.page, len(pages)-1)]
	if shown.procedures != nil {
		items = append(items, p.procedureItems(d, pl, shown.procedures)...)
	}
	many := len(pl.OfKind("piloted-valve"))+len(pl.OfKind("spring-valve")) > 1
	for _, prm := range shown.settings {
		items = append(items, p.setting(d, prm, many))
	}
	return append(items, closing(d))
}

// setting is the item of one parameter.
func (p *actPanel) setting(d *Desk, prm plant.Param, many bool) Item {
	set := func(v plant.Value) { p.do(d, prm, v) }
	it := Item{Name: prm.Path, Text: nameOf(prm, many), Wrong: p.wrong[prm.Path], Picked: -1}
	switch {
	case prm.Enum != nil:
		it.Kind, it.Picked = Choice, slices.Index(prm.Enum, prm.Value.Word)
		for _, w := range prm.Enum {
			it.Options = append(it.Options, spoken(w))
		}
		it.Pick = func(i int) { set(plant.Value{Word: prm.Enum[i]}) }
	case isLever(prm.Path):
		p.lever(d, &it, prm, set)
	case isGag(prm.Path):
		p.gag(&it, prm, set)
	case prm.Numeric() && prm.Range.Lo == 0 && prm.Range.Hi == 1: // a share of what is open
		it.Kind, it.Options, it.Picked = Choice, openingWords, slices.Index(openings, prm.Value.Number)
		if it.Picked < 0 {
			it.Beside = fmt.Sprintf("set to %.0f %%", 100*prm.Value.Number)
		}
		it.Pick = func(i int) { set(plant.Value{Number: openings[i]}) }
	default:
		p.field(d, &it, prm, set)
	}
	return it
}

// field makes it one to type a value into, and the button that sets it.
func (p *actPanel) field(d *Desk, it *Item, prm plant.Param, set func(plant.Value)) {
	now := shown(prm.Value.Number, prm.Dim, d.Units)
	text, typed := p.typed[prm.Path]
	if !typed {
		text = now
	}
	it.Kind, it.Value, it.Beside, it.Button = Field, text, "now "+now, "Set"
	keep := func(s string) {
		if p.typed == nil {
			p.typed = map[string]string{}
		}
		p.typed[prm.Path] = s
	}
	it.Type = keep
	it.Step = func(n int) {
		keep(stepped(it.Value, prm, n, prm.Value.Number, d.Units))
		d.changes++
	}
	it.Do = func() {
		v, err := value(p.text(prm.Path, now), prm, d.Units)
		if err != nil {
			p.refuse(d, prm.Path, err)
			return
		}
		set(v)
	}
}

func (p *actPanel) text(path, otherwise string) string {
	if s, ok := p.typed[path]; ok {
		return s
	}
	return otherwise
}

func (p *actPanel) refuse(d *Desk, path string, err error) {
	p.wrong = map[string]string{path: sentence(err)}
	d.changes++
	d.out.Status(sentence(err))
}

// do sets a parameter, in the run or in a second one.
func (p *actPanel) do(d *Desk, prm plant.Param, v plant.Value) {
	p.wrong = nil
	a := scenarios.Action{Command: &scenarios.Command{At: d.Session.T(), Path: prm.Path, Value: v}}
	if err := d.perform(p.elsewhere, a); !d.done(err) {
		p.wrong = map[string]string{prm.Path: sentence(err)}
		return
	}
	delete(p.typed, prm.Path)
	prm.Value = v
	said := plant.FormatValue(prm)
	if prm.Numeric() {
		said = shown(v.Number, prm.Dim, d.Units)
	}
	if i := slices.Index(openings, v.Number); prm.Numeric() && prm.Range.Hi == 1 && i >= 0 {
		said = openingWords[i]
	}
	if hand := saidOfHand(prm); hand != "" {
		said = hand
	}
	d.Say(fmt.Sprintf("%s: %s%s.", nameOf(prm, true), said, d.where(p.elsewhere)))
	p.elsewhere = false
}

// perform does something to the run, or in a second one that starts here.
func (d *Desk) perform(elsewhere bool, todo ...scenarios.Action) error {
	before := d.Session.Lanes()
	var err error
	if elsewhere {
		err = d.Session.WhatIf(todo...)
	} else {
		err = d.Session.Do(todo...)
	}
	if now := d.Session.Lanes(); len(now) > 1 && (len(before) < 2 || now[1] != before[1]) {
		d.Beside = true
	}
	return err
}

// where says where something was done, after it was.
func (d *Desk) where(elsewhere bool) string {
	switch {
	case elsewhere:
		return ", in run B, from " + scene.Span(d.Session.T())
	case d.Two():
		return ", in both runs"
	}
	return ""
}

// place is the choice between the run and a second one.
func place(d *Desk, elsewhere *bool) Item {
	it := Item{Kind: Choice, Name: "place", Text: "Where", Options: []string{"in the run", "in a second run"}}
	if d.Two() {
		it.Options[0], it.Options[1] = "in both runs", "in a new run B"
	}
	if *elsewhere {
		it.Picked = 1
	}
	if d.Session.T() < d.Session.Head() {
		it.Beside = "back in time, a second run begins"
	}
	it.Pick = func(i int) { *elsewhere = i == 1; d.changes++ }
	return it
}

func closing(d *Desk) Item {
	return Item{Kind: Press, Name: "close", Text: "Close", Beside: "Escape", Do: d.Close}
}

// nameOf names a parameter for people: "Inflow", "Block valve", "Firing hold",
// with its part where there may be several.
func nameOf(prm plant.Param, part bool) string {
	words := slices.DeleteFunc(strings.Split(prm.Path, "."), func(w string) bool { return w == "control" })
	if slices.Contains(words, "motion") { // of the block valve, below which it stands
		words = []string{words[0], words[len(words)-1], "state"}
	}
	name, last := words[0], words[len(words)-1]
	if len(words) > 2 {
		name = words[len(words)-2]
		if part {
			name = words[0] + " " + name
		}
	}
	if !slices.Contains([]string{"opening", "position", "state", "mass-flow", "leaves-lift"}, last) {
		name += " " + last
	}
	name = spoken(name)
	return strings.ToUpper(name[:1]) + name[1:]
}
