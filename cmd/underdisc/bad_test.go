package main

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func regexpQuote(s string) string { return regexp.QuoteMeta(s) }

const goodHead = "name: mine\ntitle: My own\ninclude: gas-bench\n"

// Each kind of bad scenario ends run and check with status 2 and one line that
// says where and what, and nothing is written.
func TestBadScenarios(t *testing.T) {
	for _, c := range []struct {
		name, text string
		says       []string
	}{
		{"unknown key", goodHead + "plant: {vessel: {volumne: 5 m3}}\n", []string{"mine.yaml:4:", "volumne", "nearest is volume"}},
		{"wrong dimension", goodHead + "plant: {vessel: {volume: 5 mm2}}\n", []string{"mine.yaml:4:", "vessel.volume", "is an area"}},
		{"missing unit", goodHead + "plant: {vessel: {volume: 5}}\n", []string{"mine.yaml:4:", "vessel.volume", "has no unit"}},
		{"negative volume", goodHead + "plant: {vessel: {volume: -5 m3}}\n", []string{"mine.yaml:4:", "vessel.volume", "more than 0"}},
		{"seat larger than guide", goodHead + "plant: {valve: {seat: {diameter: 80 mm}}}\n", []string{"mine.yaml:4:", "valve.seat.diameter", "70 mm"}},
		{"reset above set", goodHead + "plant: {switch: {reset: 12.5 bar abs}}\n", []string{"mine.yaml:4:", "switch.reset", "12.5 bar abs"}},
		{"duplicate key", goodHead + "until: 5 s\nuntil: 6 s\n", []string{"mine.yaml:5:", "until", "a second time"}},
		{"wrong YAML", "name: mine\ntitle: a: b\n", []string{"mine.yaml:2:", "not YAML"}},
		{"unknown fault", goodHead + "faults: [{fault: pilot-leeks}]\n", []string{"mine.yaml:4:", "pilot-leeks", "pilot-leaks"}},
		{"unreadable file", "", []string{"mine.yaml", "cannot be read"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := inFolder(t)
			if c.text != "" {
				require.NoError(t, os.WriteFile("mine.yaml", []byte(c.text), 0o600))
			} else {
				require.NoError(t, os.Mkdir("mine.yaml", 0o755)) // unreadable for any user
			}
			for _, args := range [][]string{
				{"run", "./mine.yaml", "--out", "results"},
				{"run", "./mine.yaml", "--json"},
				{"check", "./mine.yaml"},
			} {
				status, out, errs := call(t, t.Context(), args...)
				assert.Equal(t, exitBadInput, status, errs)
				assert.Empty(t, out)
				isOneLine(t, errs)
				for _, s := range c.says {
					assert.Contains(t, errs, s)
				}
				empty(t, dir, "mine.yaml")
			}
		})
	}
}

func TestGoodFile(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mine.yaml", []byte(goodHead+"until: 3 s\n"), 0o600))
	status, out, errs := call(t, t.Context(), "check", "mine.yaml")
	assert.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "mine.yaml is sound: mine,")
	status, out, errs = call(t, t.Context(), "run", "mine.yaml")
	assert.Equal(t, exitGood, status, errs)
	assert.Contains(t, out, "scenario mine, 3 s")
}
