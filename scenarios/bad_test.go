package scenarios

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// on is a scenario on the bench: the text given starts on line 4.
func on(text string) string { return head + "include: gas-bench\n" + text }

// A bad file, and what must be said about it.
type bad struct {
	name      string
	text      string
	file      string // if not t.yaml
	line, col int
	key       string
	found     string // a part of it
	want      string // a part of it
}

var badFiles = []bad{
	// YAML
	{name: "not YAML", text: "name: t\ntitle: t: t\n", line: 2, col: 8, found: "not YAML", want: "key: value"},
	{name: "indented by a tab", text: "name: t\nplant:\n\tgas: 5\n", line: 3, col: 1, found: "not YAML", want: "spaces"},
	{name: "brace left open", text: "plant: {gas: {\n", line: 1, col: 14, found: "not YAML"},
	{name: "empty file", text: "", line: 1, col: 1, found: "an empty file", want: "a scenario"},
	{name: "only a comment", text: "# nothing\n", line: 1, col: 1, found: "an empty file"},
	{name: "a list", text: "# none\n- name: t\n", line: 2, col: 1, found: "a list", want: "keys such as name"},
	{name: "a word", text: "gas-bench\n", line: 1, col: 1, found: `"gas-bench"`, want: "a scenario"},
	{name: "two documents", text: head + "---\nname: u\n", line: 3, col: 1, found: "second document", want: "one document"},
	{name: "text after the end", text: head + "...\nname: u\n", line: 3, col: 1, found: "end of a document", want: "one document"},
	{name: "directive", text: "%YAML 1.2\n---\nname: t\n", line: 1, col: 1, found: "directive"},
	{name: "anchor", text: on("until: &u 5 s\n"), line: 4, col: 8, found: "anchor", want: "written out"},
	{name: "alias", text: on("until: *u\n"), line: 4, col: 8, found: "alias"},
	{name: "tag", text: on("until: !!str 5 s\n"), line: 4, col: 8, found: "tag"},
	{name: "merge key", text: on("plant:\n  <<: {}\n"), line: 5, col: 3, found: "merge key", want: "include"},
	{name: "key of several values", text: on("? [a]\n: b\n"), line: 5, col: 1, found: "not YAML"},
	{name: "question mark key", text: on("? a\n: b\n"), line: 4, col: 1, found: "a key that is not a word"},
	{name: "not UTF-8", text: "name: t\ntitle: \xff\n", line: 2, col: 8, found: "not UTF-8"},
	{name: "control character", text: "name: t\ntitle: a\x00b\n", line: 2, col: 9, found: "U+0000"},
	{name: "deep flow", text: on("plant: " + strings.Repeat("[", 40) + "\n"), line: 4, col: 40, found: "too many levels"},
	{name: "deep list", text: on("plant:\n" + strings.Repeat("- ", 200) + "a\n"), line: 5, col: 201, found: "too many levels"},
	{name: "many lines", text: on(strings.Repeat("\n", 10000)), line: 10001, col: 1, found: "more than 10000 lines", want: "a smaller file"},
	{name: "many words", text: on("faults: [" + strings.Repeat("a, ", 20000) + "]\n"), line: 4, col: 29992, found: "more than 20000", want: "a smaller file"},

	// keys
	{name: "key twice", text: on("until: 5 s\nuntil: 6 s\n"), line: 5, col: 1, found: `"until" a second time (first on line 4)`, want: "each key once"},
	{name: "key twice in braces", text: on("plant: {vessel: {volume: 1 m3, volume: 2 m3}}\n"), line: 4, col: 32, found: `"volume" a second time (first on line 4)`},
	{name: "unknown key of the file", text: on("untli: 5 s\n"), line: 4, col: 1, key: "untli", found: `unknown key "untli"`, want: "nearest is until"},
	{name: "unknown key over two lines", text: on("\"a\\nb\": 5 s\n"), line: 4, col: 1, key: "a\nb", found: `unknown key "a\nb"`},
	{name: "unknown key that is long", text: on(strings.Repeat("k", 500) + ": 5 s\n"), line: 4, col: 1, key: strings.Repeat("k", 80) + "...", found: "unknown key"},
	{name: "unknown key of a part", text: on("plant:\n  vessel:\n    volumne: 5 m3\n"), line: 6, col: 5, key: "vessel.volumne", found: "unknown key", want: "nearest is volume"},
	{name: "unknown key of a block", text: on("plant:\n  valve:\n    seat: {diametre: 50 mm}\n"), line: 6, col: 12, key: "valve.seat.diametre", want: "nearest is diameter"},
	{name: "unknown key far from any", text: on("plant: {vessel: {xyzzy: 5}}\n"), line: 4, col: 18, key: "vessel.xyzzy", want: "one of kind, volume, pressure, temperature"},
	{name: "unknown kind", text: on("plant:\n  drum: {kind: vesel}\n"), line: 5, col: 16, key: "drum.kind", found: `"vesel"`, want: "nearest is vessel"},
	{name: "kind left out", text: on("plant:\n  drum: {volume: 5 m3}\n"), line: 5, col: 3, key: "drum.kind", found: "nothing", want: "vessel"},
	{name: "kind other than the base's", text: on("plant:\n  vessel: {kind: inflow}\n"), line: 5, col: 18, key: "vessel.kind", found: `"inflow", but the base says vessel (built-in/gas-bench.yaml:`, want: "another name"},
	{name: "name of a part", text: on("plant:\n  North Valve: {kind: site}\n"), line: 5, col: 3, key: "North Valve", found: `"North Valve"`, want: "lower-case"},
	{name: "part without keys", text: on("plant:\n  vessel:\n"), line: 5, col: 3, key: "vessel", found: "nothing"},
	{name: "part taken away", text: on("plant:\n  vessel: null\n"), line: 5, col: 11, key: "vessel", found: "null"},
	{name: "plant is a word", text: on("plant: steel\n"), line: 4, col: 8, key: "plant", found: `"steel"`, want: "parts"},

	// what is missing
	{name: "no name", text: "title: t\ninclude: gas-bench\n", line: 1, col: 1, key: "name", found: "nothing", want: "gas-bench"},
	{name: "no title", text: "name: t\ninclude: gas-bench\n", line: 1, col: 1, key: "title", found: "nothing"},
	{name: "no until", text: head + "plant: {gas: {kind: site, gravity: 0 m/s2}}\n", line: 1, col: 1, key: "until", found: "nothing", want: "a time such as"},
	{name: "no plant", text: head + "until: 5 s\n", line: 1, col: 1, key: "plant", found: "nothing", want: "include"},
	{name: "value missing in a part", text: on("plant:\n  drum:\n    kind: vessel\n    volume: 5 m3\n    pressure: 3 bar abs\n"), line: 5, col: 3, key: "drum.temperature", found: "nothing", want: "a temperature such as"},
	{name: "value missing in a block", text: on("plant:\n  valve:\n    guide: {clearance: 20 um}\n"), line: 6, col: 5, key: "valve.guide.length", found: "nothing", want: "a length such as"},
	{name: "value left blank", text: on("plant:\n  vessel:\n    volume:\n"), line: 6, col: 5, key: "vessel.volume", found: "nothing", want: "a volume such as"},
	{name: "value null", text: on("plant:\n  vessel:\n    volume: null\n"), line: 6, col: 13, key: "vessel.volume", found: "null", want: "a volume such as"},
	{name: "needed block null", text: on("plant:\n  valve:\n    seat: ~\n"), line: 6, col: 11, key: "valve.seat", found: "null", want: "diameter"},
	{name: "optional block left blank", text: on("plant:\n  line:\n    block-valve:\n"), line: 6, col: 5, key: "line.block-valve", found: "nothing", want: "opening"},
	{name: "block is a word", text: on("plant:\n  valve:\n    seat: 50 mm\n"), line: 6, col: 11, key: "valve.seat", found: `"50 mm"`, want: "diameter"},
	{name: "value is a group", text: on("plant:\n  vessel:\n    volume: {at: 5 m3}\n"), line: 6, col: 13, key: "vessel.volume", found: "a group of keys", want: "a volume such as"},
	{name: "value is a list", text: on("plant:\n  vessel:\n    volume: [5 m3]\n"), line: 6, col: 13, key: "vessel.volume", found: "a list", want: "a volume such as"},

	// values
	{name: "no unit", text: on("plant:\n  valve:\n    seat:\n      diameter: 50\n"), line: 7, col: 17, key: "valve.seat.diameter", found: `"50"`, want: "a length such as 50 mm"},
	{name: "wrong dimension", text: on("plant: {valve: {seat: {diameter: 50 mm2}}}\n"), line: 4, col: 34, key: "valve.seat.diameter", found: `"50 mm2" (is an area)`, want: "a length such as 50 mm"},
	{name: "unknown unit", text: on("plant: {vessel: {volume: 5 buckets}}\n"), line: 4, col: 26, key: "vessel.volume", found: `"5 buckets" (has an unknown unit)`, want: "m3"},
	{name: "neither gauge nor absolute", text: on("plant: {switch: {set: 12 bar}}\n"), line: 4, col: 23, key: "switch.set", found: `"12 bar"`, want: "bar abs"},
	{name: "negative volume", text: on("plant: {vessel: {volume: -5 L}}\n"), line: 4, col: 26, key: "vessel.volume", found: `"-5 L"`, want: "more than 0 L and at most 1e9 L"},
	{name: "ratio above its range", text: on("plant: {valve: {disc: {restitution: 1}}}\n"), line: 4, col: 37, key: "valve.disc.restitution", found: `"1"`, want: "at least 0 and less than 1"},
	{name: "percent above its range", text: on("plant: {valve: {disc: {restitution: 120 %}}}\n"), line: 4, col: 37, key: "valve.disc.restitution", found: `"120 %"`, want: "at least 0 % and less than 100 %"},
	{name: "infinity", text: on("plant: {vessel: {volume: .inf}}\n"), line: 4, col: 26, key: "vessel.volume", found: `".inf"`, want: "a volume such as"},
	{name: "not a number", text: on("plant: {valve: {disc: {restitution: .nan}}}\n"), line: 4, col: 37, key: "valve.disc.restitution", found: `".nan"`, want: "number"},
	{name: "too large a number", text: on("plant: {vessel: {volume: 1e999 m3}}\n"), line: 4, col: 26, key: "vessel.volume", found: `"1e999 m3"`, want: "a volume"},
	{name: "unknown word", text: on("plant: {valve: {disc: {friction-law: stiking}}}\n"), line: 4, col: 38, key: "valve.disc.friction-law", found: `"stiking"`, want: "one of smoothed, sticking; nearest is sticking"},
	{name: "until without a unit", text: on("until: 60\n"), line: 4, col: 8, key: "until", found: `"60"`, want: "a time such as"},
	{name: "until zero", text: on("until: 0 s\n"), line: 4, col: 8, key: "until", found: `"0 s"`, want: "more than 0 s and at most 10000000 s"},
	{name: "name of the scenario", text: "name: My Run\ntitle: t\ninclude: gas-bench\n", line: 1, col: 7, key: "name", found: `"My Run"`, want: "lower-case"},
	{name: "blank title", text: "name: t\ntitle: ' '\ninclude: gas-bench\n", line: 2, col: 8, key: "title", found: `" "`, want: "a title"},

	// what a plant says about itself
	{name: "seat larger than guide", text: on("plant:\n  valve:\n    seat: {diameter: 80 mm}\n    disc: {guide-diameter: 75 mm}\n"), line: 6, col: 22, key: "valve.seat.diameter", found: "80 mm", want: "less than 75 mm"},
	{name: "guide smaller than the base's seat", text: on("plant:\n  valve:\n    disc: {guide-diameter: 40 mm}\n"), line: 5, col: 3, key: "valve.seat.diameter", found: "50 mm, which leaves no ring inside the guide of 40 mm", want: "less than 40 mm"},
	{name: "seat wider than the base's guide", text: on("plant:\n  valve:\n    seat: {diameter: 80 mm}\n"), line: 6, col: 22, key: "valve.seat.diameter", found: "80 mm", want: "less than 70 mm"},
	{name: "reset above set", text: on("plant:\n  switch:\n    set: 12 bar abs\n    reset: 12.5 bar abs\n"), line: 7, col: 12, key: "switch.reset", found: "12.5 bar abs", want: "12 bar abs"},
	{name: "set below the base's reset", text: on("plant:\n  switch:\n    set: 11 bar abs\n"), line: 5, col: 3, key: "switch.reset", found: "11.3 bar abs", want: "less than 11 bar abs"},
	{name: "a second site", text: on("plant:\n  other: {kind: site, gravity: 1 m/s2}\n"), line: 5, col: 3, key: "other", found: "a second site", want: "just one"},
	{name: "no gas", text: head + "until: 1 s\nplant:\n  here: {kind: site, gravity: 1 m/s2}\n", line: 4, col: 1, key: "ideal-gas", found: "not in this plant", want: "one part"},
	{name: "no part of that name", text: on("plant:\n  inflow: {into: drum}\n"), line: 5, col: 18, key: "inflow.into", found: "drum", want: "vessel"},
	{name: "part of another kind", text: on("plant:\n  inflow:\n    into: valve\n"), line: 6, col: 11, key: "inflow.into", found: "piloted-valve", want: "vessel"},

	// includes
	{name: "include is a group", text: head + "include: {a: b}\n", line: 3, col: 10, key: "include", found: "a group of keys", want: "the path of a file"},
	{name: "include of no scenario", text: head + "include: gas-benhc\n", line: 3, col: 10, key: "include", found: `"gas-benhc", which cannot be read`, want: "nearest is gas-bench"},
	{name: "include over two lines", text: head + "include: \"a\\nb\"\n", line: 3, col: 10, key: "include", found: `"a\nb"`},
	{name: "include of no file", text: head + "include: ./no-such-file.yaml\n", line: 3, col: 10, key: "include", found: "no such file", want: "the path"},
}

