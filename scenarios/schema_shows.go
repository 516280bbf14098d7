//go:build !js

package scenarios

import (
	"strings"

	"github.com/invopop/jsonschema"
)

// eventWord is the name of an event, with a part behind a colon or without.
func eventWord(doc string) *jsonschema.Schema {
	part := strings.TrimSuffix(strings.TrimPrefix(wordPattern, "^"), "$")
	return &jsonschema.Schema{Type: "string", Description: doc, Pattern: "^(" + strings.Join(Events(), "|") + ")(:" + part + ")?$"}
}

// ofValveSchema is what single valves must show.
func ofValveSchema(lifts *jsonschema.Schema, some func(string, []string, *uint64) *jsonschema.Schema, one *uint64) *jsonschema.Schema {
	between := func(doc string) *jsonschema.Schema {
		out := object(doc, "at-least", value("No less than this, with its unit."), "at-most", value("No more than this, with its unit."))
		out.MinProperties = one
		return out
	}
	two := uint64(2)
	of := object("What one valve must show.",
		"valve", word("The valve."),
		"lifts", lifts,
		"state-at-end", some("What it may be doing at the end.", append(States(), SpringStates()...), one),
		"seated-at-end", &jsonschema.Schema{Type: "boolean", Description: "Whether its disc rests on its seat at the end."},
		"pops", between("The pressure at which a spring-loaded valve pops."),
		"blowdown", between("How far below that it reseats, as a share of it, gauge."),
		"accumulation", between("How far above that the pressure goes, as a share of it, gauge."),
	)
	of.Required, of.MinProperties = []string{"valve"}, &two
	out := listOf("What single valves must show.", of)
	out.MinItems = one
	return out
}
