package desk

import "underdisc/scenarios"

// scenarioPanel chooses among the built-in scenarios.
type scenarioPanel struct {
	picked int
	sc     *scenarios.Scenario // that one
	wrong  string
}

func (p *scenarioPanel) Title() string { return "Scenarios" }

func (p *scenarioPanel) Items(d *Desk) []Item {
	all := scenarios.Names()
	options := make([]string, len(all))
	for i, n := range all {
		options[i] = spoken(n)
	}
	items := []Item{
		{Kind: List, Name: "scenario", Options: options, Picked: p.picked, Pick: func(i int) { p.pick(d, all[i], i) }, Do: func() { p.start(d) }},
	}
	if p.sc != nil {
		items = append(items, Item{Kind: Words, Text: p.sc.Title + ". " + p.sc.About})
	}
	return append(items,
		Item{Kind: Press, Name: "start", Text: "Start it", Beside: "the run on the screen ends", Strong: true, Off: p.sc == nil, Wrong: p.wrong, Do: func() { p.start(d) }},
		closing(d))
}

func (p *scenarioPanel) pick(d *Desk, name string, i int) {
	if p.picked == i && p.sc != nil {
		return
	}
	sc, err := scenarios.Load(name)
	d.changes++
	if err != nil {
		p.wrong = sentence(err)
		return
	}
	p.picked, p.sc, p.wrong = i, sc, ""
	d.out.Status(sc.Title)
}

func (p *scenarioPanel) start(d *Desk) {
	if p.sc == nil {
		return
	}
	if err := d.start(p.sc, 0); err != nil {
		p.wrong = sentence(err)
		d.changes++
		return
	}
	d.Close()
	d.Say(p.sc.Title + ".")
}
