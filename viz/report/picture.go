package report

import (
	"fmt"
	"slices"
	"strings"

	"underdisc/model/plant"
	"underdisc/model/unit"
	"underdisc/viz/paper"
	"underdisc/viz/words"
)

// picture is a page of charts of one valve. Its curves fill while the run is
// walked along; then the page is drawn.
type picture struct {
	file    string
	valve   int
	strips  []*strip
	compose func(*picture, *Record) *paper.Page
}

func (p *picture) add(s *plant.Snapshot) {
	for _, st := range p.strips {
		st.add(s.T, &s.Valves[p.valve])
	}
}

func (p *picture) page(rec *Record) *paper.Page { return p.compose(p, rec) }

// spans are the stretches that the picture shows.
func (p *picture) spans() []span {
	var out []span
	for _, st := range p.strips {
		out = append(out, st.span)
	}
	return out
}

// heading writes title and sentences at the top of a page, the sentences on at
// most two lines.
func heading(page *paper.Page, title, sentences string) {
	const margin = 40.0
	page.Title = strings.TrimSpace(title + ". " + sentences)
	fits := func(f paper.Font, text string, lines int) (paper.Font, []string) {
		const most = paper.Width - 2*margin
		wrapped := paper.Wrap(f, most, text)
		for len(wrapped) > lines && f.Size > paper.Smallest {
			f.Size -= 0.5
			wrapped = paper.Wrap(f, most, text)
		}
		// Lines of one length read better than a long and a short one.
		for w := most - 20; w > most/2 && len(paper.Wrap(f, w, text)) == len(wrapped); w -= 20 {
			wrapped = paper.Wrap(f, w, text)
		}
		return f, wrapped[:min(len(wrapped), lines)]
	}
	for _, part := range []struct {
		font  paper.Font
		text  string
		lines int
		y     float64
	}{{titleFont, title, 1, 50}, {saidFont, sentences, 2, 88}} {
		f, lines := fits(part.font, part.text, part.lines)
		for i, line := range lines {
			page.Text(f, paper.Point{X: margin, Y: part.y + 33*float64(i)}, paper.FromLeft, line)
		}
	}
}

// title names the run, what is wrong in it, and the valve where there are
// several.
func (rec *Record) title(v *ValveRecord) string {
	out := rec.Run.Scenario.Title
	if rec.Altered {
		out = "Scenario " + rec.Run.Scenario.Name
	}
	if len(rec.Valves)+len(rec.Springs) > 1 {
		out += ", " + v.Name
	}
	var with []string
	for _, f := range rec.Faults {
		c := f.Changes[0]
		text := f.Name + " " + unit.Format(c.To.Number, c.Dim)
		if f.At > 0 {
			text += " from " + unit.Format(f.At, unit.Time)
		}
		with = append(with, text)
	}
	for _, set := range rec.Sets {
		with = append(with, set.Path+" "+set.To)
	}
	const most = 2 // a title has room for no more
	switch {
	case len(with) > most:
		return out + fmt.Sprintf(", with %d changes", len(with))
	case len(with) > 0:
		return out + ", with " + strings.Join(with, ", ")
	}
	return out
}

// caption says of a valve's run what the charts do not say by themselves, short
// enough for two lines.
func (rec *Record) caption(v *ValveRecord) string {
	out := fmt.Sprintf("No lift in %s.", unit.Format(rec.Until(), unit.Time))
	if n := len(v.Lifts); n > 0 {
		out = fmt.Sprintf("%s in %s.", words.Count(n, "lift", "lifts"), unit.Format(rec.Until(), unit.Time))
		first, last := v.Lifts[0], v.Lifts[n-1]
		differ := func(l Lift) bool { return otherwise(first, l) }
		switch {
		case n == 1:
			out += " " + briefly("It lifted", first)
		case slices.ContainsFunc(v.Lifts, differ):
			out += " " + briefly("First", first) + " " + briefly("Last", last)
		default:
			out += " " + briefly("Each", first)
		}
	}
	f := rec.explain(rec.Run.Present(), rec.Run.Now(), v)
	return out + fmt.Sprintf(" At the end %s: %s.", words.State(f.State), words.Reason(&f, f.Why))
}

func briefly(which string, l Lift) string {
	switch percent, ok := l.Blowdown(); {
	case l.Hand != nil && l.Hand.opened(&l) && l.Reseated:
		return fmt.Sprintf("%s, opened by the selector, at %s bar abs, shut at %s.", which, words.Bar(l.Pressure), words.Bar(l.Reseat))
	case ok:
		return fmt.Sprintf("%s at %s bar abs, shut at %s, blowdown %s.", which, words.Bar(l.Pressure), words.Bar(l.Reseat), percents(percent))
	case l.Reseated:
		return fmt.Sprintf("%s at %s bar abs, shut at %s.", which, words.Bar(l.Pressure), words.Bar(l.Reseat))
	}
	return fmt.Sprintf("%s at %s bar abs, not shut again.", which, words.Bar(l.Pressure))
}
