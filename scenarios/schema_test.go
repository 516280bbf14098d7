package scenarios

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/model/plant"
)

func compileSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := Schema()
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("scenario.json", doc))
	schema, err := c.Compile("scenario.json") // also checks it against the schema of schemas
	require.NoError(t, err)
	return schema
}

// validate holds YAML against the schema, as an editor does.
func validate(t *testing.T, schema *jsonschema.Schema, text []byte) error {
	t.Helper()
	var v any
	require.NoError(t, yaml.Unmarshal(text, &v))
	data, err := json.Marshal(v)
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return schema.Validate(doc)
}

func TestSchemaAcceptsWhatLoads(t *testing.T) {
	schema := compileSchema(t)
	for _, name := range Names() {
		t.Run(name, func(t *testing.T) {
			_, data, err := openEmbedded(name)
			require.NoError(t, err)
			assert.NoError(t, validate(t, schema, data))
		})
	}
	for name, text := range map[string]string{
		"spellings of units":  "plant: {vessel: {volume: 5e3litre, pressure: 160 psig, temperature: -10 °C}}",
		"gauge below zero":    "plant: {surroundings: {pressure: -0.1 bar g}}",
		"percent":             "plant: {valve: {disc: {restitution: 30 %}}}",
		"ratio as a word":     "plant: {valve: {disc: {restitution: '0.3'}}}",
		"part with its kind":  "plant: {vessel: {kind: vessel, volume: 4 m3}}",
		"block taken away":    "plant: {line: {block-valve: null}}",
		"fault and commands":  "faults: [{fault: bleed-plugged, severity: 1 mm2, at: 3 s, on: valve}]\ncommands: [{at: 1 s, set: valve.disc.restitution, to: 0.5}]",
		"lists that are bare": "faults: []\ncommands: []",
		"everything shown": `
shows:
  lifts: {at-least: 1, at-most: 3}
  state-at-end: [shut, leaking]
  link-at-end: pilot
  seated-at-end: false
  never: [coil-on]
  order: [switch-made, disc-lift]
  first: [{event: disc-lift, after: 2 s, before: 2500 ms}]
  final: [{quantity: valve.lift-share, at-least: 0, at-most: 5 %}]`,
	} {
		t.Run(name, func(t *testing.T) {
			text = on(text)
			_, err := Parse("t.yaml", []byte(text), open)
			require.NoError(t, err, "the loader takes it")
			assert.NoError(t, validate(t, schema, []byte(text)), "so must the schema")
		})
	}
}

// A log, and a scenario with hidden faults, fit the schema too.
func TestSchemaAcceptsLogs(t *testing.T) {
	schema := compileSchema(t)
	s := hiding(t, "word", fault.Entry{Name: "pilot-leaks", At: 2})
	assert.NoError(t, validate(t, schema, []byte(s.Text())))
	text := s.LogHead(1e-8)
	assert.NoError(t, validate(t, schema, []byte(text)), "nothing done yet")
	six := 6e-6
	for _, a := range []Action{
		{Command: &Command{At: 3, Path: "inflow.mass-flow", Value: plant.Value{Number: 1.0 / 3}}},
		{Command: &Command{At: 3, Path: "relay.selector.position", Value: plant.Value{Word: "off"}}},
		{Fault: &fault.Entry{Name: "bleed-plugged", Severity: &six, Part: "valve", At: 4}},
		{Fault: &fault.Entry{Name: "spring-weak", At: 5}, Hidden: true},
	} {
		line, err := s.LogLine(a)
		require.NoError(t, err)
		text += line
	}
	text += ReachedLine(7.25)
	_, err := Parse("log", []byte(text), nil)
	require.NoError(t, err)
	assert.NoError(t, validate(t, schema, []byte(text)))
	for name, bad := range map[string]string{
		"another format":     strings.Replace(text, "format: 1", "format: 2", 1),
		"no mark":            strings.Replace(text, "\nlog:\n  format: 1\n  tolerance: 1e-8\n", "\n", 1),
		"an unknown key":     strings.Replace(text, "{reached: ", "{reachd: ", 1),
		"two things in one":  strings.Replace(text, "{reached: 7.25 s}", "{reached: 7.25 s, hidden: a}", 1),
		"no text that hides": strings.Replace(text, "hidden:\n  - \"", "hidden:\n  - \"!", 1),
	} {
		require.NotEqual(t, text, bad, name)
		_, err := Parse("log", []byte(bad), nil)
		assert.Error(t, err, name)
		assert.Error(t, validate(t, schema, []byte(bad)), name)
	}
}

