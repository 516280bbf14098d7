package report

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios/live"
)

// The page gives a column one unit, in its head, and its cells as many decimals,
// however small what is left of a decay; pA and pB are said once.
func TestSignsPageUnits(t *testing.T) {
	values := []float64{12.63, -2400, 1e-13, 5e-129, 1e6, math.NaN(), 0.5, -3e-9}
	var rows []live.SignRow
	for i, v := range values {
		row := live.SignRow{Plant: "a-plant", Fault: []string{"", "some-fault"}[min(i, 1)], Values: map[string]float64{}}
		for _, c := range live.SignColumns() {
			row.Values[c.Key] = v
		}
		rows = append(rows, row)
	}
	var b strings.Builder
	require.NoError(t, SignsPage(&b, rows, "v"))
	page := b.String()
	assert.Equal(t, 1, strings.Count(page, "pA is the pressure"))
	for _, head := range []string{"vessel, bar abs", "switch gauge less vessel, bar", "selector to lift, s", "fuse not blown", "peak at the tailpipe's lowest point, degC"} {
		assert.Contains(t, page, head)
	}
	assert.Contains(t, page, "140 s after the load is lost")
	cell := regexp.MustCompile(`^(–|yes|no|-?\d+(\.\d+)?)$`)
	for line := range strings.Lines(page) {
		if !strings.HasPrefix(line, "|") || strings.HasPrefix(line, "|-") || strings.Contains(line, "severity") {
			continue
		}
		for _, text := range strings.Split(strings.Trim(line, "| \n"), "|")[2:] {
			text = strings.Trim(text, " *")
			assert.Regexp(t, cell, text)
			assert.NotRegexp(t, `^-0(\.0*)?$`, text)
		}
	}
}
