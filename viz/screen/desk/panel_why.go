package desk

import (
	"underdisc/viz/scene"
	"underdisc/viz/session"
	"underdisc/viz/view"
	"underdisc/viz/words"
)

// whyPanel answers the question that the valve's state raises, at the moment
// that is shown: the answer, the six links, the numbers, what would free it.
type whyPanel struct {
	page int

	// What the answer was found for, and the answer.
	lane  *session.Lane
	valve int
	t     float64
	units scene.Units
	seals bool
	why   *scene.Why
	calls int // since then
}

// whyPages are its pages. A sealed run has the first and the third.
var whyPages = []string{"Answer", "Links", "Numbers", "Ways out"}

const (
	whyAnswer = iota
	whyLinks
	whyNumbers
	whyFrees
)

func (p *whyPanel) Title() string { return "Why?" }

func (p *whyPanel) Items(d *Desk) []Item {
	if err := p.ask(d); err != nil {
		return []Item{{Kind: Words, Text: err.Error()}, closing(d)}
	}
	w := p.why
	items := []Item{{Kind: Choice, Name: "show", Options: whyPages, Picked: p.page, Pick: func(i int) {
		p.page = i
		d.changes++
		d.out.Status(whyPages[i])
	}}}
	say := func(text string) { items = append(items, Item{Kind: Words, Text: text}) }
	page := p.page
	if w.Sealed && (page == whyLinks || page == whyFrees) {
		page = whyAnswer
	}
	switch page {
	case whyAnswer:
		say(w.Question)
		for _, s := range w.Answer {
			say(s)
		}
		if w.Next != "" {
			say("Next, and safe: " + w.Next)
		}
	case whyLinks:
		for i := range w.Rows {
			items = append(items, Item{Kind: Words, Text: linkLine(&w.Rows[i]), Strong: w.Rows[i].Holds})
		}
	case whyNumbers:
		for _, n := range w.Numbers {
			say(n.Name + ": " + n.Value)
		}
	case whyFrees:
		if len(w.Frees) == 0 {
			say("No repair and no act that this page knows of.")
		} else {
			say(w.Ends + ", each by itself:")
		}
		for i := range w.Frees {
			say(freeLine(&w.Frees[i]))
		}
		if len(w.Sums) > 0 {
			say("What the arithmetic would need, not a remedy:")
		}
		for i := range w.Sums {
			say(freeLine(&w.Sums[i]))
		}
	}
	return append(items, Item{Kind: Caution, Text: CautionLine}, closing(d))
}

// linkLine is a link in one line.
func linkLine(r *scene.WhyRow) string {
	out := r.Link + ": " + r.Stands
	if r.What != "" {
		out += "; " + r.What + " " + r.Now
	}
	if r.Threshold != "" {
		out += ", changes over at " + r.Threshold
	}
	if r.Holds {
		out += ": this one"
	}
	return out
}

// freeLine is a change in one line.
func freeLine(f *scene.WhyFree) string {
	out := f.What + ": " + f.Needed
	if f.Does != "" {
		out = words.Capital(f.Does) + ": " + out
	}
	if f.Now != "" {
		out += ", now " + f.Now
	}
	return out + " (" + f.By + ")"
}

// ask finds the answer for the moment that is shown, if it is not there yet.
func (p *whyPanel) ask(d *Desk) error {
	lane, t := d.Lane(), d.Session.T()
	sealed := lane.Run.Scenario.Sealed()
	if p.why != nil && p.lane == lane && p.valve == d.Valve && p.t == t && p.units == d.Units && p.seals == sealed {
		return nil
	}
	w, _, err := view.WhyAt(lane.Run, t, d.Valve, d.Units)
	if err != nil {
		return err
	}
	p.lane, p.valve, p.t, p.units, p.seals, p.why, p.calls = lane, d.Valve, t, d.Units, sealed, w, 0
	return nil
}

// whyEvery is after how many looks the answer is found again while a run goes
// on: with sixty a second, about thrice a second, which can still be read.
const whyEvery = 20

// followWhy counts a change where the open answer is no longer that of the
// moment shown.
func (d *Desk) followWhy() {
	p, ok := d.panel.(*whyPanel)
	if !ok || p.why == nil {
		return
	}
	p.calls++
	pace := d.Session.Pace()
	if p.t == d.Session.T() && p.lane == d.Lane() && p.valve == d.Valve || (pace.Runs || pace.Seeks) && p.calls < whyEvery {
		return
	}
	p.calls = 0
	d.changes++
}