func TestSchemaRefuses(t *testing.T) {
	schema := compileSchema(t)
	for name, text := range map[string]string{
		"unknown key of the file":  on("untli: 5 s"),
		"unknown key of a part":    on("plant: {vessel: {volumne: 5 m3}}"),
		"unknown key with a kind":  on("plant: {vessel: {kind: vessel, volumne: 5 m3}}"),
		"unknown key of a block":   on("plant: {valve: {seat: {diametre: 50 mm}}}"),
		"keys of two kinds":        on("plant: {vessel: {volume: 5 m3, mass-flow: 1 kg/s}}"),
		"key of another kind":      on("plant: {vessel: {kind: vessel, mass-flow: 1 kg/s}}"),
		"unknown kind":             on("plant: {vessel: {kind: vesel}}"),
		"name of a part":           on("plant: {North Valve: {volume: 5 m3}}"),
		"no unit":                  on("plant: {vessel: {volume: 5}}"),
		"no unit, as a word":       on("plant: {vessel: {volume: '5'}}"),
		"negative volume":          on("plant: {vessel: {volume: -5 m3}}"),
		"unit for a ratio":         on("plant: {valve: {disc: {restitution: 3 mm}}}"),
		"negative ratio":           on("plant: {valve: {disc: {restitution: -0.3}}}"),
		"unknown word":             on("plant: {valve: {disc: {friction-law: stiking}}}"),
		"needed block null":        on("plant: {valve: {seat: null}}"),
		"block is a word":          on("plant: {valve: {seat: 50 mm}}"),
		"unknown fault":            on("faults: [{fault: bleed-pluged}]"),
		"command without a value":  on("commands: [{at: 1 s, set: inflow.mass-flow}]"),
		"time below zero":          on("commands: [{at: -1 s, set: inflow.mass-flow, to: 0 kg/s}]"),
		"command to a part":        on("commands: [{at: 1 s, set: inflow, to: 0 kg/s}]"),
		"unknown event":            on("shows: {never: [disc-lifts]}"),
		"order of one":             on("shows: {order: [disc-lift]}"),
		"nothing shown":            on("shows: {}"),
		"no name":                  "title: t\ninclude: gas-bench",
		"no plant and no include":  head + "until: 5 s",
		"part that lacks a value":  head + "until: 5 s\nplant: {vessel: {kind: vessel, volume: 5 m3, pressure: 1 bar abs}}",
		"part that lacks its kind": head + "until: 5 s\nplant: {vessel: {volume: 5 m3, pressure: 1 bar abs, temperature: 300 K}}",
		"block that lacks a value": head + "until: 5 s\nplant: {relay: {kind: relay, switch: a, valve: b, pick-up: 0 s, drop-out: 0 s, supply: 1 V, selector: {}}}",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("t.yaml", []byte(text), open)
			require.Error(t, err, "the loader refuses it")
			assert.Error(t, validate(t, schema, []byte(text)), "so should the schema")
		})
	}
}

// The schema knows every kind, parameter and fault, with its words for people.
func TestSchemaIsComplete(t *testing.T) {
	data, err := Schema()
	require.NoError(t, err)
	var doc struct {
		Defs map[string]struct {
			Properties map[string]struct {
				Description string
			}
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(data, &doc))
	for _, k := range plant.Kinds() {
		require.Contains(t, doc.Defs, k.Name)
		for _, f := range plant.FieldsOf(reflect.TypeOf(k.New())) {
			assert.Contains(t, doc.Defs[k.Name].Properties[f.Key].Description, f.Doc, "%s.%s", k.Name, f.Key)
		}
	}
	for _, f := range fault.All() {
		assert.Contains(t, string(data), `"const": "`+f.Name+`"`)
	}
	assert.Contains(t, string(data), `"$schema": "https://json-schema.org/draft/2020-12/schema"`)
	again, err := Schema()
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again), "the same every time")
}
