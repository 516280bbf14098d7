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
healthy plant by more than careful reading would miss is **bold**; a dash is what does not happen: a valve that hangs open does
not lift.

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
	case c.Dim == unit.Current && math.Abs(v) < 1e-6, c.Dim == unit.Length && math.Abs(v) < 1e-9:
		v = 0 // what is left of a decay
	}
	return fewDigits(unit.Format(v, c.Dim))
}

// fewDigits keeps four digits of a number with its unit.
func fewDigits(text string) string {
	number, rest, spaced := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.Abs(v) >= 1e4 {
		return text
	}
	out := strconv.FormatFloat(v, 'g', 4, 64)
	if spaced {
		out += " " + rest
	}
	return out
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
