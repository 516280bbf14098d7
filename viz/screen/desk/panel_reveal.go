package desk

import (
	"strings"

	"underdisc/model/fault"
	"underdisc/scenarios"
)

// revealPanel ends a drill: by the code, or by the right answer.
type revealPanel struct {
	code   string
	picked int // the answer, an index into the faults that the plant can have
	wrong  string
}

func (p *revealPanel) Title() string { return "Which fault is it?" }

func reveal(d *Desk) { d.Show(&revealPanel{picked: -1}) }

func (p *revealPanel) Items(d *Desk) []Item {
	fs := fault.Possible(d.plant())
	items := []Item{
		{Kind: Words, Text: "Name the fault that is hidden in this plant."},
		{Kind: List, Name: "answer", Options: names(fs), Picked: p.picked, Pick: func(i int) {
			p.picked = i
			d.changes++
			d.out.Status(spoken(fs[i].Name) + ". " + fs[i].About)
		}},
	}
	if p.picked >= 0 && p.picked < len(fs) {
		items = append(items, Item{Kind: Words, Text: fs[p.picked].About})
	}
	return append(items,
		Item{Kind: Press, Name: "answer it", Text: "This is it", Strong: true, Wrong: p.wrong, Off: p.picked < 0, Do: func() { p.answer(d, fs) }},
		Item{Kind: Words, Text: "Or give it up with the code of the one who has hidden it."},
		Item{Kind: Field, Name: "code", Text: "Code", Value: p.code, Type: func(s string) { p.code = s }, Do: func() { p.open(d) }},
		Item{Kind: Press, Name: "open it", Text: "Reveal", Do: func() { p.open(d) }},
		closing(d))
}

func (p *revealPanel) answer(d *Desk, fs []fault.Fault) {
	if p.picked < 0 || p.picked >= len(fs) {
		return
	}
	among := false
	d.eachHidden(func(h *scenarios.Hidden) { among = h.Answer(fs[p.picked].Name) || among })
	switch {
	case !d.Sealed():
		d.revealed("Right.")
	case among:
		p.refuse(d, "Right, and there is more.")
	default:
		p.refuse(d, "Not that one. Look again at what the valve does.")
	}
}

func (p *revealPanel) refuse(d *Desk, line string) {
	p.wrong = line
	d.changes++
	d.out.Status(line)
}

func (p *revealPanel) open(d *Desk) {
	right := false
	d.eachHidden(func(h *scenarios.Hidden) { right = h.Reveal(p.code) || right })
	switch {
	case !d.Sealed():
		d.revealed("Given up.")
	case right:
		p.refuse(d, "That code was right, and more is hidden behind another.")
	default:
		p.refuse(d, "That is not the code.")
	}
}

// eachHidden does something to what is hidden in every run and in the scenario
// that the next one starts from, each once.
func (d *Desk) eachHidden(do func(*scenarios.Hidden)) {
	done := map[*scenarios.Hidden]bool{nil: true}
	all := []*scenarios.Hidden{d.Scenario.Hidden}
	for _, l := range d.Session.Lanes() {
		all = append(all, l.Run.Scenario.Hidden)
	}
	for _, h := range all {
		if !done[h] {
			done[h] = true
			do(h)
		}
	}
}

// revealed closes a drill and says what it was.
func (d *Desk) revealed(lead string) {
	var was []string
	d.eachHidden(func(h *scenarios.Hidden) {
		for _, e := range h.Faults {
			if name := spoken(e.Name); !contains(was, name) {
				was = append(was, name)
			}
		}
	})
	d.Close()
	d.Say(lead + " It was: " + strings.Join(was, ", ") + ".")
}
