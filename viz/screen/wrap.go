package screen

import "strings"

// wrap breaks a text into lines no wider than a width, px.
func (l *look) wrap(base float64, bold bool, words string, width int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(words) {
		longer := w
		if line != "" {
			longer = line + " " + w
		}
		if line != "" && l.width(base, bold, longer) > width {
			out = append(out, line)
			longer = w
		}
		line = longer
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
