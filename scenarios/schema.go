//go:build !js

package scenarios

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"underdisc/model/fault"
	"underdisc/model/plant"
	"underdisc/model/procedure"
	"underdisc/model/unit"
)

// Schema returns the JSON Schema (2020-12) of a scenario file, made from the
// same structures that the loader fills. An editor can complete and check
// with it. It is the coarser of the two: it knows neither the spellings of
// units nor what an included file gives. What the loader takes, it takes too,
// save for numbers and true or false in quotes where they need none, and
// titles that are bare numbers.
func Schema() ([]byte, error) {
	root := object("A scenario: a plant, what happens to it, and what must be seen.",
		"name", word("The name of the scenario."),
		"title", text("A title in a few words."),
		"about", text("A few sentences about the run."),
		"include", text("The name of an embedded scenario, or the path of a file, that this one builds on."),
		"until", quantity("How long the run lasts.", unit.Time, plant.Range{Lo: 0, Hi: longest, OpenLo: true}),
		"plant", plantSchema(),
		"faults", listOf("Faults; a list here takes the place of the included file's.", faultSchema()),
		"hidden", hiddenSchema(),
		"commands", listOf("Parameters that are set during the run; a list here takes the place of the included file's.", commandSchema()),
		"shows", showsSchema(),
		"log", logSchema(),
		"did", didSchema(),
	)
	root.Version = jsonschema.Version
	root.Title = "Scenario"
	root.Required = []string{"name", "title"}
	root.Definitions = jsonschema.Definitions{}
	whole := &jsonschema.Schema{Required: []string{"kind"}}
	for _, k := range plant.Kinds() {
		fields := plant.FieldsOf(reflect.TypeOf(k.New()))
		root.Definitions[k.Name] = block(k.Doc, fields, "kind", &jsonschema.Schema{Const: k.Name})
		complete := required(fields)
		whole.AllOf = append(whole.AllOf, &jsonschema.Schema{If: ofKind(k.Name), Then: complete})
	}
	root.Definitions["whole-part"] = whole
	// A file that includes nothing gives everything itself.
	root.If = &jsonschema.Schema{Not: &jsonschema.Schema{Required: []string{"include"}}}
	root.Then = keyed("plant", &jsonschema.Schema{AdditionalProperties: ref("whole-part")})
	root.Then.Required = []string{"until", "plant"}
	root.DependentRequired = map[string][]string{"log": {"did"}, "did": {"log"}}
	return json.MarshalIndent(root, "", "  ")
}

// plantSchema checks a part by its kind; a part that leaves its kind to the
// included file must fit one of the kinds.
func plantSchema() *jsonschema.Schema {
	kind := &jsonschema.Schema{Description: "The kind of part."}
	part := keyed("kind", kind)
	part.Type = "object"
	some := &jsonschema.Schema{}
	for _, k := range plant.Kinds() {
		kind.Enum = append(kind.Enum, k.Name)
		some.AnyOf = append(some.AnyOf, ref(k.Name))
		part.AllOf = append(part.AllOf, &jsonschema.Schema{If: ofKind(k.Name), Then: ref(k.Name)})
	}
	part.AllOf = append(part.AllOf, &jsonschema.Schema{
		If:   &jsonschema.Schema{Not: &jsonschema.Schema{Required: []string{"kind"}}},
		Then: some,
	})
	return &jsonschema.Schema{
		Type:                 "object",
		Description:          "The parts, by name. A part that the included file has needs only what changes.",
		PropertyNames:        &jsonschema.Schema{Pattern: wordPattern},
		AdditionalProperties: part,
	}
}

// block is the schema of a group of keys, none of them required.
func block(doc string, fields []plant.Field, also ...any) *jsonschema.Schema {
	out := object(doc, also...)
	for _, f := range fields {
		out.Properties.Set(f.Key, field(f))
	}
	return out
}

func field(f plant.Field) *jsonschema.Schema {
	switch {
	case f.Optional:
		return &jsonschema.Schema{
			Description: f.Doc + "; null takes it away from the included file's part",
			AnyOf:       []*jsonschema.Schema{block(f.Doc, f.Block), {Type: "null"}},
		}
	case f.Block != nil:
		return block(f.Doc, f.Block)
	case f.Enum != nil:
		return oneWord(f.Doc, f.Enum)
	case f.Ref != nil:
		return word(f.Doc + "; the name of a " + strings.Join(f.Ref, " or "))
	}
	return quantity(f.Doc, f.Dim, f.Range)
}

// required asks for every key of a part that is not taken from elsewhere,
// and says nothing else.
func required(fields []plant.Field) *jsonschema.Schema {
	out := keyed()
	for _, f := range fields {
		if !f.Optional {
			out.Required = append(out.Required, f.Key)
		}
		if f.Block != nil { // holds for an optional block too, once it is there
			out.Properties.Set(f.Key, required(f.Block))
		}
	}
	return out
}

