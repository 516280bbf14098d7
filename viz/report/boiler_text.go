package report

import (
	"bytes"
	"fmt"
)

// writeBoiler says how far boiler and operators went; of a sealed run nothing of
// how the disc stood.
func (rec *Record) writeBoiler(b *bytes.Buffer, sealed bool) error {
	m := rec.Run.Present()
	columns := plantColumns(m)
	if len(columns) == 0 {
		return nil
	}
	section(b, "boiler and operators")
	reaches, lamps, err := rec.plantReaches(columns)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "  %-41s %9s  %-20s %-20s %9s\n", "", "at first", "least", "most", "at the end")
	for i, c := range columns {
		if c.name == "lit" {
			continue
		}
		r := reaches[i]
		n := func(x float64) string { return fmt.Sprintf("%.*f", c.digits, x) }
		at := func(x, t float64) string { return fmt.Sprintf("%s at %.1f s", n(x), t) }
		fmt.Fprintf(b, "  %-41s %9s  %-20s %-20s %9s\n", c.part+" "+c.said, n(r.start), at(r.least, r.leastAt), at(r.most, r.mostAt), n(r.end))
	}
	now := rec.Run.Now()
	for _, o := range now.Operators {
		told := "were told of the lift at the end, and leave the fire alone"
		if !o.Told {
			told = "were not told at the end, and go by their gauge"
		}
		paragraph(b, "", fmt.Sprintf("The %s %s.", o.Name, told))
	}
	for i, l := range now.Lamps {
		says := fmt.Sprintf("The %s was lit for %.1f s", l.Name, lamps[i].lit)
		if !sealed { // nor is it seen how it is wired
			says += fmt.Sprintf(", %.1f s of that with the disc shut: it is wired to %s", lamps[i].wrong, wiredTo[l.Shows])
		}
		paragraph(b, "", says+".")
	}
	return nil
}

// wiredTo says what a lamp shows.
var wiredTo = map[string]string{"relay": "the relay", "coil-voltage": "the coil's voltage, which asks the valve to open",
	"plunger": "the pilot's plunger", "disc": "the disc"}

// SummaryBoiler is what the plant around the valves did, by part and quantity,
// the unit in its name.
type SummaryBoiler struct {
	Reaches map[string]SummaryReach `json:"reaches"` // drum.pressure_bar_abs
	Lamps   []SummaryLamp           `json:"lamps"`
	Told    map[string]bool         `json:"operators_told_at_end"`
}

// SummaryReach is how far one quantity went.
type SummaryReach struct {
	Start   float64 `json:"start"`
	Least   float64 `json:"least"`
	LeastAt float64 `json:"least_at_s"`
	Most    float64 `json:"most"`
	MostAt  float64 `json:"most_at_s"`
	End     float64 `json:"end"`
}

// SummaryLamp is one lamp. Null is what a sealed run does not tell.
type SummaryLamp struct {
	Name  string   `json:"name"`
	Lit   float64  `json:"lit_s"`
	Wrong *float64 `json:"lit_while_shut_s"` // while the disc was shut
	AtEnd bool     `json:"lit_at_end"`
}

// boilerSummary is the boiler in an object; nil without one.
func (rec *Record) boilerSummary(sealed bool) (*SummaryBoiler, error) {
	columns := plantColumns(rec.Run.Present())
	if len(columns) == 0 {
		return nil, nil
	}
	reaches, lamps, err := rec.plantReaches(columns)
	if err != nil {
		return nil, err
	}
	out := &SummaryBoiler{Reaches: map[string]SummaryReach{}, Lamps: []SummaryLamp{}, Told: map[string]bool{}}
	for i, c := range columns {
		if r := reaches[i]; c.name != "lit" {
			out.Reaches[c.part+"."+c.name] = SummaryReach{r.start, r.least, r.leastAt, r.most, r.mostAt, r.end}
		}
	}
	now := rec.Run.Now()
	for i, l := range now.Lamps {
		q := SummaryLamp{Name: l.Name, Lit: lamps[i].lit, AtEnd: l.Lit}
		if !sealed {
			q.Wrong = finite(lamps[i].wrong)
		}
		out.Lamps = append(out.Lamps, q)
	}
	for _, o := range now.Operators {
		out.Told[o.Name] = o.Told
	}
	return out, nil
}
