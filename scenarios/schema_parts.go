//go:build !js

package scenarios

import "github.com/invopop/jsonschema"

// The small pieces that the schema of a scenario is put together from.

const (
	wordPattern = `^[a-z][a-z0-9]*(-[a-z0-9]+)*$`
	pathPattern = `^[a-z][a-z0-9]*(-[a-z0-9]+)*(\.[a-z][a-z0-9]*(-[a-z0-9]+)*)+$`
)

// object is a group of keys that takes no others; keys and their schemas come
// in pairs.
func object(doc string, pairs ...any) *jsonschema.Schema {
	out := keyed(pairs...)
	out.Type, out.Description, out.AdditionalProperties = "object", doc, jsonschema.FalseSchema
	return out
}

// keyed checks the values of some keys, if they are there, and nothing else.
func keyed(pairs ...any) *jsonschema.Schema {
	out := &jsonschema.Schema{Properties: jsonschema.NewProperties()}
	for i := 0; i+1 < len(pairs); i += 2 {
		out.Properties.Set(pairs[i].(string), pairs[i+1].(*jsonschema.Schema))
	}
	return out
}

func listOf(doc string, item *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "array", Description: doc, Items: item}
}

func text(doc string) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Description: doc, Pattern: `\S`}
}

func word(doc string) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Description: doc, Pattern: wordPattern}
}

func oneWord(doc string, words []string) *jsonschema.Schema {
	out := &jsonschema.Schema{Description: doc}
	for _, w := range words {
		out.Enum = append(out.Enum, w)
	}
	return out
}

// value is a word, or a number with its unit.
func value(doc string) *jsonschema.Schema {
	return &jsonschema.Schema{Description: doc, AnyOf: []*jsonschema.Schema{text(""), {Type: "number"}}}
}

func ref(name string) *jsonschema.Schema {
	return &jsonschema.Schema{Ref: "#/$defs/" + name}
}

// ofKind holds for a part that says it is of the kind.
func ofKind(kind string) *jsonschema.Schema {
	out := keyed("kind", &jsonschema.Schema{Const: kind})
	out.Required = []string{"kind"}
	return out
}