// quantity is a number with its unit. The description names the units; the
// pattern asks only that there be one, since units have several spellings.
func quantity(doc string, dim unit.Dimension, r plant.Range) *jsonschema.Schema {
	sign := "[-+]?"
	if r.Lo >= 0 && dim != unit.Pressure && dim != unit.Temperature { // whose zeros may lie elsewhere
		sign = "[+]?"
	}
	number := `^\s*` + sign + `([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?\s*`
	out := &jsonschema.Schema{
		Description: doc + "; " + unit.Noun(dim) + ", " + r.In(dim) + ", in " + strings.Join(unit.Units(dim), ", "),
		Examples:    []any{unit.Example(dim)},
	}
	if dim == unit.Ratio {
		bounds := &jsonschema.Schema{Type: "number"}
		if r.Lo >= 0 {
			bounds.Minimum = "0"
		}
		out.Description = doc + "; a plain number or one in %, " + r.In(dim)
		out.AnyOf = []*jsonschema.Schema{bounds, {Type: "string", Pattern: number + `(%|percent)?\s*$`}}
		return out
	}
	out.Type = "string"
	out.Pattern = number + `[^0-9\s.,+-].*$`
	return out
}

func faultSchema() *jsonschema.Schema {
	names := &jsonschema.Schema{Description: "The fault, from the catalogue."}
	for _, f := range fault.All() {
		names.OneOf = append(names.OneOf, &jsonschema.Schema{Const: f.Name, Description: f.About})
	}
	out := object("A fault.",
		"fault", names,
		"severity", value("The new value of the parameter that the fault sets; left out, the typical value of the catalogue."),
		"at", quantity("When it sets in; left out, it is there from the start.", unit.Time, plant.Range{Lo: 0, Hi: longest}),
		"on", word("The part it befalls; needed where several could be meant."),
	)
	out.Required = []string{"fault"}
	return out
}

func commandSchema() *jsonschema.Schema {
	names := &jsonschema.Schema{Description: "The procedure."}
	for _, d := range procedure.All() {
		names.OneOf = append(names.OneOf, &jsonschema.Schema{Const: d.Name, Description: d.About})
	}
	do := object("Does a procedure, beginning at a time.",
		"at", quantity("When it begins.", unit.Time, plant.Range{Lo: 0, Hi: longest}),
		"do", names,
		"on", word("The valve; needed where there are several of its kind."),
	)
	do.Required = []string{"at", "do"}
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{settingSchema(), do}}
}

func settingSchema() *jsonschema.Schema {
	out := object("Sets a parameter at a time.",
		"at", quantity("When.", unit.Time, plant.Range{Lo: 0, Hi: longest}),
		"set", &jsonschema.Schema{Type: "string", Description: "The path of the parameter.", Pattern: pathPattern, Examples: []any{"inflow.mass-flow"}},
		"to", value("The new value, with its unit."),
	)
	out.Required = []string{"at", "set", "to"}
	return out
}

func showsSchema() *jsonschema.Schema {
	one, two := uint64(1), uint64(2)
	times := plant.Range{Lo: 0, Hi: longest}
	whole := func(doc string) *jsonschema.Schema {
		return &jsonschema.Schema{Type: "integer", Minimum: "0", Description: doc}
	}
	some := func(doc string, words []string, least *uint64) *jsonschema.Schema {
		out := listOf(doc, oneWord("", words))
		out.MinItems, out.UniqueItems = least, true
		return out
	}
	events := func(doc string, least *uint64) *jsonschema.Schema {
		out := listOf(doc, eventWord(""))
		out.MinItems, out.UniqueItems = least, true
		return out
	}
	lifts := object("How often the disc leaves its seat, or a spring-loaded valve pops.",
		"at-least", whole("No fewer."), "at-most", whole("No more."), "exactly", whole("Just as many; alone."))
	lifts.MinProperties = &one
	first := object("When an event first happens.",
		"event", eventWord("The event."),
		"after", quantity("Not before this.", unit.Time, times),
		"before", quantity("Not after this.", unit.Time, times))
	first.Required, first.MinProperties = []string{"event"}, &two
	final := object("Bounds on a quantity of the last record.",
		"quantity", &jsonschema.Schema{Type: "string", Description: "Its path.", Pattern: pathPattern, Examples: []any{"vessel.pressure"}},
		"at-least", value("No less than this, with its unit."),
		"at-most", value("No more than this, with its unit."))
	final.Required, final.MinProperties = []string{"quantity"}, &two
	firsts, finals := listOf("When events first happen.", first), listOf("Bounds on the last record.", final)
	firsts.MinItems, finals.MinItems = &one, &one
	out := object("What the run must show.",
		"lifts", lifts,
		"state-at-end", some("What the valve may be doing at the end.", slices.Concat(States(), SpringStates()), &one),
		"link-at-end", oneWord("The link that holds the valve at the end.", Links()),
		"seated-at-end", &jsonschema.Schema{Type: "boolean", Description: "Whether the disc rests on its seat at the end."},
		"valves", ofValveSchema(lifts, some, &one),
		"never", events("Events that must not happen.", &one),
		"order", events("Events in the order in which they first happen.", &two),
		"first", firsts,
		"final", finals,
	)
	out.MinProperties = &one
	return out
}
