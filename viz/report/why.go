package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"underdisc/scenarios/live"
	"underdisc/viz/scene"
	"underdisc/viz/view"
	"underdisc/viz/words"
)

// Why is the answer to what a run raises at a moment: why a valve will not
// reseat, will not lift, cycles, or what keeps it.
type Why struct {
	Run   *live.Run
	At    float64 // s
	Units scene.Units
	Valve string // empty: every piloted valve, or else the first with a spring
}

// Text writes the answer of every valve: first in a sentence or two, then link
// by link, then the numbers, the safe next
// step, the repairs and acts that free it, and what else the arithmetic would
// need.
func (y *Why) Text(w io.Writer) error {
	var b bytes.Buffer
	sc := y.Run.Scenario
	fmt.Fprintf(&b, "scenario %s at %s\n", sc.Name, words.Clock(y.At))
	if sc.Sealed() {
		section(&b, "hidden")
		paragraph(&b, "", sealedNote+" The word it was hidden with reveals it: --code WORD.")
	}
	valves := y.Run.Present().Valves
	piloted, spring := y.chosen()
	for _, i := range piloted {
		why, _, err := view.WhyAt(y.Run, y.At, i, y.Units)
		if err != nil {
			return err
		}
		name := ""
		if len(valves)+len(y.Run.Present().Springs) > 1 {
			name = valves[i].Name + ": "
		}
		section(&b, name+why.Question)
		for _, s := range why.Answer {
			paragraph(&b, "", s)
		}
		if err := writeWhy(&b, why); err != nil {
			return err
		}
	}
	if spring >= 0 {
		if err := y.writeSpring(&b, spring); err != nil {
			return err
		}
	}
	if err := y.writeOthers(&b, piloted, spring); err != nil {
		return err
	}
	section(&b, "caution")
	paragraph(&b, "", caution)
	_, err := b.WriteTo(w)
	return err
}

func writeWhy(b *bytes.Buffer, why *scene.Why) error {
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	line := func(cells ...string) { fmt.Fprintln(t, "  "+strings.Join(cells, "\t")) }
	if len(why.Rows) > 0 {
		section(b, "the six links")
		line("link", "asked", "stands", "what", "now", "changes over at", "")
		for _, r := range why.Rows {
			mark := ""
			if r.Holds {
				mark = "<- this one"
			}
			line(r.Link, r.Asked, r.Stands, r.What, r.Now, r.Threshold, mark)
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	section(b, "numbers")
	for _, n := range why.Numbers {
		line(n.Name, n.Value)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if why.Sealed {
		return nil
	}
	if why.Next != "" {
		section(b, "next, and safe")
		paragraph(b, "", why.Next)
	}
	section(b, why.Ends+", each by itself")
	if len(why.Frees) == 0 {
		paragraph(b, "", "No repair and no act that this page knows of.")
	} else {
		line("repair or act", "what", "now", "needed", "who")
		for _, f := range why.Frees {
			line(f.Does, f.What, f.Now, f.Needed, f.By)
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	if len(why.Sums) == 0 {
		return nil
	}
	section(b, "what the arithmetic would need, not a remedy")
	line("what", "now", "needed", "")
	for _, f := range why.Sums {
		line(f.What, f.Now, f.Needed, f.By)
	}
	return t.Flush()
}