func TestBadFiles(t *testing.T) {
	for _, b := range badFiles {
		t.Run(b.name, func(t *testing.T) { b.check(t) })
	}
}

func (b bad) check(t *testing.T) {
	t.Helper()
	s, err := Parse("t.yaml", []byte(b.text), open)
	require.Error(t, err)
	assert.Nil(t, s)
	var e *Error
	require.ErrorAs(t, err, &e)
	if b.file == "" {
		b.file = "t.yaml"
	}
	assert.Equal(t, fmt.Sprintf("%s:%d:%d", b.file, b.line, b.col), fmt.Sprintf("%s:%d:%d", e.File, e.Line, e.Column), "%v", e)
	assert.Equal(t, b.key, e.Key)
	assert.Contains(t, e.Found, b.found)
	assert.Contains(t, e.Want, b.want)
	assert.NotContains(t, err.Error(), "\n", "an error is one line")
}

func TestErrorIsOneLine(t *testing.T) {
	_, err := Parse("gas.yaml", []byte(on("plant:\n  valve:\n    seat:\n      diameter: 50 s\n")), open)
	require.EqualError(t, err, `gas.yaml:7:17: valve.seat.diameter: found "50 s" (is a time), want a length such as 50 mm`)

	_, err = Parse("gas.yaml", make([]byte, maxBytes+1), open)
	require.EqualError(t, err, "gas.yaml: found more than 1048576 bytes, want a smaller file")

	_, err = Parse("gas.yaml", []byte(on("")), nil)
	require.EqualError(t, err, `gas.yaml:3:10: include: found "gas-bench", want no include: there is nowhere to look for it`)
}

