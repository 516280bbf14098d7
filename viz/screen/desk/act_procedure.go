package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/scenarios"
	"underdisc/viz/scene"
)

// procedureChoice is the procedure chosen, and on which valve.
type procedureChoice struct {
	name, valve string
	begun       []begun
}

// begun is a procedure that was started.
type begun struct {
	name string
	last float64 // when its last setting is made, s
}

// procedureItems choose a procedure, say what is done and with what care, and do
// it.
func (p *actPanel) procedureItems(d *Desk, pl *plant.Plant, all []procedure.Procedure) []Item {
	c := &p.procedure
	list := Item{Kind: List, Name: "procedure", Picked: -1}
	var chosen *procedure.Procedure
	for i := range all {
		list.Options = append(list.Options, spoken(all[i].Name))
		if all[i].Name == c.name {
			list.Picked, chosen = i, &all[i]
		}
	}
	list.Pick = func(i int) {
		if all[i].Name == c.name {
			return
		}
		c.name, p.wrong = all[i].Name, nil
		d.changes++
		d.out.Status(all[i].About + " " + all[i].Caution)
	}
	items := []Item{list}
	if name, until, ok := p.underWay(d); ok {
		items = append(items, Item{Kind: Words, Text: fmt.Sprintf("%s is under way; its last setting is made at %s.", capitals(name), seconds3(until))})
	}
	if chosen == nil {
		return append(items, Item{Kind: Words, Text: "Choose what is done at the valve."})
	}
	items = append(items, Item{Kind: Words, Text: chosen.About}, Item{Kind: Caution, Text: chosen.Caution})
	valves := chosen.Valves(pl)
	if !slices.Contains(valves, c.valve) {
		c.valve = valves[0]
		if shown := scene.ValveNames(d.Lane().Run.Present())[d.Valve]; slices.Contains(valves, shown) {
			c.valve = shown
		}
	}
	if len(valves) > 1 {
		items = append(items, Item{Kind: Choice, Name: "valve", Text: "Valve", Options: valves, Picked: slices.Index(valves, c.valve),
			Pick: func(i int) { c.valve = valves[i]; d.changes++ }})
	}
	beside := "at once"
	if lasts, err := chosen.Lasts(pl, c.valve); err == nil && lasts > 0 {
		beside = "takes " + scene.Span(lasts)
	}
	return append(items, Item{Kind: Press, Name: "do it", Text: "Do it", Beside: beside, Strong: true, Wrong: p.wrong["do it"],
		Do: func() { p.perform(d, *chosen) }})
}

// underWay is the procedure that has been begun and is not over at the moment
// shown, and when its last setting is made, s.
func (p *actPanel) underWay(d *Desk) (name string, until float64, ok bool) {
	for _, l := range d.Session.Lanes() {
		for _, a := range l.Pending(d.Session.T()) {
			if a.Command != nil && a.At() >= until {
				until, ok = a.At(), true
			}
		}
	}
	name = "a procedure"
	for _, b := range p.procedure.begun {
		if b.last == until {
			name = spoken(b.name)
		}
	}
	return name, until, ok
}

// perform begins a procedure, in the run or in a second one: what is to be set
// later is decided now, and goes on record now. While another one is under way
// it is refused.
func (p *actPanel) perform(d *Desk, q procedure.Procedure) {
	settings, err := p.settings(d, q)
	if err == nil {
		var todo []scenarios.Action
		for _, s := range settings {
			todo = append(todo, scenarios.Action{Command: &scenarios.Command{At: s.At, Path: s.Path, Value: s.Value}})
		}
		err = d.perform(p.elsewhere, todo...)
	}
	if !d.done(err) {
		p.wrong = map[string]string{"do it": sentence(err)}
		return
	}
	p.wrong = nil
	last := settings[len(settings)-1].At
	p.procedure.begun = append(p.procedure.begun, begun{q.Name, last})
	until := ""
	if last > d.Session.T() {
		until = ", until " + seconds3(last)
	}
	d.Say(fmt.Sprintf("%s%s%s.", capitals(spoken(q.Name)), until, d.where(p.elsewhere)))
	p.elsewhere = false
	p.procedure.name = ""
	d.Close()
}

// settings are what the procedure sets from now on, if it can be done from first
// to last.
func (p *actPanel) settings(d *Desk, q procedure.Procedure) ([]procedure.Setting, error) {
	if name, until, ok := p.underWay(d); ok {
		return nil, fmt.Errorf("found %s under way until %s, want it over before another procedure begins", name, seconds3(until))
	}
	pl := d.plant()
	settings, err := q.On(pl, p.procedure.valve, d.Session.T())
	for _, s := range settings {
		if err == nil {
			pl, err = pl.With(s.Path, s.Value)
		}
	}
	if err == nil && pl != nil {
		if wrong := pl.CheckRunning(); len(wrong) > 0 {
			err = errors.New(wrong[0].String())
		}
	}
	return settings, err
}

// seconds3 writes a moment of the run.
func seconds3(t float64) string { return strconv.FormatFloat(t, 'f', 1, 64) + " s" }

func capitals(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
