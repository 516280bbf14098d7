package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"underdisc/model/unit"
	"underdisc/scenarios/live"
)

// IsSignsFile tells whether the files of a table of signs may have that name.
func IsSignsFile(name string) bool { return name == "signs.md" || name == "signs.csv" }

// signsHead says what the table is.
const signsHead = `# Signs of the faults on %s

Each row is one run of the same exercise, by %s: half a minute at rest; a stroke of 2.5 s by the selector; a minute of rest;
the load rejected; the state 140 s after that; then the block valve shut, the valve stroked empty and drained, shut in
for 30 s, and the block valve opened as fast as it goes. The fault is there from the start. What differs from the
plant without it by more than careful reading would miss is **bold**; a dash is what does not happen: a valve that hangs
open does not lift. pA is the pressure in the body above the disc, pB that in the chamber below it.

In the table of the whole catalogue severities are those of the scenarios plant-NAME; a fault that is asked for alone and
without one takes the typical value of the catalogue, which may be another. Where the scenario gives the plant other values,
its row is on that plant and stands behind that plant without the fault. A fault that shows in a
small disturbance, as running-near-set does, is seen better in its scenario than in this exercise.

%s

`

// SignsPage writes the table of signs as Markdown whose columns are aligned.
func SignsPage(w io.Writer, rows []live.SignRow, version string) error {
	var b strings.Builder
	fmt.Fprintf(&b, signsHead, rows[0].Plant, "underdisc "+version, folded(caution, 116))
	cols := live.SignColumns()
	for from := 0; from < len(cols); {
		to := from
		for to < len(cols) && cols[to].When == cols[from].When {
			to++
		}
		when := cols[from].When
		fmt.Fprintf(&b, "## %s\n\n", strings.ToUpper(when[:1])+when[1:])
		writeAligned(&b, signsPart(rows, cols[from:to]))
		b.WriteByte('\n')
		from = to
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// signsPart is the table of one part of the exercise, its head first.
func signsPart(rows []live.SignRow, cols []live.SignColumn) [][]string {
	head := []string{"fault", "severity"}
	for _, c := range cols {
		if u := signUnit(c); u != "" {
			head = append(head, c.Head+", "+u)
			continue
		}
		head = append(head, c.Head)
	}
	out := [][]string{head}
	for _, r := range rows {
		line := []string{r.Fault, r.Severity}
		if r.Fault == "" {
			line[0] = "none, " + r.Plant
		}
		if r.Part != "" {
			line[0] += " (" + r.Part + ")"
		}
		healthy := live.Healthy(rows, r)
		for _, c := range cols {
			v := r.Values[c.Key]
			text := signText(c, v)
			if healthy != nil && c.Compare(v, healthy.Values[c.Key]) != live.Same {
				text = "**" + text + "**"
			}
			line = append(line, text)
		}
		out = append(out, line)
	}
	return out
}

func signText(c live.SignColumn, v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case c.Yes && v > 0:
		return "yes"
	case c.Yes:
		return "no"
	case c.Count:
		return strconv.Itoa(int(v))
	}
	show, ok := signShown[c.Dim]
	if !ok {
		return unit.Format(v, c.Dim)
	}
	text := strconv.FormatFloat(v/show.of-show.zero, 'f', show.digits, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-") // what is left of a decay
	}
	return text
}

// signShown is how a dimension stands in the table: one unit and as many digits
// behind the point in all of it.
var signShown = map[unit.Dimension]struct {
	unit     string
	of, zero float64 // its size in SI, and its zero in it
	digits   int
}{
	unit.Pressure:           {"bar abs", 1e5, 0, 2},
	unit.PressureDifference: {"bar", 1e5, 0, 3},
	unit.Ratio:              {"", 1, 0, 3},
	unit.Length:             {"mm", 1e-3, 0, 2},
	unit.Temperature:        {"degC", 1, 273.15, 0},
	unit.Current:            {"A", 1, 0, 2},
	unit.Time:               {"s", 1, 0, 3},
	unit.Volume:             {"L", 1e-3, 0, 2},
}

// signUnit is the unit of a column; "" where it has none.
func signUnit(c live.SignColumn) string {
	if c.Yes || c.Count {
		return ""
	}
	return signShown[c.Dim].unit
}

// folded breaks a text into lines.
func folded(text string, width int) string {
	var b strings.Builder
	n := 0
	for i, word := range strings.Fields(text) {
		switch {
		case i > 0 && n+1+len(word) > width:
			b.WriteByte('\n')
			n = 0
		case i > 0:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += len(word)
	}
	return b.String()
}

// writeAligned writes a table of Markdown.
func writeAligned(b *strings.Builder, table [][]string) {
	widths := make([]int, len(table[0]))
	for _, line := range table {
		for i, cell := range line {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for k, line := range table {
		for i, cell := range line {
			b.WriteString("| " + cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+1))
		}
		b.WriteString("|\n")
		if k > 0 {
			continue
		}
		for _, n := range widths {
			b.WriteString("|" + strings.Repeat("-", n+2))
		}
		b.WriteString("|\n")
	}
}

// SignsCSV writes the same for programs: SI units, which stand in the head; empty
// is what does not happen.
func SignsCSV(w io.Writer, rows []live.SignRow) error {
	t := csv.NewWriter(w)
	head := []string{"plant", "fault", "part", "severity"}
	cols := live.SignColumns()
	for _, c := range cols {
		name := strings.ReplaceAll(c.Key, "-", "_")
		if u := unit.SI(c.Dim); u != "" {
			name += "_" + strings.ReplaceAll(u, " ", "_")
		}
		head = append(head, name)
	}
	if err := t.Write(head); err != nil {
		return err
	}
	for _, r := range rows {
		line := []string{r.Plant, r.Fault, r.Part, r.Severity}
		for _, c := range cols {
			text := ""
			if v := r.Values[c.Key]; !math.IsNaN(v) {
				text = strconv.FormatFloat(v, 'g', 9, 64)
			}
			line = append(line, text)
		}
		if err := t.Write(line); err != nil {
			return err
		}
	}
	t.Flush()
	return t.Error()
}