// An error in a file that is included names that file.
func TestBadIncludes(t *testing.T) {
	files := map[string]string{
		"circle.yaml": "include: ./t.yaml\n",
		"self.yaml":   "include: ./self.yaml\n",
		"value.yaml":  "include: gas-bench\nplant:\n  vessel: {volume: 5 kg}\n",
		"syntax.yaml": "a: b: c\n",
		"key.yaml":    "include: gas-bench\nuntill: 5 s\n",
	}
	for i := range 10 {
		files[fmt.Sprintf("deep-%d.yaml", i)] = fmt.Sprintf("# %d\ninclude: ./deep-%d.yaml\n", i, i+1)
	}
	look := func(name string) (string, []byte, error) {
		if text, ok := files[name]; ok {
			return name, []byte(text), nil
		}
		return open(name)
	}
	for _, b := range []bad{
		{name: "circle", text: "circle.yaml", file: "circle.yaml", line: 1, col: 10, key: "include", found: "leads back to t.yaml", want: "circle"},
		{name: "circle of one", text: "self.yaml", file: "self.yaml", line: 1, col: 10, key: "include", found: "leads back to self.yaml"},
		{name: "too deep", text: "deep-0.yaml", file: "deep-6.yaml", line: 2, col: 10, key: "include", found: "more than 8 files", want: "shorter"},
		{name: "value", text: "value.yaml", file: "value.yaml", line: 3, col: 20, key: "vessel.volume", found: "is a mass"},
		{name: "syntax", text: "syntax.yaml", file: "syntax.yaml", line: 1, col: 4, found: "not YAML"},
		{name: "key", text: "key.yaml", file: "key.yaml", line: 2, col: 1, key: "untill", want: "nearest is until"},
	} {
		t.Run(b.name, func(t *testing.T) {
			files["t.yaml"] = head + "include: ./" + b.text + "\n"
			_, err := Parse("t.yaml", []byte(files["t.yaml"]), look)
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.Equal(t, fmt.Sprintf("%s:%d:%d", b.file, b.line, b.col), fmt.Sprintf("%s:%d:%d", e.File, e.Line, e.Column), "%v", e)
			assert.Equal(t, b.key, e.Key)
			assert.Contains(t, e.Found, b.found)
			assert.Contains(t, e.Want, b.want)
		})
	}
}
